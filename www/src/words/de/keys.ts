// The list of all keys in German.

import type { keyWords as english } from '../en/keys';
import type { Spoken } from '../language';

export const keyWords: Spoken<typeof english> = {
  title: 'Tasten',
  about:
    'Tab geht von einem zum nächsten, Eingabe und Leertaste drücken. Buchstaben, Ziffern und Zeichen wirken sofort, solange nichts getippt wird; sie lassen sich abschalten.',
  switchedOff: 'Einzeltasten sind gerade abgeschaltet.',
  close: 'schließen',
  groups: [
    {
      title: 'Roboter',
      rows: [
        ['K', 'Tritt, so hart und so hoch wie der letzte'],
        ['B', 'Stoß an den Kopf'],
        ['S', 'Software an oder aus'],
        ['← →', 'gehalten: fahren, in der Vorderansicht neigen'],
        ['D', 'Doppel: starten, weglegen'],
        ['X', 'mit dem Doppel tauschen'],
      ],
    },
    {
      title: 'Zeit',
      rows: [
        ['P', 'Pause, weiter'],
        ['Leertaste', 'dasselbe, wenn nichts anderes den Fokus hat'],
        ['.', 'ein Takt'],
        ['R', 'neu aus der Ruhe'],
      ],
    },
    {
      title: 'was gezeigt wird',
      rows: [
        ['T', 'Roboter drehen'],
        ['V', 'beide Ansichten, eine Ansicht'],
        ['?', 'diese Liste'],
        ['Esc', 'zurück: aus einem Zug, einer Liste, einer für sich gezeigten Bewegung, einem Ort unter der Tafel'],
      ],
    },
    {
      title: 'Änderungen am Roboter',
      rows: [
        ['Strg+Z', 'rückgängig'],
        ['Strg+Umschalt+Z', 'wiederholen'],
      ],
    },
    {
      title: 'Regler',
      rows: [
        ['↑ ↓', 'ein Schritt auf oder ab, auf Zahl und Spur'],
        ['← →', 'ein Schritt, auf der Spur'],
        ['Bild ↑ ↓', 'zehn Schritte, auf der Spur'],
        ['Pos1 Ende', 'die Enden der Spur'],
        ['Entf', 'zurück auf den alten Wert, auf der Spur'],
        ['Eingabe', 'nimmt die getippte Zahl, mit oder ohne Einheit'],
        ['Esc', 'lässt die Zahl, wie sie war'],
      ],
    },
    {
      title: 'Griffe auf der Zeichnung',
      rows: [
        ['↑ ↓', 'Gefälle des Bodens; Lot des Wagens'],
        ['Bild ↑ ↓', 'zehn Schritte des Lots'],
        ['Entf', 'legt den Boden waagerecht; setzt das Lot zurück'],
      ],
    },
    {
      title: 'Streifen',
      rows: [
        ['← →', 'vor- und zurückblicken, 0.05 s je Schritt'],
        ['Umschalt ← →', '0.5 s je Schritt; ebenso die Bild-Tasten'],
        ['Pos1 Ende', 'Anfang, Ende'],
      ],
    },
    {
      title: 'Karte, und Gramm am Kopf',
      rows: [
        ['← → ↑ ↓', 'von Zelle zu Zelle, von Punkt zu Punkt'],
        ['Umschalt ← →', 'weiter auf einmal; ebenso die Bild-Tasten'],
        ['Pos1 Ende', 'die Enden'],
        ['Eingabe', 'übernimmt, worauf gezeigt wird'],
        ['P', 'gehalten: spielt die Zelle'],
      ],
    },
    {
      title: 'Wurzelort',
      rows: [
        ['← →', 'sein Regler einen Schritt ab oder auf'],
        ['Bild ↑ ↓', 'zehn Schritte'],
      ],
    },
  ],
};
