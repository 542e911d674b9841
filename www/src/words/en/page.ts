// Every word that a visitor sees or hears, except what the core itself says: labels, units and
// help of knobs, outcomes, measures and problems come from there.

import type { Level, Plane } from '../../core/types';
import type { Rate } from '../../store';
import { degrees, fixed, pace, way } from '../numbers';

const VIEWS = ['side view', 'front view'] as const;
const LEVELS = ['motors off', 'locked', 'steadied'] as const;
const UNITS: Readonly<Record<string, string>> = {
  '°': 'degrees',
  'm/s': 'metres a second',
  'ft/s': 'feet a second',
  A: 'amperes',
};

export const words = {
  name: 'Kickstill',
  loading: 'Loading …',
  noCore: 'The simulation could not be started.',
  /** A drawing's facts in figures. */
  asTable: 'as a table',
  noCanvas: 'This browser cannot draw on the board.',
  standing: 'Drag from the ball to kick it; hold → to drive, let go to stop.',

  guide: {
    label: 'what to do next',
    kick: 'Kick it: drag from the ball, or press K.',
    kickByTouch: 'Kick it: drag from the ball, or press “kick”.',
    switchOn: 'Now switch the software on.',
    again: 'Kick it again.',
    drive: 'Hold → to drive, let go.',
    heavier: 'Now make the head heavier.',
    /** Where the knobs are a list under the drawing, numbered as on it. */
    heavierBelow: 'Now make the head heavier: slider 4, under the drawing.',
    kickHeavy: 'Kick it once more: what did the weight change?',
    free: '“All knobs” opens the rest, “turn the robot” shows it from the front.',
    skip: 'skip the guide',
    restart: 'show the guide again',
  },

  levels: LEVELS,
  software: 'software',
  softwareOn: 'on',
  softwareOff: 'off',
  view: (plane: Plane) => VIEWS[plane],
  bothViews: 'both views',
  oneView: 'one view',
  turn: 'turn the robot',

  board: {
    label: (plane: Plane) => `Working drawing of the robot, ${VIEWS[plane]}`,
    see: 'What you see',
    slope: 'slope of the floor',
    slopeText: (radians: number) => `${degrees(radians, 1)}°`,
    slopeHelp: 'drag, or arrow keys; Delete levels it',
    /** Where the system asks for less motion. */
    stills: (seconds: number) => `A still each ${seconds} s`,
    inMotion: 'In motion',
    motion: 'show motion',
    still: 'show stills',
    plumbText: (text: string) => `hangs ${text} below centre`,
    plumbHelp: 'centre of mass of the carriage: pull it up or down, or arrow keys; Delete puts it back',
  },

  acts: {
    group: 'pushing and driving',
    kick: 'kick',
    bump: 'bump',
    kickTitle: (text: string) => `repeat the last kick, ${text} (K)`,
    bumpTitle: (text: string) => `repeat the last bump, ${text} (B)`,
    speed: 'speed lever',
    lean: 'lean lever',
    levers: ['drive', 'lean'] as const,
    back: ['drive backward', 'lean left'] as const,
    forward: ['drive forward', 'lean right'] as const,
    needsSoftware: 'The levers need the software on.',
  },

  pushes: {
    title: 'kick and bump',
    kick: 'kick, backward below zero',
    height: 'height of the kick',
    bump: 'bump, backward below zero',
    range: (least: number, most: number, unit: string) =>
      `expected: a number from ${fixed(least, 1)} to ${fixed(most, 1)} ${unit}; the last one is kept`,
  },

  places: {
    index: 'places',
    names: {
      lessons: 'Lessons',
      hand: 'By hand',
      trials: 'Trials',
      edge: 'Edge',
      map: 'Map',
      suggest: 'Suggest',
      power: 'Power',
      robot: 'My robot',
      kept: 'Kept runs',
      sheets: 'Sheets and clips',
      stall: 'Stall',
      handbook: 'Handbook',
    },
    close: 'back to the board',
    opening: 'Opening …',
    failed: (reason: string) => `This part could not be loaded: ${reason}. Check the connection and press it again.`,
  },

  clock: {
    group: 'time',
    pause: 'pause',
    run: 'run on',
    tick: 'one tick',
    rate: 'pace of time',
    rates: [
      [1, '1'],
      [0.5, '1/2'],
      [0.25, '1/4'],
      [0.1, '1/10'],
    ] as readonly (readonly [Rate, string])[],
    scrub: 'look back',
    back: (seconds: number) => (seconds < 0.005 ? 'now' : `−${fixed(seconds, 2)} s`),
    backText: (seconds: number) => (seconds < 0.005 ? 'now' : `${fixed(seconds, 2)} seconds ago`),
    again: 'run again from rest',
    finer: (divisor: number) => `step 1/${divisor} ms`,
  },

  ended: {
    /** By the core's number of the end, from 1. */
    run: [
      'The ball has left the floor: this model of rolling ends here.',
      'Brown-out: the battery cannot carry the load and the supply has collapsed.',
      'The numbers ran away; the last good state is shown.',
    ] as readonly string[],
    other: 'The run has ended.',
    headLost: 'The head has come off: its magnets could not hold it.',
    inView: (plane: Plane, reason: string) => `In the ${VIEWS[plane]}: ${reason}`,
  },

  knobs: {
    spanKey: 'tracks: solid steady, hatched not',
    five: 'knobs',
    all: 'all knobs',
    fewer: 'five knobs',
    were: 'knobs as they were',
    back: (label: string, text: string) => `put ${label} back to ${text}`,
    track: (label: string) => `${label}, track`,
    raw: 'firmware',
    rawTitle: 'the maker’s raw firmware number; type either',
    rawLabel: (label: string) => `${label}, raw firmware number`,
    /** Headings of "all knobs", by the first word of a knob's key. */
    groups: {
      shell: 'shell',
      carriage: 'carriage',
      head: 'head',
      head_joint: 'head joint and servo',
      castors: 'castors',
      hold: 'magnets that keep the head on',
      travel_drive: 'travel drive (side view)',
      lean_drive: 'lean drive (front view)',
      battery: 'battery',
      sensing: 'sensing',
      timing: 'loop rate and delay',
      lean: 'lean loop (front view)',
      carriage_loop: 'carriage loop (front view)',
      travel: 'travel loop (side view)',
      levelling: 'head levelling',
      guard: 'guard',
      floor: 'floor',
      firmware: 'firmware numbers',
    } as Readonly<Record<string, string>>,
    /** By mark: its letter beside the label, and what the letter means. */
    markLetters: {
      measured: ['m', 'measured'],
      sheet: ['s', 'from its sheet'],
      guessed: ['g', 'guessed'],
    } as Readonly<Record<string, readonly [string, string]>>,
    find: 'find a knob',
    none: 'No knob has that in its name.',
  },

  parts: {
    title: 'Parts',
    drawer: 'parts and knobs',
    whole: 'whole robot',
    share: 'head’s share of the balance',
    added: (body: string) => `added to the ${body} by its knob`,
    taken: (body: string) => `taken from the ${body} by its knob`,
  },

  revisions: {
    title: 'Revisions',
    undo: 'undo',
    redo: 'redo',
    undoTitle: (text: string) => `undo: ${text} (Ctrl+Z)`,
    redoTitle: (text: string) => `redo: ${text} (Ctrl+Shift+Z)`,
    all: (count: number) => `all ${count}`,
    start: (robot: string) => `${robot}, as found`,
    robot: (robot: string) => `${robot} opened`,
    back: (count: number) => `knobs as they were (${count})`,
    parts: 'parts list changed',
    more: (count: number) => `and ${count} more`,
    backTo: (called: string) => `back to ${called}`,
    press: (letter: string) => `back to ${letter}`,
    undone: (text: string) => `Undone: ${text}.`,
    redone: (text: string) => `Done again: ${text}.`,
  },

  link: {
    name: 'link',
    double: 'from the link',
    copy: 'copy link',
    copied: 'The link is copied. Its QR code is under “Kept runs”.',
    notCopied: 'This browser did not let the page copy. The link stands under “Kept runs”, to be marked and copied.',
    opened: (name: string) => `${name} from the link; undo brings back the robot before.`,
    failed: (reason: string) => `The link could not be opened: ${reason}.`,
    where: 'address of the page',
    expected: 'a link that this page made, with “#k1=”',
    newer: 'it may come from a newer page: reload this one',
    short: (most: number) => `at most ${most} characters`,
    parts: 'v, l, k, b, u or d, each once, with “=” and its value',
    numbers: (count: number) => (count === 1 ? 'a number' : `${count} numbers with a comma`),
    whole: 'a whole robot file, packed',
    cut: 'the link may have been cut on its way',
    demo: (known: string) => `a demo robot: ${known}`,
    knob: 'a knob that this page knows',
  },

  results: {
    title: 'Results',
    none: 'no run yet',
    going: 'in motion …',
    was: (text: string) => `was ${text}`,
    trial: (trial: string, plane: Plane, level: Level, push: string) =>
      [trial, VIEWS[plane], LEVELS[level], push].filter((part) => part !== '').join(' · '),
    push: (impulse: number) => `${fixed(Math.abs(impulse), 1)} N·s`,
    labels: {
      settling_time: 'settling time',
      swings: 'swings',
      peak: 'peak',
      head_dip: 'head dip',
      residual_wobble: 'residual wobble',
      drift: 'drift',
      current_peak: 'peak current',
      stopping_distance: 'stopping distance',
    } as Readonly<Record<string, string>>,
    sway: 'head sway',
  },

  strip: {
    names: { swing: 'swing', roll: 'lean', tilt: 'head', speed: 'speed', supply_current: 'current' } as Readonly<
      Record<string, string>
    >,
    of: (name: string, plane: Plane) => `${name}, ${VIEWS[plane]}`,
    title: (name: string, unit: string) => `${name}, ${unit}`,
    label: (label: string, unit: string) => `strip: ${label}, in ${UNITS[unit] ?? unit} against time`,
    axis: (value: number) => fixed(value, Number.isInteger(value) ? 0 : Number.isInteger(value * 10) ? 1 : 2),
    four: 'four strips',
    two: 'two strips',
    table: 'table',
    tableOf: (label: string) => `table of ${label}`,
    caption: (label: string, unit: string) => `${label}, in ${UNITS[unit] ?? unit}, against the time since the push`,
    time: 'time',
    whose: { a: 'A, the board’s robot', b: 'B, its double', was: 'run before' },
    copy: 'copy as CSV',
    copied: 'Copied.',
    notCopied: 'This browser did not let the page copy: mark the table and copy it by hand.',
    close: 'close',
    running: 'at the pen',
    fuse: (rating: string) => `fuse ${rating}`,
    limit: (word: string, passed: boolean) => (passed ? `over the ${word}` : word),
    reading: (time: number, values: readonly string[]) => [`${fixed(time, 2)} s`, ...values].join(' · '),
    number: fixed,
    /** Without a unit where the strip's title says it. */
    value: (who: 'a' | 'b' | 'was' | undefined, value: number | undefined, digits: number, unit: string) => {
      const text = value === undefined ? '–' : `${fixed(value, digits)}${unit === '°' || unit === '' ? '' : ' '}${unit}`;
      return who === undefined ? text : `${who === 'was' ? 'before' : who.toUpperCase()} ${text}`;
    },
  },

  double: {
    name: 'double',
    start: 'A second robot under the same hands:',
    off: 'software off',
    before: 'before the last change',
    file: 'a robot file …',
    fromFile: (name: string) => name.replace(/(\.robot)?\.json$/i, ''),
    beforeChange: (change: string) => `before ${change}`,
    own: 'as it was',
    swap: 'swap',
    swapTitle: 'the board’s robot and its double change places; both runs go on (X)',
    become: 'become it',
    becomeTitle: 'the double’s settings become the board’s; undo brings back the others',
    away: 'put away',
    label: (label: string) => label,
    called: (label: string) => `Double B, ${label}`,
    apart: (metres: number, plane: Plane, inches: boolean) =>
      Math.abs(metres) < 0.05
        ? ''
        : `${way(Math.abs(metres), 1, inches)} ${plane === 1 ? (metres < 0 ? 'left' : 'right') : metres < 0 ? 'behind' : 'ahead'}`,
    started: (label: string) => `Double B: ${label}. Both stand at rest.`,
    swapped: (label: string) => `Swapped: ${label} is on the board now`,
    became: (label: string) => `The board became its double: ${label}`,
    gone: 'The double is put away.',
    news: (reason: string) => `Double B: ${reason}`,
    value: (text: string) => `B: ${text}`,
  },

  robots: {
    pick: 'robot',
    open: 'open a robot file',
    save: 'save this robot',
    drop: 'Let go to open this robot file.',
    opened: (name: string) => `${name} stands on the board.`,
    saved: (name: string) => `Saved ${name}.`,
    unreadable: (name: string) => `${name} could not be read.`,
    notLoaded: (reason: string) => `This robot could not be loaded: ${reason}. Check the connection and choose it again.`,
    tooLarge: (bytes: number) => `${fixed(bytes / 1e6, 1)} MB`,
    atMost: 'a robot file of at most 1 MB',
    atMostHint: 'robot files are a few kilobytes; this is something else',
    keptRobot: 'the robot on the board',
  },

  problems: {
    title: (of: string, errors: number) =>
      errors > 0
        ? `${of}: ${errors === 1 ? 'one thing is' : `${errors} things are`} wrong; nothing was changed.`
        : `${of}: opened, with remarks.`,
    inShort: (expected: string, kept: string) => `expected: ${expected}. ${kept}`,
    place: 'where',
    given: 'given',
    expected: 'expected',
    kept: 'kept',
    at: (line: number, column: number | undefined) =>
      column === undefined ? `line ${line}` : `line ${line}, column ${column}`,
    more: (count: number) => `and ${count} more`,
    close: 'close',
  },

  sheet: {
    layers: 'layers',
    layer: { forces: 'forces', centres: 'centres', trail: 'trail', grid: 'grid' },
    theme: 'light',
    language: 'language',
    notLoaded: (reason: string) => `The rest of the page could not be loaded: ${reason}. Check the connection and reload the page.`,
    languageRefused: 'This browser does not let the page remember a language; its own first language counts.',
    units: 'units',
    unitNames: { metric: 'mm, kg', inch: 'inch, pound' },
    themes: { auto: 'as the system', day: 'day', night: 'night' },
    shortcuts: 'single-key shortcuts',
    keys: 'keys',
    keyMap: 'all keys (?)',
    keyMapFailed: (reason: string) => `The list of keys could not be loaded: ${reason}.`,
    caution:
      'A model, not a permission: try real robots slowly, with people clear of them, and by your local rules.',
  },

  memory: {
    damaged: 'What this page remembered could not be read; it starts afresh.',
    refused: 'This browser does not let the page remember your knobs.',
    noHistory: (reason: string) => `Earlier revisions could not be read: ${reason}`,
  },

  offline: {
    newer: 'A newer version is here. Your robot, revisions and kept runs stay.',
    load: 'load it',
    later: 'later',
  },

  announce: {
    kick: (text: string) => `Kick, ${text}.`,
    bump: (text: string) => `Bump, ${text}.`,
    /** The first turning points of a run, for those who do not see it. */
    turned: (plane: Plane, angle: number, first: boolean) => {
      const [back, ahead] = plane === 1 ? ['to the left', 'to the right'] : ['backward', 'forward'];
      const what = plane === 1 ? 'The shell leans' : 'The carriage swings';
      return `${first ? what : 'Then'} ${degrees(Math.abs(angle))}° ${angle < 0 ? back : ahead}.`;
    },
    level: (level: Level) => `Software: ${LEVELS[level]}.`,
    paused: 'Paused.',
    running: 'Running.',
    view: (shown: string) => `Shown: ${shown}.`,
    reset: 'Run again from rest.',
    knobsBack: 'Knobs are as they were.',
  },

  /** What the board shows, as a sentence. */
  describe: (view: {
    plane: Plane;
    name: string;
    level: Level;
    travel: number;
    speed: number;
    roll: number;
    swing: number;
    tilt: number;
    slope: number;
    headLost: boolean;
    slips: boolean;
    /** Whether lengths are said in feet. */
    inches: boolean;
  }): string => {
    const front = view.plane === 1;
    const sideways = (angle: number): string =>
      Math.abs(angle) < 0.0087 ? '' : angle > 0 === front ? ' to the right' : front ? ' to the left' : '';
    const foreAft = (angle: number): string => {
      if (Math.abs(angle) < 0.0087) return '';
      if (front) return sideways(angle);
      return angle > 0 ? ' forward' : ' back';
    };
    const turned = front
      ? `the shell leans ${degrees(Math.abs(view.roll))}°${foreAft(view.roll)}`
      : Math.abs(view.speed) < 0.02
        ? 'the ball stands'
        : `the ball rolls ${view.speed > 0 ? 'forward' : 'back'} at ${pace(Math.abs(view.speed), 1, view.inches)}`;
    const head = view.headLost
      ? 'the head has come off'
      : Math.abs(view.tilt) < 0.0087
        ? 'the head is upright'
        : `the head tilts ${degrees(Math.abs(view.tilt))}°${foreAft(view.tilt)}`;
    const hangs =
      Math.abs(view.swing) < 0.0087
        ? 'the carriage hangs straight down'
        : `the carriage has swung ${degrees(Math.abs(view.swing))}°${foreAft(view.swing)}`;
    const floor = Math.abs(view.slope) < 0.001 ? '' : ` The floor slopes by ${degrees(view.slope, 1)}°.`;
    const slip = view.slips ? ' The ball slips.' : '';
    const [back, ahead] = front ? ['left of', 'right of'] : ['behind', 'ahead of'];
    const place =
      Math.abs(view.travel) < 0.005
        ? 'at the start'
        : `${way(Math.abs(view.travel), 2, view.inches)} ${view.travel < 0 ? back : ahead} the start`;
    return (
      `${view.name}, ${VIEWS[view.plane]}, ${LEVELS[view.level]}: ${turned}, ${hangs}, ${head}; ` +
      `${place}.${floor}${slip}`
    );
  },
};
