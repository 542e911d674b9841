// The loops that can be asked for, the view they belong to, and the settings of each. Labels,
// values and what a setting means come from the core's catalogue.

import type { SuggestAsk } from '../../core/lab.suggest';
import type { ViewWord } from '../../core/lab.types';

export type LoopWord = SuggestAsk['loops'][number];

export const LOOPS: readonly { readonly loop: LoopWord; readonly view: ViewWord; readonly knobs: readonly string[] }[] = [
  {
    loop: 'travel',
    view: 'side',
    knobs: ['correction', 'damping', 'speed', 'memory', 'feed_forward', 'smoothing', 'dead_band'].map((key) => `travel.${key}`),
  },
  { loop: 'head', view: 'side', knobs: ['compensation', 'lead', 'lead_time'].map((key) => `levelling.${key}`) },
  {
    loop: 'lean',
    view: 'front',
    knobs: ['correction', 'damping', 'memory', 'smoothing', 'dead_band'].map((key) => `lean.${key}`),
  },
  { loop: 'carriage', view: 'front', knobs: ['correction', 'damping'].map((key) => `carriage_loop.${key}`) },
];

/** The loop that a knob belongs to. */
export const loopOf = (key: string): LoopWord | undefined => LOOPS.find(({ knobs }) => knobs.includes(key))?.loop;
