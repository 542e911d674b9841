// The place Edge in German. Sentences on the robot itself come from the core.

import type { Spoken } from '../language';
import type { edgeWords as english } from '../en/edge';
import { minus, three } from '../numbers';

const angle = (radians: number): string => {
  const value = (radians * 180) / Math.PI;
  return `${minus(value.toFixed(Math.abs(value) < 1 ? 2 : 1))}°`;
};

export const edgeWords: Spoken<typeof english> = {
  about:
    'Wie weit es bis zum Rand der Stabilität ist, nach dem linearen Modell mit Takt, Halten und Verzögerungen der Software; was nicht linear ist, etwa Ruhezonen und trockene Reibung, kommt weiter unten.',
  opening: 'wird angesehen …',
  view: 'Ansicht',
  views: { side: 'Seitenansicht', front: 'Vorderansicht' },
  speed: (unit: string) => `rollt mit, ${unit} (0 steht)`,
  rest: 'Software',
  rests: { on: 'an', locked: 'blockiert', off: 'aus, Motoren offen', braked: 'aus, Motoren kurzgeschlossen' },
  wrong: (expected: string, hint: string) =>
    `Davon gibt es kein lineares Modell: erwartet ${expected}${hint === '' ? '' : `; ${hint}`}.`,
  kept: 'Gezeigt wird, was davor war.',
  stale: 'Der Roboter wurde seither geändert.',

  poles: {
    title: 'Bewegungen und Wurzelort',
    about: 'Drück eine Bewegung, und der Roboter auf der Tafel schwingt in ihr.',
    growth: 'Wachstum, 1/s',
    frequency: 'Frequenz, Hz',
    dies: 'klingt ab',
    grows: 'wächst',
    equal: (ratio: number) => `ζ ${String(ratio)}`,
    beyond: (count: number) =>
      count === 1 ? 'eine schnellere Bewegung liegt außerhalb' : `${count} schnellere Bewegungen liegen außerhalb`,
    closer: 'näher',
    wider: 'weiter',
    track: 'Wurzelort von',
    noTrack: 'kein Regler',
    trackKey: (from: string, to: string) => `□ ${from}, ▲ ${to}, × wie er steht`,
    grip: (label: string) => `${label}, auf dem Wurzelort`,
    columns: { motion: 'Bewegung', growth: 'Wachstum', frequency: 'Frequenz', damping: 'Dämpfungsgrad' },
    growthText: (value: number) => `${three(value)} /s`,
    frequencyText: (value: number) => (value === 0 ? 'kein Schwingen' : `${three(value)} Hz`),
    dampingText: (value: number) => three(Math.round(value * 1000) / 1000),
    press: (motion: string, text: string) => `${motion}: ${text}; auf der Tafel zeigen`,
    unsteady: 'wächst',
    more: (count: number) => (count === 1 ? 'eine schnellere Bewegung' : `${count} schnellere Bewegungen`),
    describe: (poles: string, track: string) =>
      `Pole nach Wachstum, von links nach rechts, und Frequenz, aufwärts; rechts der Linie wächst eine Bewegung. ${poles}${track === '' ? '' : ` Wurzelort von ${track}.`}`,
    point: (growth: number, frequency: number) => `${three(growth)} pro Sekunde bei ${three(frequency)} Hz`,
    none: 'Nach einem Takt bleibt keine Bewegung.',
  },

  swing: {
    caption: (name: string, text: string) => `Für sich gezeigt: ${name}; ${text}.`,
    rate: (rate: number) =>
      rate === 1
        ? 'in wahrem Tempo'
        : rate < 1
          ? `${three(1 / rate)}-mal langsamer als wahr`
          : `${three(rate)}-mal schneller als wahr`,
    amplitude: (radians: number) => `größter gezeichneter Winkel ${angle(radians)}`,
    stop: 'Roboter zeigen, wie er ist',
    next: 'nächste Stellung',
    phase: (part: number) =>
      ['am Anfang', 'ein Viertel weiter', 'einen halben Schwung weiter', 'drei Viertel weiter'][part] ?? '',
    creep: (part: number) =>
      ['am Anfang', 'eine halbe Zeitkonstante weiter', 'eine Zeitkonstante weiter', 'anderthalb weiter'][part] ?? '',
    began: (name: string, text: string) => `Auf der Tafel: ${name}; ${text}. Esc beendet es.`,
    ended: 'Die Tafel zeigt den Roboter, wie er ist.',
  },

  spans: {
    title: 'Stabile Bereiche der Regler',
    about:
      'Durchgezogen, wo der Roboter ruhig bleibt, schraffiert, wo nicht, fein schraffiert, wo ihn nur trockene Reibung hält. Dreh einen, und die anderen folgen.',
    all: (count: number) => `alle ${count}`,
    none: 'Kein Regler dieser Ansicht hat einen Rand.',
    both: (text: string) => `beide Seiten von ${text} probieren`,
    running: 'beide Seiten des Rands',
  },

  curve: {
    title: 'Betrag und Phase des offenen Kreises',
    break: 'aufgeschnitten',
    breaks: {
      duty: 'am Tastgrad des Antriebs',
      carriage: 'an der Wagenregelung',
      head: 'am Servo des Kopfs',
      band: 'an der Ruhezone',
    },
    gain: 'Betrag, dB',
    phase: 'Phase, °',
    frequency: 'Frequenz, Hz',
    columns: { margin: 'Reserve', value: 'wie viel' },
    none: 'So, wie er steht, ist kein Kreis geschlossen: es gibt nichts aufzuschneiden.',
    locus: 'der Kreis in der komplexen Ebene',
    unit: 'Betrag 1',
    point: '−1',
    describe: (where: string, margins: string) =>
      `Betrag und Phase über der Frequenz, Kreis aufgeschnitten ${where}. ${margins}`,
    describeLocus:
      'Der offene Kreis in der komplexen Ebene, Realteil nach rechts, Imaginärteil nach oben, mit dem Kreis um −1, den er gerade berührt.',
    real: 'Realteil',
    imaginary: 'Imaginärteil',
    unstable:
      'Der geschlossene Kreis ist nicht stabil: Reserven sagen, wie weit er davon weg ist, nicht, wie viel übrig ist.',
  },

  oscillation: {
    title: 'Dauerschwingung',
    about:
      'Was Ruhezone, trockene Reibung, Grenzen und Stufen der Sensoren daraus machen: vorhergesagt mit Beschreibungsfunktionen, und was die ganze Simulation nach einem kleinen Tritt tut.',
    columns: { cause: 'Ursache', predicted: 'vorhergesagt', doubts: 'ob man dem trauen kann' },
    causes: { band: 'Ruhezone', friction: 'trockene Reibung', limit: 'eine Grenze' },
    sure: 'innerhalb der Annahmen',
    none: 'Keine wird vorhergesagt.',
    run: 'simulieren',
    smooth: 'ohne trockene Reibung, wie im linearen Modell',
    running: 'Dauerschwingung',
    simulated: 'Simuliert',
    beside: (ofAmplitude: number, ofFrequency: number) =>
      `Simuliert gegen die nächste Vorhersage: Amplitude × ${three(ofAmplitude)}, Frequenz × ${three(ofFrequency)}.`,
  },

  hand: {
    title: 'Klassische Handverfahren',
    about:
      'Suche die Verstärkung Ku, bei der der Kreis gerade weiterschwingt, und ihre Periode Pu, und folge einer veröffentlichten Regel. Nichts wird gedreht, bevor du „probieren“ drückst.',
    run: 'Ku und Pu suchen',
    running: 'Handverfahren',
    columns: {
      rule: 'Regel',
      settings: 'würde setzen',
      model: 'lineares Modell',
      kick: 'üblicher Tritt',
      settling: 'Ausschwingzeit',
    },
    stable: 'ruhig',
    unstable: 'nicht ruhig',
    tryIt: 'probieren',
    tryRule: (rule: string) => `${rule} probieren`,
    because: (rule: string) => rule,
    tried: (rule: string) => `${rule}: Regler gedreht; Rückgängig setzt sie zurück.`,
    refused: (label: string, expected: string) => `${label} wurde abgelehnt: erwartet ${expected}.`,
    source: (text: string) => `Quelle: ${text}`,
  },
};
