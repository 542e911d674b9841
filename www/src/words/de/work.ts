import type { words as english } from '../en/work';
import type { Spoken } from '../language';

export const words: Spoken<typeof english> = {
  again: 'versuche es noch einmal; geschieht es wieder, lade die Seite neu',
  nothingRun: 'es wurde nichts gerechnet',
  noMap: 'es wurde keine Karte gemacht',
  runner: 'der Teil des Programms, der Proben rechnet',
  runEnds: 'ein Lauf, der zu Ende kommt',
  mapMaker: 'der Teil des Programms, der Karten macht',
  mapEnds: 'eine Karte, die zu Ende kommt',
  brokeOff: 'der Arbeiter im Hintergrund brach ab',
  unreadable: 'seine Nachricht war nicht lesbar',
  notUnderstood: 'er sagte etwas, das nicht verstanden wird',
};
