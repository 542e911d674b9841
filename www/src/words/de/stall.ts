import type { Level } from '../../core/types';
import type { Spoken } from '../language';
import type { stallWords as english } from '../en/stall';

const swings = (count: number): string => `bisher ${count} ${count === 1 ? 'Schwung' : 'Schwünge'}`;

export const stallWords: Spoken<typeof english> = {
  title: 'Stand',
  about:
    'Der ganze Bildschirm für Besucher: große Tasten, ein großer Satz, der sagt, was zu sehen ist, und Szenen, solange niemand spielt. Dein eigener Roboter steht derweil still und ist danach, wie du ihn verlassen hast; jeder Besucher beginnt mit ihm, wie er jetzt ist.',
  open: 'Stand öffnen',
  link: (address: string) => `Auch ein Link öffnet ihn, etwa vom Startbildschirm eines Tablets: ${address}`,
  failed: (reason: string) => `Der Stand konnte nicht geöffnet werden: ${reason}`,

  choices: {
    title: 'Was Besucher bekommen',
    presses: 'Tasten',
    pressHelp: (least: number, most: number) => `${least} bis ${most} davon`,
    tooMany: (most: number) => `Erwartet: höchstens ${most} Tasten; es bleibt bei den bisherigen. Nimm erst eine weg.`,
    tooFew: (least: number) => `Erwartet: mindestens ${least} Tasten; es bleibt bei den bisherigen.`,
    names: {
      kick: 'Tritt',
      software: 'Software an und aus',
      head: 'schwererer Kopf',
      drive: 'fahren, solange gehalten wird',
      turn: 'Roboter drehen',
      home: 'mit nach Hause nehmen',
    },
    contrast: 'Kontrast',
    contrasts: { page: 'wie die Seite', sunlight: 'Sonne: schwarz auf weiß', dark: 'Dunkel: weiß auf schwarz' },
    two: 'zwei Kinder zugleich: zwei Roboter, jeder mit eigenen Tasten',
    idle: 'Sekunden ohne Berührung, bis es neu beginnt',
    idleWrong: (least: number, most: number, kept: number) => `Erwartet: eine Zahl von ${least} bis ${most}; es bleibt bei ${kept}.`,
    sound: 'Ton: Stoß, Summen und Glocke, aus dem Lauf gemacht',
    volume: 'Lautstärke',
    buzz: 'kurzes Rütteln beim Tritt, wo das Gerät es kann',
    address: 'Adresse für den Code zum Mitnehmen',
    addressHelp: 'leer: die Adresse dieser Seite',
    addressWrong: (kept: string) => `Erwartet: eine Adresse, die mit https:// oder http:// beginnt; ${kept === '' ? 'das Feld bleibt leer' : `es bleibt bei ${kept}`}.`,
    language: 'Die Sätze sind in der Sprache der Seite.',
  },

  leaving: {
    title: 'Wie du ihn verlässt',
    touch: 'Mit dem Finger: den Ring in der rechten oberen Ecke 3 Sekunden halten, dann „Stand verlassen“ 3 Sekunden halten.',
    word: (word: string) => `Mit der Tastatur: das Wort „${word}“ tippen.`,
    escape: 'Escape, F11 oder ein Wischen vom Rand können das Vollbild beenden: Der Stand bedeckt die Seite weiterhin, und die nächste Berührung füllt den Bildschirm wieder.',
  },

  browser: {
    title: 'Was dieser Browser kann',
    yes: 'ja',
    no: 'nein',
    rows: {
      screen: ['Vollbild', 'Die Leisten des Browsers bleiben. Installiere die Seite, oder öffne sie vom Startbildschirm.'],
      awake: ['Hält den Bildschirm wach', 'Stelle das Gerät so ein, dass sein Bildschirm nicht dunkel wird, und lass es am Ladegerät.'],
      buzz: ['Rütteln', 'Gibt es nicht; alles ist zu sehen.'],
      sound: ['Ton', 'Gibt es nicht; alles ist zu sehen.'],
      pad: ['Gamepad', 'Finger und Tasten können alles.'],
      code: ['Code zum Mitnehmen', 'Eine Datei auf diesem Gerät hat keine Adresse, die ein Telefon öffnen könnte: Besucher bekommen ihren Roboter in Worten, wenn du unten keine Adresse angibst.'],
      installed: ['Als installierte Seite geöffnet', 'Im Fenster eines Browsers erreicht ein Besucher dessen Leisten. Ein Tablet will die installierte Seite: die Webadresse der Seite öffnen, dann im Menü des Browsers „installieren“ oder „zum Startbildschirm“.'],
      file: ['Von einer Webadresse geöffnet', 'Von file:// erlaubt ein Browser keine Installation und keinen Startbildschirm; manche halten auch den Bildschirm nicht wach. Nimm für ein Tablet einmal die Webadresse, danach geht es ohne Netz.'],
    },
    refused: 'verlangt, bisher aber verweigert: Energiesparen, oder die Seite ist verdeckt',
    limits:
      'Keine Seite kann die Tasten festhalten, die das System für sich behält, etwa die zum Schließen eines Fensters, und auch nicht das Wischen des Systems. Nimm dafür die Sperre des Geräts auf eine einzige App, in seinen Einstellungen.',
  },

  mapping: {
    title: 'Tasten und Gamepads',
    label: 'Zeichnung der Tasten und der Knöpfe des Gamepads; die Liste daneben sagt dasselbe.',
    keys: (child: string) => `Tastatur, ${child}`,
    pad: (child: string) => `Gamepad, ${child}`,
    children: ['erstes Kind', 'zweites Kind'] as const,
    press: (number: number, name: string) => `${number}: ${name}`,
    buttons: ['unterer Knopf', 'rechter Knopf', 'linker Knopf', 'oberer Knopf'] as const,
    columns: ['Taste', 'Tastatur, erstes Kind', 'Tastatur, zweites Kind', 'Knopf beider Gamepads'] as const,
    oneRobot: 'Bei einem Roboter wirken die Tasten und Gamepads beider Kinder auf ihn.',
  },

  cautions: {
    title: 'Vor Publikum',
    list: [
      'Dies ist eine Simulation. Sie ist keine Erlaubnis, einen echten Roboter zwischen Menschen fahren zu lassen.',
      'Ein echter Kugelroboter ist schwer und steht nicht sofort: Halte ihn hinter einem Seil, mit jemandem am Not-Aus.',
      'Sein Akku braucht eine Sicherung, die zum Draht passt, ein Ladegerät, das für ihn gemacht ist, und jemanden, der beides kennt.',
      'Befestige das Tablet so, dass es nicht fallen kann, lege das Kabel so, dass niemand stolpert, und halte es aus der Sonne: Heiße Bildschirme schalten ab.',
      'Wische den Bildschirm zwischen den Besuchern ab, wo die Regeln des Ortes es verlangen. Diese Regeln gehen allem vor.',
    ],
  },

  layer: 'Stand',
  robot: (letter: string) => `Roboter ${letter}`,
  letters: ['A', 'B'] as const,
  drawing: (name: string) => `Zeichnung von ${name}; der Satz darüber sagt, was zu sehen ist`,
  presses: {
    kick: 'Tritt',
    software: (on: boolean | undefined) => (on === undefined ? 'Software' : on ? 'Software: an' : 'Software: aus'),
    head: (mass: string | undefined) => (mass === undefined ? 'schwererer Kopf' : `Kopf ${mass}`),
    drive: 'halten: fahren',
    turn: (front: boolean) => (front ? 'von der Seite' : 'von vorn'),
    // It may be divided where a press is narrow.
    home: 'mit\u00ADnehmen',
  },
  touch: 'Fass ihn an: Er gehört dir.',
  yours: 'Er gehört dir. Tritt ihn!',
  setting: (software: string, head: string) => `${software}, Kopf ${head}`,
  levels: ['Software aus', 'blockiert', 'Software an'] as const,
  doubleOff: 'Motoren aus',
  startsAgain: (seconds: number) => `beginnt neu in ${seconds}`,
  speed: (metres: number, inch: boolean) => (inch ? `${(metres / 0.3048).toFixed(1)} ft/s` : `${metres.toFixed(1)} m/s`),

  scenes: {
    off: () => 'Ein Tritt, die Software ist aus',
    on: () => 'Ein Tritt, die Software ist an',
    locked: () => 'Ein Tritt, die Motoren halten fest',
    both: () => 'Derselbe Tritt für zwei: mit Software, und B mit Motoren aus',
    switched: () => 'Ein Tritt – und dann geht die Software an',
    stop: (head: string) => `Fahren und anhalten, Kopf ${head}`,
    heavyStop: (head: string) => `Fahren und anhalten mit schwerem Kopf: ${head}`,
    bump: () => 'Ein Stoß an den Kopf',
    forces: () => 'Die Pfeile sind die Kräfte',
    offFront: () => 'Von vorn: ein Tritt, die Software ist aus',
    onFront: () => 'Von vorn: ein Tritt, die Software ist an',
  },

  says: {
    stands: (level: Level) => (level === 2 ? 'Er steht still, die Software passt auf.' : 'Er steht still.'),
    rocks: (count: number) => (count === 0 ? 'Er schwingt.' : `Er schwingt: ${swings(count)}.`),
    locked: (count: number) => (count === 0 ? 'Blockiert schwingt er.' : `Blockiert schwingt er: ${swings(count)}.`),
    steadies: 'Die Software beruhigt ihn.',
    settled: (level: Level, time: string) => (level === 2 ? `Ruhig nach ${time}.` : `Von selbst ruhig nach ${time}.`),
    hardly: 'Er hat sich kaum bewegt.',
    drives: (speed: string) => `Er fährt: ${speed}.`,
    stops: 'Er hält an: Achte auf den Kopf.',
    stopped: (time: string | undefined, dip: string | undefined) =>
      `${time === undefined ? 'Angehalten.' : `Angehalten, ruhig nach ${time}.`}${dip === undefined ? '' : ` Der Kopf nickte um ${dip}.`}`,
    needsSoftware: 'Er fährt nur mit Software.',
    both: (own: string, other: string) => `An: ${own} B, aus: ${other}`,
    ended: 'Er bewegt sich nicht mehr.',
    ends: {
      'rests leaning': 'Er ruht, geneigt.',
      sways: 'Er schwingt immer weiter.',
      'out of control': 'Er ist umgekippt. Tritt ihn, und er steht wieder.',
      'head lost': 'Der Kopf ist ab! Tritt ihn, und er steht wieder.',
      hop: 'Er hat vom Boden abgehoben. Tritt ihn, und er steht wieder.',
      'brown-out': 'Der Akku ist eingebrochen. Tritt ihn, und er steht wieder.',
      diverged: 'Zu viel für die Rechnung. Tritt ihn, und er steht wieder.',
      'still moving': 'Er bewegt sich noch.',
    },
  },

  home: {
    title: 'Zum Mitnehmen',
    scan: 'Halte die Kamera deines Telefons davor: derselbe Roboter, zum Weiterspielen.',
    code: 'QR-Code des Links zu diesem Roboter',
    words: 'Schreib es auf, und frag hier, wo die Seite zu finden ist:',
    tooLong: 'Dieser Roboter ist zu groß für einen Code. Schreib ihn auf:',
    back: (seconds: number) => `zurück (${seconds})`,
    list: (robot: string, setting: string, view: string, result: string) => [robot, setting, view, result],
    views: ['Seitenansicht', 'Vorderansicht'] as const,
    kick: (impulse: number) => `Tritt ${impulse.toFixed(1)} N·s`,
  },

  leave: {
    word: 'schluss',
    corner: 'Für die Standleitung: 3 Sekunden halten, um den Stand zu verlassen',
    title: 'Für die Standleitung',
    hold: 'Stand verlassen: 3 Sekunden halten',
    stay: 'bleiben',
    left: 'Der Stand ist geschlossen. Dein Roboter ist, wie er war.',
  },
};
