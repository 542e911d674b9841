// The place of suggested settings in German. Labels of knobs and rows, numbers, scores and explanations come from the core.

import type { Spoken } from '../language';
import type { suggestWords as english } from '../en/suggest';

const seconds = (ms: number): string => (ms < 1000 ? 'weniger als 1 s' : `${Math.round(ms / 1000)} s`);

export const suggestWords: Spoken<typeof english> = {
  about:
    'Sucht Einstellungen mit Tausenden simulierter Tritte, Stöße, Anfahrten und Halte, mit leichterem und schwererem Kopf, voller und schwacher Batterie, mehr Verzögerung und anderen Böden. Ohne deinen Druck wird nichts geändert.',

  loops: 'Kreise, die sich ändern dürfen',
  views: { side: 'Seitenansicht', front: 'Vorderansicht' },
  loop: {
    travel: 'Fahrt',
    head: 'Kopfausgleich (beide Ansichten)',
    lean: 'Neigung',
    carriage: 'Wagen',
  },
  loopShort: { travel: 'Fahrt', head: 'Kopf', lean: 'Neigung', carriage: 'Wagen' },
  noLoop: 'Wähl mindestens einen Kreis.',

  weights: 'was am meisten zählt',
  weightsHint: 'von 0, egal, bis 10, vor allem',
  weight: {
    settling: 'schnell ausschwingen',
    dip: 'wenig nicken',
    quiet: 'leise',
    current: 'wenig Strom',
    margin: 'Reserve',
  },

  limits: 'Grenzen, die gelten',
  limitsHint:
    'Was auf „üblich“ bleibt, gibt nach bis zu dem, was der Roboter jetzt zeigt, wo das schlechter ist.',
  limit: {
    settling: 'Ausschwingzeit',
    dip: 'Nicken und Wanken',
    residual: 'Restwackeln',
    grip: 'genutzte Haftung',
    current: 'Versorgungsstrom',
    margin: 'Modulreserve',
    delay: 'Verzögerungsreserve',
  },
  usual: {
    settling: '2 s',
    dip: '4°',
    residual: '0.5°',
    grip: '80 %',
    current: '¾ der Sicherung',
    margin: 'wie er steht',
    delay: 'wie er steht',
  },
  limitHint: {
    settling: 'höchstens, nach Tritt oder Stoß',
    dip: 'höchstens, beim Anfahren und Anhalten',
    residual: 'höchstens, Spitze zu Spitze',
    grip: 'höchstens, von dem, was der Boden gibt',
    current: 'höchstens',
    margin: 'mindestens, 0 bis 1',
    delay: 'mindestens',
  },

  keep: 'Regler, die bleiben, wie sie sind',
  keepHint: 'Alles außer diesen Einstellungen bleibt ohnehin.',
  keeps: (count: number) =>
    count === 0 ? 'Regler, die bleiben, wie sie sind' : `Regler, die bleiben, wie sie sind: ${count}`,
  keepOf: (label: string, text: string) => `${label}, ${text}`,

  spend: 'wie lange suchen',
  spends: { short: 'kurz', usual: 'üblich', long: 'lang', more: 'Startwert' },
  seed: 'Startwert der Suche',
  seedHint: 'eine ganze Zahl; derselbe Startwert findet dasselbe wieder',

  double: 'das Beste bisher am Doppel zeigen',
  doubleHint:
    'B nimmt jede bessere Einstellung sofort, unter denselben Tritten wie der Roboter der Tafel. Beide beginnen in Ruhe.',
  doubleLabel: 'bestes bisher',
  doubleFound: 'vorgeschlagen',
  doubleOff: 'Die Motoren sind aus: A und B bewegen sich gleich, bis die Software an ist.',
  kickBoth: 'beide treten',
  showDouble: 'am Doppel zeigen',
  doubleRefused: 'Das Doppel konnte diese Einstellungen nicht nehmen.',

  search: 'suchen',
  again: 'noch einmal suchen',
  cancel: 'anhalten, das Beste behalten',
  running: 'Sucht …',
  stages: {
    linear: 'Ausgangspunkte: lineares Modell, Handregeln, geführter Start.',
    search: 'Suche: Einstellungen werden in der ganzen Simulation probiert.',
    unused: 'Urteil: Startwerte und Bedingungen, die die Suche nie sah.',
  },
  progress: (done: number, of: number, ms: number) => (done > 0 ? `${done} von ${of}, ${seconds(ms)}` : seconds(ms)),
  score: (score: number, kept: boolean) =>
    kept ? `Note ${score.toFixed(2)}; 1 ist der Roboter, wie er steht, weniger ist besser` : 'eine Grenze ist noch überschritten',
  best: 'Bestes bisher',
  noBest: 'Noch nichts Besseres.',
  stopped:
    'Angehalten. Das ist das Beste bisher; es wurde nicht unter Startwerten und Bedingungen beurteilt, die die Suche nie sah.',
  stoppedNone: 'Angehalten, bevor etwas Besseres gefunden war. Nichts wurde geändert.',
  took: (evaluations: number, simulated: number, ms: number) =>
    `${evaluations} Einstellungen angesehen, ${simulated} Läufe simuliert, ${seconds(ms)}`,

  found: (robot: string) => `Vorgeschlagen für ${robot}`,
  foundNone: (robot: string) => `Nichts Besseres für ${robot}`,
  stoppedFor: (robot: string) => `Bestes bisher für ${robot}`,
  become: 'übernehmen',
  becomeTitle: 'der Roboter der Tafel nimmt diese Einstellungen als eine Revision; Rückgängig bringt die anderen zurück',
  became: 'Die vorgeschlagenen Einstellungen sind auf der Tafel; Rückgängig bringt die anderen zurück.',
  isIt: 'Der Roboter der Tafel hat diese Einstellungen.',
  why: 'vorgeschlagene Einstellungen',
  name: (loops: readonly string[]) => `vorgeschlagen: ${loops.join(', ')}`,
  refused: (label: string, expected: string) => `${label} wurde abgelehnt: erwartet ${expected}. Nichts wurde geändert.`,
  save: 'als Datei sichern',
  saved: (name: string) => `${name} gesichert.`,
  stale: 'Der Roboter wurde seither geändert; das wurde für ihn gefunden, wie er war.',
  other: (robot: string) => `Gefunden für ${robot}; auf der Tafel steht ein anderer Roboter.`,
  cautions:
    'Ein simuliertes Urteil ist keine Erlaubnis. Erhöhe Verstärkungen am echten Roboter in Stufen, je ein Viertel des Wegs, den Roboter gehalten oder angeleint, eine Hand am Aus und niemand in der Nähe; geh beim ersten Brummen oder wachsenden Wanken zurück. Örtliche Regeln und das Wort einer Fachperson gehen vor.',

  changes: 'Was sich ändern würde',
  columns: { knob: 'Regler', view: 'Ansicht', from: 'von', to: 'auf', raw: 'Firmware-Zahl' },
  view: { side: 'Seite', front: 'vorn' },
  noRaw: '–',
  rows: 'Vorher und nachher',
  rowsHint: 'das Schlimmste über Startwerte und Bedingungen, die die Suche nie sah',
  rowColumns: { what: '', before: 'wie er steht', after: 'vorgeschlagen', limit: 'Grenze', change: 'Änderung', kept: 'Grenze gehalten' },
  change: { better: '▲ besser', worse: '▼ schlechter', same: '= gleich' },
  kept: 'gehalten',
  notKept: '✕ überschritten',
  compared: 'Verglichen',
  comparedHint: 'Kürzer ist besser; die gestrichelte Linie ist der Roboter, wie er stand. Schraffiert: eine Grenze ist überschritten.',
  comparedColumns: { settings: 'Einstellungen', bar: 'Note', text: 'in Worten' },
  bar: (score: number, kept: boolean) => (kept ? `Note ${score.toFixed(2)}` : 'Grenze überschritten'),
  told: (better: boolean, first: string) => (better ? `Einstellungen gefunden. ${first}` : first),
};
