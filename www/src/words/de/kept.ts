// The place of kept runs in German, except what the core says.

import type { Spoken } from '../language';
import type { words as english } from '../en/kept';
import { plural } from '../numbers';

const runs = (number: number): string => plural(number, 'Lauf', 'Läufe');

export const words: Spoken<typeof english> = {
  runs: {
    title: 'Aufbewahrte Läufe',
    keep: 'diesen Lauf aufbewahren',
    none: 'Noch ist nichts aufbewahrt. Gib dem Roboter einen Tritt, dann drück „diesen Lauf aufbewahren“, oder bewahre unter „Proben“ ein Ergebnis auf.',
    table: 'Liste der aufbewahrten Läufe',
    columns: ['Name', 'aufbewahrt', 'Roboter', 'Probe', 'Ausgang', ''],
    show: 'zeigen',
    hide: 'verbergen',
    name: (name: string) => `Name von ${name}`,
    choose: (name: string) => `${name} zeigen`,
    kept: (name: string) => `Aufbewahrt: ${name}.`,
    nothing: 'Noch ist kein Lauf da: erst treten, stoßen oder fahren.',
    unfinished: 'Der Lauf ist noch in Bewegung: bewahre ihn auf, wenn er zur Ruhe gekommen ist.',
    notKept: (reason: string) => `Der Lauf ließ sich nicht aufbewahren: ${reason}.`,
    tooLong: 'Der Lauf ging zu lange, um ihn noch einmal zu machen: starte ihn neu aus der Ruhe, dann bewahre ihn auf.',
    deleted: (name: string) => `Gelöscht: ${name}.`,
    undo: 'zurücklegen',
    memory: 'nur im Arbeitsspeicher',
    revision: (letter: string) => `Revision ${letter}`,
  },

  detail: {
    title: (name: string) => `Lauf: ${name}`,
    facts: {
      trial: 'Probe',
      robot: 'Roboter',
      view: 'Ansicht',
      outcome: 'Ausgang',
      seed: 'Startwert',
      inputs: 'Eingaben',
      model: 'Modell',
      digest: 'Prüfsumme',
    },
    inputs: (number: number) => plural(number, 'Eingabe im Protokoll', 'Eingaben im Protokoll'),
    setting: 'eine Probe mit ihren Zahlen',
    open: 'seinen Roboter auf die Tafel',
    opened: (name: string) => `aus ${name}`,
    double: 'zum Doppel machen',
    replay: 'nachspielen',
    export: 'diesen Lauf exportieren',
    delete: 'löschen',
    compare: 'daneben',
    nobody: 'nichts',
    present: 'der jetzige Lauf',
    measures: 'Messwerte',
    columns: ['Messwert', 'dieser Lauf', 'daneben', 'Änderung'],
    same: 'gleich',
    more: (text: string) => `▲ ${text}`,
    less: (text: string) => `▼ ${text}`,
    beside: (label: string) => `Doppel B: ${label}`,
    strip: (label: string, view: 'side' | 'front') =>
      `${label}, ${view === 'side' ? 'Seitenansicht' : 'Vorderansicht'}, aufbewahrter Lauf`,
    readHere: 'Zeig auf einen Streifen, oder nimm darauf die Pfeiltasten, um alle zu einer Zeit abzulesen.',
    noStrip: 'Mit diesem Lauf wurde kein Streifen aufbewahrt.',
  },

  replay: {
    going: 'Spielt nach …',
    equal: 'Nachgespielt: die Prüfsumme ist gleich, Bit für Bit.',
    newer: (then: string, now: string) =>
      `Nachgespielt: er ist anders, und das Modell auch: gemacht mit Modell ${then}, diese Seite hat ${now}.`,
    differs:
      'Nachgespielt: er ist anders, obwohl das Modell dieselbe Fassung hat. Bitte melde das, mit dem exportierten Lauf.',
    upTo: (seconds: number, last: boolean) =>
      last
        ? `Gleich bis t = ${seconds} s, danach anders.`
        : `Gleich bis t = ${seconds} s, anders bei t = ${seconds + 1} s.`,
    difference: (label: string, was: string, is: string) => `${label}: ${was}, jetzt ${is}.`,
    failed: (reason: string) => `Er ließ sich nicht nachspielen: ${reason}.`,
  },

  time: {
    title: 'Mein Roboter über die Zeit',
    measure: 'Messwert',
    few: 'Zwei aufbewahrte Läufe ergeben einen Streifen.',
    chart: (label: string) => `${label} nach aufbewahrtem Lauf, ältester zuerst`,
    columns: ['Lauf', 'aufbewahrt', 'Wert', 'Roboter'],
    back: 'zurück zu diesem Roboter',
    backTo: (name: string) => `zurück zum Roboter von ${name}`,
    help: 'Drück einen Punkt, um seinen Roboter zurückzuholen. × heißt: ein Lauf ohne diese Zahl.',
  },

  revisions: {
    title: 'Alle Revisionen',
    columns: ['', 'Änderung', 'Name', 'wann', ''],
    name: (letter: string) => `Name von Revision ${letter}`,
    hint: 'etwa „Messeboden, Samstag“',
    now: 'auf der Tafel',
    undone: 'rückgängig',
    back: 'hierher zurück',
    backTo: (letter: string) => `zurück zu Revision ${letter}`,
  },

  file: {
    export: 'alles exportieren',
    import: 'eine Datei importieren',
    name: 'kickstill-kept',
    done: (number: number, name: string) => `${runs(number)} und alle Revisionen als ${name} exportiert.`,
    doneOne: (name: string) => `Als ${name} exportiert.`,
    remind: (number: number) =>
      `${runs(number)} seit dem letzten Export aufbewahrt: ein Browser kann seinen Speicher leeren, eine Datei bleibt.`,
    useSettings: 'auch ihre Einstellungen nehmen',
  },

  import: {
    done: (kept: number, revisions: number, known: number) =>
      `${runs(kept)} und ${plural(revisions, 'Revision', 'Revisionen')} importiert` +
      (known === 0 ? '.' : `; ${plural(known, 'Eintrag war', 'Einträge waren')} schon hier.`),
    of: (name: string) => `Import von ${name}`,
    nothing: 'nichts wurde importiert',
    others: 'dieser blieb draußen, die anderen kamen herein',
    size: (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`,
    atMost: (bytes: number) => `höchstens ${(bytes / 1e6).toFixed(0)} MB`,
    unreadable: 'eine lesbare Datei',
    expected: 'eine Datei, die diese Seite exportiert hat',
    version: (version: number) => `Fassung ${version} oder älter`,
    newer: 'eine neuere Seite hat sie vielleicht exportiert: lade diese neu',
    list: 'eine Liste',
    robot: 'die Kennung eines heilen Roboters in dieser Datei',
    robotEntry: 'eine Kennung und eine Roboterdatei',
    line: (line: number) => `Zeile ${line}`,
    whole: 'ein ganzer Eintrag',
    end: 'das Ende der Datei, das abgeschnitten ist',
  },

  expect: {
    fields: 'ein Objekt',
    id: 'Buchstaben, Ziffern, - und _, höchstens 64',
    text: 'ein Text',
    time: 'eine Zeit in ms seit 1970',
    view: '"side" oder "front"',
    digest: '16 hexadezimale Ziffern',
    marks: (most: number) => `eine Liste von höchstens ${most} Prüfsummen`,
    number: 'eine Zahl',
    list: 'eine Liste',
    robot: 'eine Roboterdatei',
    log: '[Zeit in µs, Wort, Zahlen …]',
    trace: 'gleich lange Listen von Zahlen, je höchstens 20000',
    version: (most: number) => `eine Zahl bis ${most}`,
    kind: (kinds: readonly string[]) => `eines von ${kinds.join(', ')}`,
  },

  link: {
    title: 'Link auf diese Einstellung',
    label: 'Link',
    copy: 'kopieren',
    code: 'QR-Code',
    codeLabel: 'QR-Code des Links',
    tooLong: (length: number) =>
      `Dieser Link von ${length} Zeichen ist zu lang für einen Code, den eine Kamera gut liest. Kopiere ihn.`,
    whole:
      'Der Roboter ist ein eigener, kein Beispielroboter mit gedrehten Reglern: der Link enthält seine ganze Datei.',
  },

  trouble: {
    refused:
      'Dieser Browser gibt der Seite keinen Speicher, wie in einem privaten Fenster. Läufe bleiben, bis die Seite geschlossen wird: exportiere sie.',
    full: 'Der Speicher des Browsers ist voll. Neues bleibt, bis die Seite geschlossen wird: exportiere es, oder lösche Läufe.',
    blocked:
      'Ein anderer Tab hält den Speicher mit einer älteren Seite. Schließ ihn und lade neu. Bis dahin bleiben Läufe im Arbeitsspeicher: exportiere sie.',
    newer:
      'Eine neuere Seite in einem anderen Tab hat den Speicher übernommen. Lade diese neu; exportiere vorher, was nur im Arbeitsspeicher ist.',
    lost: 'Der Browser hat seinen Speicher geschlossen. Neues bleibt, bis die Seite geschlossen wird: exportiere es, dann lade neu.',
  },
  tabs: 'Zwei Tabs bewahren Läufe und Revisionen gemeinsam auf; beim nächsten Besuch steht der Roboter des zuletzt geänderten Tabs da.',
};
