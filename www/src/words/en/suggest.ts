// The words of the place of suggested settings. Labels of knobs and rows, their numbers, scores and
// the sentences that explain come from the core.

import type { SuggestNews } from '../../core/lab.suggest';
import type { ViewWord } from '../../core/lab.types';

/** Shares of seconds are no help to anyone who waits. */
const seconds = (ms: number): string => (ms < 1000 ? 'less than 1 s' : `${Math.round(ms / 1000)} s`);

export const suggestWords = {
  about:
    'Looks for settings by thousands of simulated kicks, bumps, starts and stops, with a lighter and a heavier head, a full and a weak battery, more delay and other floors. Nothing is changed without your press.',

  loops: 'loops that may change',
  views: { side: 'side view', front: 'front view' },
  loop: {
    travel: 'travel',
    head: 'head levelling (both views)',
    lean: 'lean',
    carriage: 'carriage',
  },
  loopShort: { travel: 'travel', head: 'head', lean: 'lean', carriage: 'carriage' },
  noLoop: 'Choose at least one loop.',

  weights: 'what is wanted most',
  weightsHint: 'from 0, no matter, to 10, above all',
  weight: {
    settling: 'settle fast',
    dip: 'small dip',
    quiet: 'quiet',
    current: 'little current',
    margin: 'margin',
  },

  limits: 'limits not to pass',
  limitsHint: 'What is left as usual gives way to what the robot shows as it stands, where that is worse.',
  limit: {
    settling: 'settling time',
    dip: 'dip and sway',
    residual: 'residual wobble',
    grip: 'grip used',
    current: 'supply current',
    margin: 'modulus margin',
    delay: 'delay margin',
  },
  /** The core's usual limits in words; they are not sent, the core has its own. */
  usual: {
    settling: '2 s',
    dip: '4°',
    residual: '0.5°',
    grip: '80 %',
    current: '¾ of the fuse',
    margin: 'as it stands',
    delay: 'as it stands',
  },
  limitHint: {
    settling: 'at most, after a kick or bump',
    dip: 'at most, in starts and stops',
    residual: 'at most, peak to peak',
    grip: 'at most, of what the floor gives',
    current: 'at most',
    margin: 'at least, 0 to 1',
    delay: 'at least',
  },

  keep: 'knobs that stay as they are',
  keepHint: 'Everything but these settings stays anyway.',
  keeps: (count: number) => (count === 0 ? 'knobs that stay as they are' : `knobs that stay as they are: ${count}`),
  keepOf: (label: string, text: string) => `${label}, ${text}`,

  spend: 'how long to search',
  spends: { short: 'short', usual: 'usual', long: 'long', more: 'seed' },
  seed: 'seed of the search',
  seedHint: 'a whole number; the same seed finds the same again',

  double: 'show the best so far on the double',
  doubleHint: 'B takes each better setting at once, under the same kicks as the board’s robot. Both begin at rest.',
  doubleLabel: 'best so far',
  doubleFound: 'suggested',
  doubleOff: 'The motors are off: A and B move alike until the software is on.',
  kickBoth: 'kick both',
  showDouble: 'show on the double',
  doubleRefused: 'The double could not take these settings.',

  search: 'search',
  again: 'search again',
  cancel: 'stop, keep the best so far',
  running: 'Searching …',
  stages: {
    linear: 'Starting points: linear model, hand rules, guided start.',
    search: 'Search: settings are tried on the whole simulation.',
    unused: 'Judgement: seeds and conditions that the search never saw.',
  } satisfies Record<SuggestNews['stage'], string>,
  progress: (done: number, of: number, ms: number) => (done > 0 ? `${done} of ${of}, ${seconds(ms)}` : seconds(ms)),
  score: (score: number, kept: boolean) =>
    kept ? `score ${score.toFixed(2)}; 1 is the robot as it stands, less is better` : 'a limit is still passed',
  best: 'Best so far',
  noBest: 'Nothing better yet.',
  stopped: 'Stopped. This is the best so far; it was not judged under seeds and conditions that the search never saw.',
  stoppedNone: 'Stopped before anything better was found. Nothing was changed.',
  took: (evaluations: number, simulated: number, ms: number) =>
    `${evaluations} settings looked at, ${simulated} runs simulated, ${seconds(ms)}`,

  found: (robot: string) => `Suggested for ${robot}`,
  foundNone: (robot: string) => `Nothing better for ${robot}`,
  stoppedFor: (robot: string) => `Best so far for ${robot}`,
  become: 'become it',
  becomeTitle: 'the board’s robot takes these settings as one revision; undo brings back the others',
  became: 'Suggested settings are on the board; undo brings back the others.',
  isIt: 'The board’s robot has these settings.',
  why: 'suggested settings',
  name: (loops: readonly string[]) => `suggested: ${loops.join(', ')}`,
  refused: (label: string, expected: string) => `${label} was refused: expected ${expected}. Nothing was changed.`,
  save: 'save as file',
  saved: (name: string) => `Saved ${name}.`,
  stale: 'The robot has been changed since; this was found for the robot as it was.',
  other: (robot: string) => `Found for ${robot}; another robot is on the board.`,
  cautions:
    'A simulated verdict is no permission. On the real robot raise gains in steps, a quarter of the way at a time, with the robot held or tethered, a hand on the stop and nobody near; go back at the first buzz or growing sway. Local rules, and a qualified person’s word, come first.',

  changes: 'What would change',
  columns: { knob: 'knob', view: 'view', from: 'from', to: 'to', raw: 'firmware number' },
  view: { side: 'side', front: 'front' } satisfies Record<ViewWord, string>,
  noRaw: '–',
  rows: 'Before and after',
  rowsHint: 'the worst over seeds and conditions that the search never saw',
  rowColumns: { what: '', before: 'as it stands', after: 'suggested', limit: 'limit', change: 'change', kept: 'limit kept' },
  change: { better: '▲ better', worse: '▼ worse', same: '= same' },
  kept: 'kept',
  notKept: '✕ passed',
  compared: 'Compared',
  comparedHint: 'Shorter is better; the dashed line is the robot as it stood. Hatched: a limit is passed.',
  comparedColumns: { settings: 'settings', bar: 'score', text: 'in words' },
  bar: (score: number, kept: boolean) => (kept ? `score ${score.toFixed(2)}` : 'limit passed'),
  told: (better: boolean, first: string) => (better ? `Settings found. ${first}` : first),
};
