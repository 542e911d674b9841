// The place of power in German. Rows, verdicts, cautions and numbers in words come from the core.

import type { Spoken } from '../language';
import type { powerWords as english } from '../en/power';
import { fixed } from '../numbers';

const watts = (value: number, unit: string): string => `${fixed(value, 1)} ${unit}`;

export const powerWords: Spoken<typeof english> = {
  about: 'Ob Sicherung, Leitung, Treiber, Motoren, Spannungsregler und Batterie es aushalten.',
  source: 'was angesehen wird',
  sources: { trial: 'eine Probe', live: 'der letzte Lauf der Tafel' },
  liveNote: (seconds: number, complete: boolean) =>
    `Die letzten ${fixed(seconds, 1)} s des Laufs auf der Tafel, aus seinen Eingaben noch einmal gemacht.` +
    (complete ? '' : ' Einige Eingaben fehlen: er kann abweichen.'),
  liveTitle: 'der letzte Lauf der Tafel',
  noLive: 'Auf der Tafel ist noch nichts gelaufen.',
  more: 'Dauer, Band, Startwert',
  run: 'noch einmal laufen lassen',
  running: 'Versorgung',
  stale: 'Etwas hat sich geändert; das ist vom Lauf davor.',
  fresh: (robot: string, title: string) => `${robot}, ${title}`,
  told: (verdict: string) => `Hauptsicherung: ${verdict}.`,

  fuse: 'Sicherung',
  stands: { within: 'innerhalb', near: 'nahe der Grenze', past: 'über der Grenze', '': '' },
  plane: (text: string) => `Zahlen: ${text}.`,

  band: {
    title: 'Zeit-Strom-Band',
    describe: (rating: string, mark: string, rms: string, verdict: string) =>
      `Zeit-Strom-Band der Sicherung ${rating}, beide Achsen logarithmisch: Strom von links nach rechts, Zeit nach oben. ` +
      `Links unter dem Band hält sie den Strom, darin kann sie auslösen, rechts darüber löst sie aus. ` +
      `${mark === '' ? 'Dieser Lauf blieb, wo keine Sicherung auslöst.' : `Dieser Lauf: ${mark}.`} Als stetiger Strom: ${rms}. Urteil: ${verdict}.`,
    current: 'Strom, A',
    time: 'Zeit, s',
    quickAt: 'davor löst keine aus, s',
    slowAt: 'bis dann lösen alle aus, s',
    quick: 'davor löst keine aus',
    slow: 'bis hier lösen alle aus',
    bears: 'hält',
    may: 'kann auslösen',
    opens: 'löst aus',
    rating: (text: string) => `Nennstrom ${text}`,
    mark: 'dieser Lauf',
    rms: 'als stetiger',
    cross: (text: string) => `× dieser Lauf: so hart für die Sicherung wie ${text}`,
    none: 'Dieser Lauf blieb unter dem Strom, ab dem eine Sicherung auslösen kann.',
    ring: (text: string) => `○ als stetiger Strom: ${text}`,
    outside: 'Ein Zeichen am Rand liegt dahinter.',
    source: (text: string) => `Auslösezeiten: ${text}.`,
    warm: (rating: string, warm: string) => `In ihrer warmen Umgebung zählt die Sicherung ${rating} wie eine von ${warm}.`,
  },

  watts: {
    title: 'Wohin die Watt gehen',
    which: 'Watt von',
    moment: 'einem Augenblick',
    whole: 'dem ganzen Lauf, Mittel',
    slider: 'Augenblick des Laufs',
    at: (seconds: number) => `${fixed(seconds, 2)} s`,
    reading: (seconds: number, current: number, voltage: number) =>
      `${fixed(seconds, 2)} s: ${fixed(current, 1)} A bei ${fixed(voltage, 1)} V`,
    value: watts,
    valueText: (seconds: number, power: number, unit: string) =>
      `${fixed(seconds, 2)} Sekunden, ${watts(power, unit)} aus den Zellen`,
    columns: { part: 'wohin', moment: 'dann', whole: 'Mittel', share: 'Anteil' },
    sum: 'Summe der Teile',
    left: 'Rest',
    share: (value: number) => `${fixed(100 * value, 0)} %`,
    back: (label: string) => `zurück von: ${label}`,
    into: 'zurück in die Zellen',
    scale: (value: number, unit: string) => `so breit: ${fixed(value, 0)} ${unit}`,
    nothing: 'Es fließt keine Leistung.',
    describe: (which: string, into: string, out: string) =>
      `Fluss der Leistung, ${which}. Gegeben von ${into}; genommen von ${out}. Die Tabelle daneben hat die Zahlen.`,
    kinds: { heat: 'Wärme', use: 'im Gebrauch', motion: 'Bewegung', source: 'Zellen' },
    key: 'Legende',
  },

  advice: {
    title: 'Was zu tun ist',
    fine: 'Die Sicherung hält diesen Lauf; für sie ist nichts zu tun.',
    first: 'Zuerst, was den Bedarf senkt. Jedes wurde im selben Lauf probiert:',
    change: (label: string, from: string, to: string) => `${label} ${from} → ${to}`,
    and: ' und ',
    turn: 'setzen',
    turnTo: (text: string) => `setzen: ${text}`,
    tried: (fuse: string, peak: string, outcome: string) => `${fuse}; Spitze ${peak}${outcome === '' ? '' : `; ${outcome}`}`,
    none: 'In diesem Lauf keine Hilfe: es spielt darin nicht mit, die Probe hat eine eigene Zahl dafür, oder kein probierter Wert senkt die Belastung.',
    larger: 'Zuletzt eine größere Sicherung',
    because: (text: string) => `Rat zur Sicherung: ${text}`,
    set: (text: string) => `Gesetzt: ${text}.`,
    refused: (label: string, expected: string) => `${label} wurde nicht gesetzt; erwartet ${expected}`,
  },

  groups: {
    fuse: 'Hauptsicherung',
    wire: 'Leitung',
    driver: 'Treiber',
    windings: 'Wicklungen',
    regulators: 'Spannungsregler des Kopfs',
    battery: 'Batterie',
  },
  parts: 'Was jedes Teil aushält',
  columns: { what: 'was', value: 'Wert', stands: 'steht' },

  programme: {
    title: 'Wie lange die Batterie reicht',
    label: 'Programm, wiederholt, bis die Batterie leer ist; eine Zeile je Schritt',
    // The words after the time are the core's, which reads this text.
    hint: 'Eine Zeit in s, min oder h, dann „this trial“ (diese Probe), „idle“ (stehen) oder eine Leistung wie „40 W“.',
    usual: '20 s this trial\n60 s idle\n30 s 40 W',
    wrong: 'Das Programm wurde nicht genommen:',
    line: (line: number | undefined, value: string, expected: string, hint: string) =>
      `${line === undefined ? '' : `Zeile ${line}: `}${value === '' ? '' : `„${value}“ – `}erwartet ${expected}${hint === '' ? '' : `; ${hint}`}`,
  },

  axle: {
    title: 'Achse gegen Kranz, für denselben Schwung',
    swing: 'gehaltener Schwung',
    speed: 'Rolltempo',
    own: (text: string) => `der größte dieses Laufs: ${text}`,
    about: (swing: string, speed: string, torque: string) =>
      `${swing} bei ${speed} zu halten verlangt ${torque} um die Mitte der Schale; dieselben Motoren und Getriebe an beiden:`,
    share: (share: string) =>
      `Am Kranz geben die Motoren ${share} des Drehmoments, das sie an der Achse gäben, und drehen um so viel schneller.`,
    columns: { what: 'was', axle: 'Achsantrieb', rim: 'Kranzantrieb' },
    is: (kind: string) => `${kind} (dieses Roboters)`,
  },

  cells: {
    title: 'Andere Zellen',
    about:
      'So viele in Reihe, wie der Spannung der Batterie am nächsten kommen. Ein Druck setzt Zellen, Spannung und Widerstand; übliche Zahlen, das Datenblatt der Zellen geht vor.',
    columns: {
      cells: 'Zellen',
      voltage: 'halb voll',
      full: 'voll',
      charged: 'Ladeende',
      floor: 'Grenze unter Last',
      resistance: 'Widerstand',
      press: '',
    },
    take: 'diese nehmen',
    taken: (name: string) => `diese Zellen nehmen: ${name}`,
    now: 'im Roboter',
    because: (name: string) => `Zellen: ${name}`,
  },

  cautions: {
    title: 'Vorsicht',
    about:
      'Zahlen zum Auswählen, kein Nachweis, dass etwas zulässig ist. Örtliche Vorschriften, die Datenblätter der Teile und eine Fachperson gehen vor.',
    see: (text: string, see: string) => `${text} Siehe ${see}.`,
  },
};
