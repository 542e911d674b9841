// Every word of the stall, except what the core says.

import type { Level } from '../../core/types';

const swings = (count: number): string => `${count} ${count === 1 ? 'swing' : 'swings'} so far`;

export const stallWords = {
  title: 'Stall',
  about:
    'Full screen for visitors: large presses, a large sentence that says what is seen, and scenes while nobody plays. Your own robot stands still meanwhile and is as you left it afterwards; each visitor begins with it as it is now.',
  open: 'open the stall',
  link: (address: string) => `A link opens it too, such as from the start screen of a tablet: ${address}`,
  failed: (reason: string) => `The stall could not be opened: ${reason}`,

  choices: {
    title: 'What visitors get',
    presses: 'presses',
    pressHelp: (least: number, most: number) => `${least} to ${most} of them`,
    tooMany: (most: number) => `Expected: at most ${most} presses; the others stay as they were. Take one off first.`,
    tooFew: (least: number) => `Expected: at least ${least} presses; they stay as they were.`,
    names: {
      kick: 'kick',
      software: 'software on and off',
      head: 'heavier head',
      drive: 'drive, as long as it is held',
      turn: 'turn the robot',
      home: 'take it home',
    },
    contrast: 'contrast',
    contrasts: { page: 'as the page', sunlight: 'sunlight: black on white', dark: 'dark: white on black' },
    two: 'two children at once: two robots, each with its own presses',
    idle: 'seconds without a touch until it starts again',
    idleWrong: (least: number, most: number, kept: number) => `Expected: a number from ${least} to ${most}; ${kept} is kept.`,
    sound: 'sound: thump, hum and chime, made from the run',
    volume: 'volume',
    buzz: 'a short buzz at a kick, where the device can',
    address: 'address for the code to take home',
    addressHelp: 'empty: the address of this page',
    addressWrong: (kept: string) => `Expected: an address that begins with https:// or http://; ${kept === '' ? 'the field stays empty' : `${kept} is kept`}.`,
    language: 'Captions are in the language of the page.',
  },

  leaving: {
    title: 'How to leave it',
    touch: 'By touch: hold the ring in the upper right corner for 3 seconds, then hold “leave the stall” for 3 seconds.',
    word: (word: string) => `By keyboard: type the word “${word}”.`,
    escape: 'Escape, F11 or a swipe from the edge may end full screen: the stall still covers the page, and the next touch fills the screen again.',
  },

  browser: {
    title: 'What this browser can do',
    yes: 'yes',
    no: 'no',
    rows: {
      screen: ['Full screen', 'The bars of the browser stay. Install the page, or open it from the start screen.'],
      awake: ['Keeps the screen awake', 'Set the device so that its screen does not go dark, and leave it on its charger.'],
      buzz: ['Buzz', 'There is none; everything is seen.'],
      sound: ['Sound', 'There is none; everything is seen.'],
      pad: ['Game pad', 'Touch and keys do everything.'],
      code: ['Code to take home', 'A file on this device has no address that a phone could open: visitors get their robot in words, unless you give an address below.'],
      installed: ['Opened as installed page', 'In a browser’s window a visitor can reach its bars. A tablet wants the installed page: open the page’s web address, then “install” or “add to start screen” in the browser’s menu.'],
      file: ['Opened from a web address', 'From file:// a browser allows no installation and no start screen; some refuse to keep the screen awake. For a tablet use the web address once, then it works without network.'],
    },
    refused: 'asked for, but refused so far: power saving, or the page is hidden',
    limits:
      'No page can hold the keys that the system keeps to itself, such as those that close a window, nor the system’s own swipes. For those use the device’s own lock to a single app, in its settings.',
  },

  mapping: {
    title: 'Keys and game pads',
    label: 'Drawing of the keys and of the pad’s buttons; the list beside it says the same.',
    keys: (child: string) => `keys, ${child}`,
    pad: (child: string) => `pad, ${child}`,
    children: ['first child', 'second child'] as const,
    press: (number: number, name: string) => `${number}: ${name}`,
    buttons: ['bottom button', 'right button', 'left button', 'top button'] as const,
    columns: ['press', 'key, first child', 'key, second child', 'button of either pad'] as const,
    oneRobot: 'With one robot both children’s keys and both pads act on it.',
  },

  cautions: {
    title: 'For the public',
    list: [
      'This is a simulation. It is no permission to let a real robot drive among people.',
      'A real ball robot is heavy and does not stop at once: keep it behind a rope, with someone at its emergency stop.',
      'Its battery needs a fuse that fits the wire, a charger made for it, and someone who knows both.',
      'Fix the tablet so that it cannot fall, lay its cable where nobody trips, and keep it from the sun: screens switch off when hot.',
      'Wipe the screen between visitors where the rules of the place ask for it. These and the rules of the place come first.',
    ],
  },

  // In the stall.

  layer: 'Stall',
  robot: (letter: string) => `Robot ${letter}`,
  letters: ['A', 'B'] as const,
  drawing: (name: string) => `Drawing of ${name}; the sentence above says what is seen`,
  presses: {
    kick: 'kick',
    software: (on: boolean | undefined) => (on === undefined ? 'software' : on ? 'software: on' : 'software: off'),
    head: (mass: string | undefined) => (mass === undefined ? 'heavier head' : `head ${mass}`),
    drive: 'hold: drive',
    turn: (front: boolean) => (front ? 'from the side' : 'from the front'),
    home: 'take it home',
  },
  touch: 'Touch it: it is yours.',
  yours: 'It is yours. Kick it!',
  setting: (software: string, head: string) => `${software}, head ${head}`,
  levels: ['software off', 'locked', 'software on'] as const,
  doubleOff: 'motors off',
  startsAgain: (seconds: number) => `starts again in ${seconds}`,
  speed: (metres: number, inch: boolean) => (inch ? `${(metres / 0.3048).toFixed(1)} ft/s` : `${metres.toFixed(1)} m/s`),

  scenes: {
    off: () => 'A kick, the software is off',
    on: () => 'A kick, the software is on',
    locked: () => 'A kick, the motors hold fast',
    both: () => 'The same kick for two: software on, and B with its motors off',
    switched: () => 'A kick – and then the software comes on',
    stop: (head: string) => `Drive and stop, head ${head}`,
    heavyStop: (head: string) => `Drive and stop with a heavy head: ${head}`,
    bump: () => 'A bump on the head',
    forces: () => 'The arrows are the forces',
    offFront: () => 'Seen from the front: a kick, the software is off',
    onFront: () => 'Seen from the front: a kick, the software is on',
  },

  says: {
    stands: (level: Level) => (level === 2 ? 'It stands still, the software watches.' : 'It stands still.'),
    rocks: (count: number) => (count === 0 ? 'It rocks.' : `It rocks: ${swings(count)}.`),
    locked: (count: number) => (count === 0 ? 'Held fast, it rocks.' : `Held fast, it rocks: ${swings(count)}.`),
    steadies: 'The software steadies it.',
    settled: (level: Level, time: string) => (level === 2 ? `Steady after ${time}.` : `Quiet by itself after ${time}.`),
    hardly: 'It hardly moved.',
    drives: (speed: string) => `It drives: ${speed}.`,
    stops: 'It stops: watch the head.',
    stopped: (time: string | undefined, dip: string | undefined) =>
      `${time === undefined ? 'Stopped.' : `Stopped, steady after ${time}.`}${dip === undefined ? '' : ` The head dipped by ${dip}.`}`,
    needsSoftware: 'It drives only with the software on.',
    both: (own: string, other: string) => `On: ${own} B, off: ${other}`,
    ended: 'It moves no more.',
    ends: {
      'rests leaning': 'It rests, leaning.',
      sways: 'It sways on and on.',
      'out of control': 'It went over. Kick it and it stands again.',
      'head lost': 'The head came off! Kick it and it stands again.',
      hop: 'It left the floor. Kick it and it stands again.',
      'brown-out': 'The battery gave in. Kick it and it stands again.',
      diverged: 'Too much for the sums. Kick it and it stands again.',
      'still moving': 'It is still moving.',
    } as Readonly<Record<string, string>>,
  },

  home: {
    title: 'Take it home',
    scan: 'Hold your phone’s camera before it: the same robot, to play on with.',
    code: 'QR code of the link to this robot',
    words: 'Write it down, and ask here where the page is to be found:',
    tooLong: 'This robot is too large for a code. Write it down:',
    back: (seconds: number) => `back (${seconds})`,
    list: (robot: string, setting: string, view: string, result: string) => [robot, setting, view, result],
    views: ['side view', 'front view'] as const,
    kick: (impulse: number) => `kick ${impulse.toFixed(1)} N·s`,
  },

  leave: {
    word: 'leave',
    corner: 'for the demonstrator: hold for 3 seconds to leave the stall',
    title: 'For the demonstrator',
    hold: 'leave the stall: hold for 3 seconds',
    stay: 'stay',
    left: 'The stall is closed. Your robot is as it was.',
  },
};
