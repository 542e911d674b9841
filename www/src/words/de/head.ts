// The story of grams on the head in German. Values, outcomes and limits in words come from the core.

import type { Spoken } from '../language';
import type { headWords as english } from '../en/head';

export const headWords: Spoken<typeof english> = {
  about:
    'Derselbe Kopf mit mehr darauf: Nicken beim üblichen Anhalten, Ausschwingen nach dem üblichen Tritt (das längere der beiden Ansichten) und der kleinste Abstand eines Regelkreises von seinem Rand, bis es misslingt.',
  what: 'der Kopf, immer schwerer',
  dip: 'größtes erlaubtes Nicken',
  settling: 'längstes erlaubtes Ausschwingen',
  usual: (text: string) => `üblich: ${text}`,
  stale: 'Der Roboter hat sich geändert; das Bild ist vom Roboter davor.',
  keys: 'Pfeiltasten gehen die Kurven entlang, Bild-Tasten um fünf, Pos1 und Ende an die Enden; Eingabe legt diese Masse auf. Ein Druck auf einen Punkt tut es sofort.',
  label: (told: string) => `Mehr Masse am Kopf: ${told}`,
  describe: 'Drei Kurven über der zusätzlichen Masse: Kopfnicken, Ausschwingzeit, kleinste Reserve.',
  axis: (unit: string) => `mehr am Kopf, ${unit}`,
  stands: 'wie er steht',
  panels: {
    dip: (unit: string) => `Kopfnicken beim Anhalten, ${unit}`,
    settling: (unit: string) => `Ausschwingen nach einem Tritt, ${unit}`,
    margin: 'kleinste Reserve eines Kreises',
  },
  limit: (text: string) => `Grenze ${text}`,
  usualMargin: (text: string) => `üblich mindestens ${text}`,
  fails: (outcome: string) => `misslingt: ${outcome}`,
  passed: (text: string) => `${text}`,
  edge: (text: string) => `Rand ${text}`,
  readout: (added: string, dip: string, settling: string, margin: string, loop: string, outcome: string) =>
    `${added}: Nicken ${dip}, Ausschwingen ${settling}, Reserve ${margin}${loop === '' ? '' : ` (${loop})`}, ${outcome}`,
  put: (added: string) => `${added} auflegen`,
  putNothing: 'wie er steht',
  because: (added: string) => `${added} am Kopf`,
  set: (mass: string) => `Der Kopf wiegt jetzt ${mass}. Rückgängig nimmt es zurück.`,
  refused: (expected: string) => `Der Kopf bleibt, wie er ist: erwartet ${expected}`,
  table: 'als Tabelle',
  caption: 'Nicken, Ausschwingen und Reserve über der zusätzlichen Masse',
  columns: ['dazu', 'Kopfnicken', 'Ausschwingen', 'kleinste Reserve', 'Kreis', 'Ausgang', ''],
};
