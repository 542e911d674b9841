// The place “My robot” in German. Labels, help and problems of the numbers come from the core.

import type { Spoken } from '../language';
import type { words as english } from '../en/robot';

const TRIALS = 'Tritt von der Seite und von vorn, Anhalten';

export const words: Spoken<typeof english> = {
  parts: {
    label: 'Teile dieses Orts',
    names: {
      start: 'Zehn Zahlen',
      spread: 'Was die Schätzungen tun',
      marks: 'Herkunft der Werte',
      ledger: 'Teileverzeichnis',
    },
  },

  job: {
    cancel: 'abbrechen',
    waiting: 'wartet auf den Arbeiter …',
    going: (done: number, of: number) => `${done} von höchstens ${of} Läufen`,
    givenUp: 'Abgebrochen.',
    stale: 'Der Roboter wurde seither geändert: lass es noch einmal laufen.',
    refused: (place: string, expected: string, hint: string) =>
      [`${place === '' ? '' : `${place}: `}erwartet ${expected}`, hint].filter((part) => part !== '').join('; '),
  },

  marks: {
    words: { measured: 'gemessen', sheet: 'aus dem Datenblatt', guessed: 'geschätzt' },
    none: 'nicht gesagt',
    of: (label: string) => `${label}: woher es kommt`,
  },

  start: {
    title: 'Mein Roboter in zehn Zahlen',
    about:
      'Mit Waage, Maßband und den Datenblättern dauert das ein paar Minuten. Was leer bleibt, behält den üblichen Wert in Grau und zählt als geschätzt; der Rest des Roboters wird nach Regeln ergänzt und als geschätzt vermerkt.',
    name: 'Name',
    usualName: 'Mein Roboter',
    number: (number: number) => `Zahl ${number} von zehn`,
    wrong: (count: number) => (count === 1 ? 'Eine Zahl stimmt nicht.' : `${count} Zahlen stimmen nicht.`),
    right: 'Alle Zahlen gehen.',
    field: (expected: string, hint: string, kept: string) =>
      [`erwartet: ${expected}`, hint, kept].filter((part) => part !== '').join('; '),
    summary: 'dieser Roboter',
    summaries: {
      mass: 'wiegt',
      head_share: 'Anteil des Kopfs am Gleichgewicht',
      topples: 'kippt um mit einem Kopf von',
      rocks: 'schaukelt, Motoren blockiert, einmal in',
      speed: 'fährt bis zu',
      kick: 'üblicher Tritt',
    },
    marks: ([measured, sheet, guessed]: readonly [number, number, number]) =>
      `${measured} Werte gemessen, ${sheet} aus Datenblättern, ${guessed} geschätzt`,
    put: 'auf die Tafel stellen',
    because: 'zehn Zahlen',
    done: (name: string) => `${name} steht auf der Tafel. Der Roboter davor ist ein Rückgängig entfernt (Strg+Z).`,
    kick: 'einschalten und treten',
    check: 'Auftrittscheck laufen lassen',
    guesses: 'was die Schätzungen tun',
    empty: 'Formular leeren',
    filled: 'Das Formular ist leer.',
    broken: 'Das Formular ließ sich nicht lesen:',
  },

  verdict: {
    title: 'Auftrittscheck',
    steadied: (name: string, settles: string) => `${name} ist geregelt: nach einem Tritt ${settles}.`,
    notYet: (name: string, count: number, of: number) =>
      `${name} ist noch nicht so weit: ${count} von ${of} Proben ${count === 1 ? 'bricht' : 'brechen'} eine Grenze. Der erste Grund:`,
    kickBut: (name: string, count: number) =>
      `${name} kommt nach einem Tritt zur Ruhe; ${count === 1 ? 'eine Probe bricht' : `${count} Proben brechen`} eine Grenze. Der erste Grund:`,
    reason: (title: string, label: string, found: string, limit: string) =>
      label === 'outcome' ? `${title}: ${found}.` : `${title}: ${label} ${found}, Grenze ${limit}.`,
    change: 'Als Nächstes ändern:',
    columns: ['Probe', 'Ausgang', 'Grenze', 'gefunden', 'Urteil', 'als Nächstes ändern'],
    holds: 'hält',
    breaks: 'bricht',
    caution:
      'Das Urteil eines Modells, keine Erlaubnis: probiere den echten Roboter langsam, mit Abstand zu Menschen und nach deinen örtlichen Regeln.',
    outcomes: {
      'out of control':
        'zuerst weniger Korrektur P; dann mehr Gewicht tiefer hängen, oder ein leichterer Kopf. Läuft er sofort davon, ist vielleicht ein Kreis verpolt.',
      sways:
        'weniger Dämpfung D oder eine kürzere Verzögerung, denn D mal Verzögerung lässt ihn von selbst schwingen; dann ein leichterer Kopf.',
      'rests leaning': 'mehr Korrektur P oder eine kleinere Ruhezone: trockene Reibung hält ihn vor der Senkrechten fest.',
      'head lost': 'stärkere Magnete, ein leichterer oder tieferer Kopf, oder sanftere Rampen.',
      hop: 'ein sanfterer Stoß oder eine sanftere Rampe: die Schale hob vom Boden ab.',
      'brown-out': 'zuerst eine kleinere Treibergrenze und sanftere Rampen; dann eine Batterie mit weniger Widerstand.',
      diverged: 'sanftere Verstärkungen: die Zahlen liefen davon, was kein echter Roboter erleben würde.',
      'still moving': 'mehr Dämpfung D: er klingt zu langsam ab.',
    },
    measures: {
      settling_time: 'mehr Dämpfung D, eine kleinere Ruhezone, oder mehr Gewicht tiefer hängen.',
      head_dip:
        'ein leichterer oder tieferer Kopf, mehr Gewicht tiefer, sanfteres Anhalten, oder mehr Vorhalt im Kopfausgleich.',
      head_sway: 'ein leichterer oder tieferer Kopf, oder mehr Gewicht tiefer hängen.',
      current_peak: 'eine kleinere Treibergrenze, sanftere Rampen oder weniger D; keine größere Sicherung.',
      hold_used: 'stärkere Magnete, ein leichterer oder tieferer Kopf, oder sanftere Rampen.',
      run_out_time: 'eine kürzere Funk-Wartezeit oder eine härtere Anhalterampe.',
      stopping_distance: 'eine härtere Anhalterampe, soweit das Nicken des Kopfs es zulässt.',
    },
    other: 'sieh dir die Probe unter „Proben“ an, mit ihren Streifen.',
  },

  spread: {
    title: 'Was die Schätzungen tun',
    about: (spreads: readonly [string, string, string]) =>
      `Jede Variante zieht alle vermerkten Werte der Strecke neu: gemessene innerhalb ±${spreads[0]}, aus dem Datenblatt innerhalb ±${spreads[1]}, geschätzte innerhalb ±${spreads[2]}. Was keinen Vermerk hat, bleibt, wie es ist.`,
    first: `Vierzig Varianten des Roboters auf der Tafel (${TRIALS}), jeder Wert so weit gezogen, wie sein Vermerk erlaubt.`,
    run: 'Varianten laufen lassen',
    progress: 'Varianten',
    none: 'Kein Wert dieses Roboters sagt, woher er kommt, also wird nichts gezogen. Vermerke erst seine Werte: ein Druck vermerkt alle als geschätzt.',
    markAll: 'alle Werte ohne Vermerk als geschätzt vermerken',
    markedAll: 'Werte ohne Vermerk als geschätzt vermerkt',
    varied: ([measured, sheet, guessed]: readonly [number, number, number]) =>
      `Hier gezogen: ${measured} gemessene, ${sheet} aus Datenblättern, ${guessed} geschätzte`,
    holds: (count: number, of: number, limit: string) =>
      `hält in ${count} von ${of}${limit === '' ? '' : ` (ausgeschwungen, ${limit})`}`,
    outcomes: (list: readonly { readonly class: string; readonly count: number }[]) =>
      list.map(({ class: name, count }) => `${name} ${count}`).join(', '),
    impossible: (count: number) =>
      count === 1 ? '1 ließ sich nicht bauen und blieb weg' : `${count} ließen sich nicht bauen und blieben weg`,
    columns: ['', 'von kleinst bis größt', 'wie beschrieben', 'kleinst', 'unteres Viertel', 'Mitte', 'oberes Viertel', 'größt', 'Grenze'],
    lacking: (count: number) => `keines in ${count}`,
    next: 'Das als Nächstes messen',
    nextNone:
      'Keine Schätzung bewegt diese Ergebnisse über das Rauschen hinaus. Was noch zu messen ist, liegt auf der Werkbank, nicht hier.',
    nextLine: (label: string, value: string, mark: string, share: string) => `${label}, ${value}, ${mark} (±${share})`,
    does: (low: string, high: string) => `${low} bis ${high}`,
    turns: 'ändert den Ausgang',
    noise: 'im Rauschen',
    how: 'wie:',
    others: 'dann',
    key: 'Linie: kleinst bis größt; Kasten: die mittlere Hälfte; Strich: die Mitte; Punkt: der Roboter wie beschrieben; Gestricheltes: die Grenze',
    done: (next: string) =>
      next === '' ? 'Die Varianten sind fertig.' : `Die Varianten sind fertig. Als Nächstes messen: ${next}.`,
    tableOf: (title: string) => `${title}: Streuung der Varianten`,
  },

  list: {
    title: 'Herkunft der Werte',
    about:
      'Woher jeder Wert der Strecke kommt. An der Bewegung ändert das nichts; es sagt, wie weit man einem Urteil trauen kann.',
    find: 'Wert suchen',
    filter: 'zeigen',
    all: 'alle Werte',
    none: 'Kein Wert ist so.',
    group: (name: string) => `${name}: alle gezeigten vermerken`,
    groupPick: 'alle vermerken …',
    because: (label: string, word: string) => `${label} ${word}`,
    groups: {
      pack: 'Batteriezellen',
      fuse: 'Sicherung',
      wiring: 'Verdrahtung',
      regulator: 'Spannungsregler des Kopfs',
    },
  },

  ledger: {
    title: 'Teileverzeichnis',
    about:
      'Was dazukam oder geplant ist. Ein Teil, das dran ist, gibt sein Gewicht seinem Körper, als Punkt in seiner Höhe über der Mitte der Schale; eines, das weg ist, ist geplant und wiegt nichts.',
    empty: 'Noch steht kein Teil da.',
    table: 'Teile des Roboters',
    columns: ['Teil', 'wo', 'Gewicht', 'Höhe', 'Herkunft', 'dran'],
    effects: ['Nicken', 'Ausschwingen, Seite', 'Ausschwingen, vorn', 'Gleichgewicht übrig'],
    effectsOf:
      'Die vier Spalten ab „Nicken“ sagen, was ein Teil dadurch ändert, dass es dran ist; sie werden zusammen mit den übrigen Gramm unten errechnet.',
    on: (name: string) => `${name} ist am Roboter`,
    remove: 'streichen',
    removeOf: (name: string) => `${name} von der Liste streichen`,
    add: 'Teil hinzufügen',
    fields: {
      name: 'Name',
      body: 'wo',
      mass: 'Gewicht',
      height: 'Höhe über der Mitte der Schale',
      mark: 'Herkunft',
      on: 'gleich dran',
    },
    placeholder: { name: 'Messingfüße', mass: ['120 g', '4 oz'], height: ['-150 mm', '-6 in'] },
    bodies: ['Schale', 'Wagen', 'Kopf'],
    put: 'hinzufügen',
    added: (name: string) => `${name} hinzugefügt`,
    switchedOn: (name: string) => `${name} dran`,
    switchedOff: (name: string) => `${name} weg`,
    removed: (name: string) => `${name} gestrichen`,
    wrongSwitch: (name: string, reason: string) => `${name} bleibt, wie es ist: ${reason}`,
    left: 'Gramm, die der Kopf noch hat',
    dip: 'größtes Nicken des Kopfs beim Anhalten',
    run: 'ausrechnen',
    progress: 'Läufe',
    answer: (left: string, dip: string) => `Noch ${left} für den Kopf, bei höchstens ${dip} Nicken.`,
    over: (left: string, dip: string) => `Der Kopf ist um ${left} zu schwer für ein Nicken von ${dip}.`,
    noHead: (dip: string) =>
      `Kein Kopfgewicht im Bereich hält ein Nicken von ${dip}. Halte sanfter an, oder häng das Gewicht tiefer.`,
    found:
      'wie es gefunden wurde: der Kopf allein schwerer und leichter gemacht, bis der schwerste, der hält, und der nächste, der bricht, auf 0.4 % beisammen liegen',
    foundRuns: (runs: number) => `${runs} Läufe`,
    searches: ['Probe', 'muss halten', 'schwerster, der hält', 'nächster, der bricht', 'Rand'],
    dipLimit: (dip: string) => `Nicken ≤ ${dip}`,
    settles: 'kommt im Lauf zur Ruhe',
    sharp: 'scharf: 2 % weniger hält, 2 % mehr bricht',
    ragged: 'zerfranst: innerhalb 2 % geht es hin und her',
    now: (dip: string, side: string, front: string, margin: string) =>
      `wie er ist: Nicken ${dip}, Ausschwingen ${side} (Seite) und ${front} (vorn), ${margin} vom Gleichgewicht übrig`,
    nothing: '–',
  },
};
