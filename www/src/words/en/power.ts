// The words of the place of power. Rows, verdicts, cautions and numbers in words come from the core.

import { fixed } from '../numbers';

/** Watts with one digit, so that the sum can be followed. */
const watts = (value: number, unit: string): string => `${fixed(value, 1)} ${unit}`;

export const powerWords = {
  about: 'Whether fuse, wire, drivers, motors, regulators and battery bear it.',
  source: 'what is looked at',
  sources: { trial: 'a trial', live: 'the board’s last run' },
  liveNote: (seconds: number, complete: boolean) =>
    `The last ${fixed(seconds, 1)} s of the run on the board, made again from its inputs.` +
    (complete ? '' : ' Some of its inputs were left out: it may differ.'),
  liveTitle: 'the board’s last run',
  noLive: 'Nothing has run on the board yet.',
  more: 'length, band, seed',
  run: 'run it again',
  running: 'supply',
  stale: 'Something has changed; this is of the run before.',
  fresh: (robot: string, title: string) => `${robot}, ${title}`,
  told: (verdict: string) => `Main fuse: ${verdict}.`,

  fuse: 'Fuse',
  stands: { within: 'within', near: 'near the limit', past: 'past the limit', '': '' },
  plane: (text: string) => `Figures ${text}.`,

  band: {
    title: 'Time-current band',
    describe: (rating: string, mark: string, rms: string, verdict: string) =>
      `Time-current band of the ${rating} fuse, both scales logarithmic: current from left to right, time upwards. ` +
      `Left below the band it bears the current, inside it may open, right above it opens. ` +
      `${mark === '' ? 'This run stayed where no fuse opens.' : `This run: ${mark}.`} As a steady current: ${rms}. Verdict: ${verdict}.`,
    current: 'current, A',
    time: 'time, s',
    quickAt: 'none opens before, s',
    slowAt: 'all open by, s',
    quick: 'none opens before',
    slow: 'all open by here',
    bears: 'bears it',
    may: 'may open',
    opens: 'opens',
    rating: (text: string) => `rating ${text}`,
    mark: 'this run',
    rms: 'as steady',
    cross: (text: string) => `× this run: as hard on the fuse as ${text}`,
    none: 'This run stayed under the current from which a fuse may open.',
    ring: (text: string) => `○ as a steady current: ${text}`,
    outside: 'A mark at the edge lies beyond it.',
    source: (text: string) => `Opening times: ${text}.`,
    warm: (rating: string, warm: string) => `In its warm surroundings the ${rating} fuse counts as one of ${warm}.`,
  },

  watts: {
    title: 'Where the watts go',
    which: 'watts of',
    moment: 'one moment',
    whole: 'the whole run, means',
    slider: 'moment of the run',
    at: (seconds: number) => `${fixed(seconds, 2)} s`,
    reading: (seconds: number, current: number, voltage: number) =>
      `${fixed(seconds, 2)} s: ${fixed(current, 1)} A at ${fixed(voltage, 1)} V`,
    value: watts,
    valueText: (seconds: number, power: number, unit: string) => `${fixed(seconds, 2)} seconds, ${watts(power, unit)} from the cells`,
    columns: { part: 'where to', moment: 'then', whole: 'mean', share: 'share' },
    sum: 'sum of the parts',
    left: 'left over',
    share: (value: number) => `${fixed(100 * value, 0)} %`,
    back: (label: string) => `back from: ${label}`,
    into: 'back into the cells',
    scale: (value: number, unit: string) => `this wide: ${fixed(value, 0)} ${unit}`,
    nothing: 'No power flows.',
    describe: (which: string, into: string, out: string) => `Flow of power, ${which}. Given by ${into}; taken by ${out}. The table beside it has the numbers.`,
    kinds: { heat: 'heat', use: 'in use', motion: 'motion', source: 'cells' },
    key: 'key',
  },

  advice: {
    title: 'What to do',
    fine: 'The fuse bears this run; nothing is to be done for it.',
    first: 'First what lowers the demand. Each was tried in the same run:',
    change: (label: string, from: string, to: string) => `${label} ${from} → ${to}`,
    and: ' and ',
    turn: 'set it',
    turnTo: (text: string) => `set it: ${text}`,
    tried: (fuse: string, peak: string, outcome: string) => `${fuse}; peak ${peak}${outcome === '' ? '' : `; ${outcome}`}`,
    none: 'No help in this run: it plays no part in it, the trial has a number of its own for it, or no value tried lowers the wear.',
    larger: 'Last a larger fuse',
    because: (text: string) => `advice on the fuse: ${text}`,
    set: (text: string) => `Set: ${text}.`,
    refused: (label: string, expected: string) => `${label} was not set; expected ${expected}`,
  },

  groups: {
    fuse: 'Main fuse',
    wire: 'Wire',
    driver: 'Driver',
    windings: 'Windings',
    regulators: 'Head regulators',
    battery: 'Battery',
  } as Readonly<Record<string, string>>,
  parts: 'What each part bears',
  columns: { what: 'what', value: 'value', stands: 'stands' },

  programme: {
    title: 'How long the battery lasts',
    label: 'programme, repeated until the battery is empty; a step a line',
    hint: 'A time in s, min or h, then “this trial”, “idle”, or a power such as “40 W”.',
    usual: '20 s this trial\n60 s idle\n30 s 40 W',
    wrong: 'The programme was not taken:',
    line: (line: number | undefined, value: string, expected: string, hint: string) =>
      `${line === undefined ? '' : `line ${line}: `}${value === '' ? '' : `“${value}” – `}expected ${expected}${hint === '' ? '' : `; ${hint}`}`,
  },

  axle: {
    title: 'Axle against rim, for the same swing',
    swing: 'swing held',
    speed: 'rolling speed',
    own: (text: string) => `this run’s greatest: ${text}`,
    about: (swing: string, speed: string, torque: string) =>
      `Holding ${swing} at ${speed} asks for ${torque} about the centre of the shell; the same motors and gears on either:`,
    share: (share: string) => `On the rim the motors give ${share} of the torque they would give on the axle, and turn faster by as much.`,
    columns: { what: 'what', axle: 'axle drive', rim: 'rim drive' },
    is: (kind: string) => `${kind} (this robot’s)`,
  },

  cells: {
    title: 'Other cells',
    about: 'As many in series as come nearest to the battery’s voltage. A press sets cells, voltage and resistance; usual figures, the cells’ own sheet goes before them.',
    columns: { cells: 'cells', voltage: 'half full', full: 'full', charged: 'charge ends', floor: 'floor under load', resistance: 'resistance', press: '' },
    take: 'take these',
    taken: (name: string) => `take these cells: ${name}`,
    now: 'in the robot',
    because: (name: string) => `cells: ${name}`,
  },

  cautions: {
    title: 'Cautions',
    about: 'Figures to choose by, no proof that anything complies. Local codes, the parts’ own sheets and a qualified person come before them.',
    see: (text: string, see: string) => `${text} See ${see}.`,
  },
};
