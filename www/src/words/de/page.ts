// The page in German: every word that a visitor sees or hears, except what the core itself says.

import type { Level, Plane } from '../../core/types';
import type { Rate } from '../../store';
import type { Spoken } from '../language';
import type { words as english } from '../en/page';
import { degrees, fixed, pace, way } from '../numbers';

const VIEWS = ['Seitenansicht', 'Vorderansicht'] as const;
const LEVELS = ['Motoren aus', 'blockiert', 'geregelt'] as const;
const UNITS: Readonly<Record<string, string>> = {
  '°': 'Grad',
  'm/s': 'Metern pro Sekunde',
  'ft/s': 'Fuß pro Sekunde',
  A: 'Ampere',
};

export const words: Spoken<typeof english> = {
  name: 'Kickstill',
  loading: 'Lädt …',
  noCore: 'Die Simulation konnte nicht gestartet werden.',
  asTable: 'als Tabelle',
  noCanvas: 'Dieser Browser kann nicht auf die Tafel zeichnen.',
  standing: 'Von der Kugel wegziehen gibt einen Tritt; → halten fährt, loslassen hält an.',

  guide: {
    label: 'was als Nächstes kommt',
    kick: 'Gib der Kugel einen Tritt: zieh von ihr weg oder drück K.',
    kickByTouch: 'Gib der Kugel einen Tritt: zieh von ihr weg oder drück „Tritt“.',
    switchOn: 'Jetzt schalte die Software ein.',
    again: 'Tritt noch einmal.',
    drive: 'Halte → zum Fahren, dann lass los.',
    heavier: 'Jetzt mach den Kopf schwerer.',
    heavierBelow: 'Jetzt mach den Kopf schwerer: Regler 4, unter der Zeichnung.',
    kickHeavy: 'Noch ein Tritt: was hat das Gewicht geändert?',
    free: '„Alle Regler“ öffnet den Rest, „Roboter drehen“ zeigt ihn von vorn.',
    skip: 'Anleitung überspringen',
    restart: 'Anleitung wieder zeigen',
  },

  levels: LEVELS,
  software: 'Software',
  softwareOn: 'an',
  softwareOff: 'aus',
  view: (plane: Plane) => VIEWS[plane],
  bothViews: 'beide Ansichten',
  oneView: 'eine Ansicht',
  turn: 'Roboter drehen',

  board: {
    label: (plane: Plane) => `Werkzeichnung des Roboters, ${VIEWS[plane]}`,
    see: 'Was du siehst',
    slope: 'Gefälle des Bodens',
    slopeText: (radians: number) => `${degrees(radians, 1)}°`,
    slopeHelp: 'ziehen oder Pfeiltasten; Entf legt ihn waagerecht',
    stills: (seconds: number) => `Alle ${seconds} s ein Standbild`,
    inMotion: 'In Bewegung',
    motion: 'Bewegung zeigen',
    still: 'Standbilder zeigen',
    plumbText: (text: string) => `hängt ${text} unter der Mitte`,
    plumbHelp: 'Schwerpunkt des Wagens: hoch oder tief ziehen oder Pfeiltasten; Entf setzt ihn zurück',
  },

  acts: {
    group: 'stoßen und fahren',
    kick: 'Tritt',
    bump: 'Stoß',
    kickTitle: (text: string) => `letzten Tritt wiederholen, ${text} (K)`,
    bumpTitle: (text: string) => `letzten Stoß wiederholen, ${text} (B)`,
    speed: 'Fahrhebel',
    lean: 'Neigehebel',
    levers: ['fahren', 'neigen'],
    back: ['rückwärts fahren', 'nach links neigen'],
    forward: ['vorwärts fahren', 'nach rechts neigen'],
    needsSoftware: 'Die Hebel brauchen die Software.',
  },

  pushes: {
    title: 'Tritt und Stoß',
    kick: 'Tritt, unter null rückwärts',
    height: 'Höhe des Tritts',
    bump: 'Stoß, unter null rückwärts',
    range: (least: number, most: number, unit: string) =>
      `erwartet: eine Zahl von ${fixed(least, 1)} bis ${fixed(most, 1)} ${unit}; die letzte bleibt`,
  },

  places: {
    index: 'Orte',
    names: {
      lessons: 'Lektionen',
      hand: 'Von Hand',
      trials: 'Proben',
      edge: 'Rand',
      map: 'Karte',
      suggest: 'Vorschlag',
      power: 'Leistung',
      robot: 'Mein Roboter',
      kept: 'Aufbewahrtes',
      sheets: 'Blätter, Clips',
      stall: 'Am Stand',
      handbook: 'Handbuch',
    },
    close: 'zur Tafel',
    opening: 'Öffnet …',
    failed: (reason: string) =>
      `Dieser Teil konnte nicht geladen werden: ${reason}. Prüfe die Verbindung und drück noch einmal.`,
  },

  clock: {
    group: 'Zeit',
    pause: 'Pause',
    run: 'weiter',
    tick: 'ein Takt',
    rate: 'Lauf der Zeit',
    rates: [
      [1, '1'],
      [0.5, '1/2'],
      [0.25, '1/4'],
      [0.1, '1/10'],
    ] as readonly (readonly [Rate, string])[],
    scrub: 'zurückblicken',
    back: (seconds: number) => (seconds < 0.005 ? 'jetzt' : `−${fixed(seconds, 2)} s`),
    backText: (seconds: number) => (seconds < 0.005 ? 'jetzt' : `vor ${fixed(seconds, 2)} Sekunden`),
    again: 'neu aus der Ruhe',
    finer: (divisor: number) => `Schritt 1/${divisor} ms`,
  },

  ended: {
    run: [
      'Die Kugel hat den Boden verlassen: hier endet dieses Modell des Rollens.',
      'Unterspannung: die Batterie trägt die Last nicht, die Versorgung ist zusammengebrochen.',
      'Die Zahlen sind davongelaufen; gezeigt wird der letzte gute Stand.',
    ],
    other: 'Der Lauf ist zu Ende.',
    headLost: 'Der Kopf ist ab: seine Magnete konnten ihn nicht halten.',
    inView: (plane: Plane, reason: string) => `In der ${VIEWS[plane]}: ${reason}`,
  },

  knobs: {
    spanKey: 'Spuren: durchgezogen ruhig, schraffiert nicht',
    five: 'Regler',
    all: 'alle Regler',
    fewer: 'fünf Regler',
    were: 'Regler, wie sie waren',
    back: (label: string, text: string) => `${label} zurück auf ${text}`,
    track: (label: string) => `${label}, Spur`,
    raw: 'Firmware',
    rawTitle: 'die rohe Firmware-Zahl des Erbauers; beide lassen sich eintippen',
    rawLabel: (label: string) => `${label}, rohe Firmware-Zahl`,
    groups: {
      shell: 'Schale',
      carriage: 'Wagen',
      head: 'Kopf',
      head_joint: 'Kopfgelenk und Servo',
      castors: 'Laufrollen',
      hold: 'Magnete, die den Kopf halten',
      travel_drive: 'Fahrantrieb (Seitenansicht)',
      lean_drive: 'Neigeantrieb (Vorderansicht)',
      battery: 'Batterie',
      sensing: 'Sensoren',
      timing: 'Takt und Verzögerung',
      lean: 'Neigungsregelung (Vorderansicht)',
      carriage_loop: 'Wagenregelung (Vorderansicht)',
      travel: 'Fahrregelung (Seitenansicht)',
      levelling: 'Kopfausgleich',
      guard: 'Wächter',
      floor: 'Boden',
      firmware: 'Firmware-Zahlen',
    },
    markLetters: {
      measured: ['m', 'gemessen'],
      sheet: ['d', 'aus dem Datenblatt'],
      guessed: ['g', 'geschätzt'],
    },
    find: 'Regler suchen',
    none: 'Kein Regler hat das im Namen.',
  },

  parts: {
    title: 'Stückliste',
    drawer: 'Teile und Regler',
    whole: 'ganzer Roboter',
    share: 'Anteil des Kopfs am Gleichgewicht',
    added: (body: string) => `dazu (${body}), durch seinen Regler`,
    taken: (body: string) => `davon weg (${body}), durch seinen Regler`,
  },

  revisions: {
    title: 'Revisionen',
    undo: 'zurück',
    redo: 'wieder vor',
    undoTitle: (text: string) => `rückgängig: ${text} (Strg+Z)`,
    redoTitle: (text: string) => `wiederholen: ${text} (Strg+Umschalt+Z)`,
    all: (count: number) => `alle ${count}`,
    start: (robot: string) => `${robot}, wie vorgefunden`,
    robot: (robot: string) => `${robot} geöffnet`,
    back: (count: number) => `Regler, wie sie waren (${count})`,
    parts: 'Stückliste geändert',
    more: (count: number) => `und ${count} weitere`,
    backTo: (called: string) => `zurück zu ${called}`,
    press: (letter: string) => `zurück zu ${letter}`,
    undone: (text: string) => `Rückgängig: ${text}.`,
    redone: (text: string) => `Wieder da: ${text}.`,
  },

  link: {
    name: 'Link',
    double: 'aus dem Link',
    copy: 'Link kopieren',
    copied: 'Der Link ist kopiert. Sein QR-Code steht unter „Aufbewahrtes“.',
    notCopied:
      'Dieser Browser lässt die Seite nicht kopieren. Der Link steht unter „Aufbewahrtes“ zum Markieren und Kopieren.',
    opened: (name: string) => `${name} aus dem Link; Rückgängig bringt den Roboter davor zurück.`,
    failed: (reason: string) => `Der Link ließ sich nicht öffnen: ${reason}.`,
    where: 'Adresse der Seite',
    expected: 'ein Link, den diese Seite gemacht hat, mit „#k1=“',
    newer: 'er kommt vielleicht von einer neueren Seite: lade diese neu',
    short: (most: number) => `höchstens ${most} Zeichen`,
    parts: 'v, l, k, b, u oder d, jedes einmal, mit „=“ und seinem Wert',
    numbers: (count: number) => (count === 1 ? 'eine Zahl' : `${count} Zahlen mit Komma dazwischen`),
    whole: 'eine ganze Roboterdatei, gepackt',
    cut: 'der Link wurde unterwegs vielleicht abgeschnitten',
    demo: (known: string) => `ein Beispielroboter: ${known}`,
    knob: 'ein Regler, den diese Seite kennt',
  },

  results: {
    title: 'Ergebnisse',
    none: 'noch kein Lauf',
    going: 'in Bewegung …',
    was: (text: string) => `vorher ${text}`,
    trial: (trial: string, plane: Plane, level: Level, push: string) =>
      [trial, VIEWS[plane], LEVELS[level], push].filter((part) => part !== '').join(' · '),
    push: (impulse: number) => `${fixed(Math.abs(impulse), 1)} N·s`,
    labels: {
      settling_time: 'Ausschwingzeit',
      swings: 'Schwingungen',
      peak: 'Ausschlag',
      head_dip: 'Kopfnicken',
      residual_wobble: 'Restwackeln',
      drift: 'Abdrift',
      current_peak: 'Spitzenstrom',
      stopping_distance: 'Anhalteweg',
    },
    sway: 'Kopfwanken',
  },

  strip: {
    names: { swing: 'Pendeln', roll: 'Neigung', tilt: 'Kopf', speed: 'Tempo', supply_current: 'Strom' },
    of: (name: string, plane: Plane) => `${name}, ${VIEWS[plane]}`,
    title: (name: string, unit: string) => `${name}, ${unit}`,
    label: (label: string, unit: string) => `Schreibstreifen: ${label}, in ${UNITS[unit] ?? unit} über der Zeit`,
    axis: (value: number) => fixed(value, Number.isInteger(value) ? 0 : Number.isInteger(value * 10) ? 1 : 2),
    four: 'vier Streifen',
    two: 'zwei Streifen',
    table: 'Tabelle',
    tableOf: (label: string) => `Tabelle von ${label}`,
    caption: (label: string, unit: string) => `${label}, in ${UNITS[unit] ?? unit}, über der Zeit seit dem Stoß`,
    time: 'Zeit',
    whose: { a: 'A, der Roboter der Tafel', b: 'B, sein Doppel', was: 'Lauf davor' },
    copy: 'als CSV kopieren',
    copied: 'Kopiert.',
    notCopied: 'Dieser Browser lässt die Seite nicht kopieren: markiere die Tabelle und kopiere sie von Hand.',
    close: 'schließen',
    running: 'am Stift',
    fuse: (rating: string) => `Sicherung ${rating}`,
    limit: (word: string, passed: boolean) => (passed ? `über: ${word}` : word),
    reading: (time: number, values: readonly string[]) => [`${fixed(time, 2)} s`, ...values].join(' · '),
    number: fixed,
    value: (who: 'a' | 'b' | 'was' | undefined, value: number | undefined, digits: number, unit: string) => {
      const text = value === undefined ? '–' : `${fixed(value, digits)}${unit === '°' || unit === '' ? '' : ' '}${unit}`;
      return who === undefined ? text : `${who === 'was' ? 'davor' : who.toUpperCase()} ${text}`;
    },
  },

  double: {
    name: 'Doppel',
    start: 'Ein zweiter Roboter unter denselben Händen:',
    off: 'Software aus',
    before: 'vor der letzten Änderung',
    file: 'eine Roboterdatei …',
    fromFile: (name: string) => name.replace(/(\.robot)?\.json$/i, ''),
    beforeChange: (change: string) => `vor ${change}`,
    own: 'wie es war',
    swap: 'tauschen',
    swapTitle: 'der Roboter der Tafel und sein Doppel tauschen die Plätze; beide Läufe gehen weiter (X)',
    become: 'übernehmen',
    becomeTitle: 'die Werte des Doppels kommen auf die Tafel; Rückgängig bringt die anderen zurück',
    away: 'weglegen',
    label: (label: string) => label,
    called: (label: string) => `Doppel B, ${label}`,
    apart: (metres: number, plane: Plane, inches: boolean) =>
      Math.abs(metres) < 0.05
        ? ''
        : `${way(Math.abs(metres), 1, inches)} ${plane === 1 ? (metres < 0 ? 'links' : 'rechts') : metres < 0 ? 'dahinter' : 'voraus'}`,
    started: (label: string) => `Doppel B: ${label}. Beide stehen in Ruhe.`,
    swapped: (label: string) => `Getauscht: ${label} ist jetzt auf der Tafel`,
    became: (label: string) => `Die Tafel hat ihr Doppel übernommen: ${label}`,
    gone: 'Das Doppel ist weggelegt.',
    news: (reason: string) => `Doppel B: ${reason}`,
    value: (text: string) => `B: ${text}`,
  },

  robots: {
    pick: 'Roboter',
    open: 'Datei öffnen',
    save: 'Datei sichern',
    drop: 'Loslassen öffnet diese Roboterdatei.',
    opened: (name: string) => `${name} steht auf der Tafel.`,
    saved: (name: string) => `${name} gesichert.`,
    unreadable: (name: string) => `${name} ließ sich nicht lesen.`,
    notLoaded: (reason: string) => `Dieser Roboter ließ sich nicht laden: ${reason}. Prüfe die Verbindung und wähle ihn noch einmal.`,
    tooLarge: (bytes: number) => `${fixed(bytes / 1e6, 1)} MB`,
    atMost: 'eine Roboterdatei von höchstens 1 MB',
    atMostHint: 'Roboterdateien haben wenige Kilobyte; das ist etwas anderes',
    keptRobot: 'der Roboter auf der Tafel',
  },

  problems: {
    title: (of: string, errors: number) =>
      errors > 0
        ? `${of}: ${errors === 1 ? 'etwas stimmt' : `${errors} Dinge stimmen`} nicht; nichts wurde geändert.`
        : `${of}: geöffnet, mit Hinweisen.`,
    inShort: (expected: string, kept: string) => `erwartet: ${expected}. ${kept}`,
    place: 'wo',
    given: 'gegeben',
    expected: 'erwartet',
    kept: 'behalten',
    at: (line: number, column: number | undefined) =>
      column === undefined ? `Zeile ${line}` : `Zeile ${line}, Spalte ${column}`,
    more: (count: number) => `und ${count} weitere`,
    close: 'schließen',
  },

  sheet: {
    layers: 'Ebenen',
    layer: { forces: 'Kräfte', centres: 'Schwerpunkte', trail: 'Spur', grid: 'Raster' },
    theme: 'Licht',
    language: 'Sprache',
    notLoaded: (reason: string) => `Der Rest der Seite ließ sich nicht laden: ${reason}. Prüfe die Verbindung und lade die Seite neu.`,
    languageRefused: 'Dieser Browser lässt die Seite keine Sprache merken; es gilt seine eigene erste.',
    units: 'Einheiten',
    unitNames: { metric: 'mm, kg', inch: 'Zoll, Pfund' },
    themes: { auto: 'System', day: 'Tag', night: 'Nacht' },
    shortcuts: 'Einzeltasten-Kürzel',
    keys: 'Tasten',
    keyMap: 'alle Tasten (?)',
    keyMapFailed: (reason: string) => `Die Liste der Tasten ließ sich nicht laden: ${reason}.`,
    caution:
      'Ein Modell, keine Erlaubnis: probiere echte Roboter langsam, mit Abstand zu Menschen und nach deinen örtlichen Regeln.',
  },

  memory: {
    damaged: 'Was diese Seite sich gemerkt hatte, ist unlesbar; sie fängt neu an.',
    refused: 'Dieser Browser lässt die Seite deine Regler nicht merken.',
    noHistory: (reason: string) => `Frühere Revisionen ließen sich nicht lesen: ${reason}`,
  },

  offline: {
    newer: 'Eine neuere Fassung ist da. Roboter, Revisionen und aufbewahrte Läufe bleiben.',
    load: 'laden',
    later: 'später',
  },

  announce: {
    kick: (text: string) => `Tritt, ${text}.`,
    bump: (text: string) => `Stoß, ${text}.`,
    turned: (plane: Plane, angle: number, first: boolean) => {
      const [back, ahead] = plane === 1 ? ['nach links', 'nach rechts'] : ['nach hinten', 'nach vorn'];
      const what = plane === 1 ? 'Die Schale neigt sich' : 'Der Wagen schwingt';
      return `${first ? what : 'Dann'} ${degrees(Math.abs(angle))}° ${angle < 0 ? back : ahead}.`;
    },
    level: (level: Level) => `Software: ${LEVELS[level]}.`,
    paused: 'Pause.',
    running: 'Läuft.',
    view: (shown: string) => `Gezeigt: ${shown}.`,
    reset: 'Neu aus der Ruhe.',
    knobsBack: 'Die Regler sind, wie sie waren.',
  },

  describe: (view): string => {
    const front = view.plane === 1;
    const towards = (angle: number): string => {
      if (Math.abs(angle) < 0.0087) return '';
      if (front) return angle > 0 ? ' nach rechts' : ' nach links';
      return angle > 0 ? ' nach vorn' : ' nach hinten';
    };
    const turned = front
      ? `die Schale neigt sich ${degrees(Math.abs(view.roll))}°${towards(view.roll)}`
      : Math.abs(view.speed) < 0.02
        ? 'die Kugel steht'
        : `die Kugel rollt mit ${pace(Math.abs(view.speed), 1, view.inches)} ${view.speed > 0 ? 'vorwärts' : 'rückwärts'}`;
    const head = view.headLost
      ? 'der Kopf ist ab'
      : Math.abs(view.tilt) < 0.0087
        ? 'der Kopf ist aufrecht'
        : `der Kopf kippt ${degrees(Math.abs(view.tilt))}°${towards(view.tilt)}`;
    const hangs =
      Math.abs(view.swing) < 0.0087
        ? 'der Wagen hängt gerade'
        : `der Wagen ist ${degrees(Math.abs(view.swing))}°${towards(view.swing)} geschwungen`;
    const floor = Math.abs(view.slope) < 0.001 ? '' : ` Der Boden fällt um ${degrees(view.slope, 1)}°.`;
    const slip = view.slips ? ' Die Kugel rutscht.' : '';
    const [back, ahead] = front ? ['links vom', 'rechts vom'] : ['hinter dem', 'vor dem'];
    const place =
      Math.abs(view.travel) < 0.005
        ? 'am Start'
        : `${way(Math.abs(view.travel), 2, view.inches)} ${view.travel < 0 ? back : ahead} Start`;
    return (
      `${view.name}, ${VIEWS[view.plane]}, ${LEVELS[view.level]}: ${turned}, ${hangs}, ${head}; ` +
      `${place}.${floor}${slip}`
    );
  },
};
