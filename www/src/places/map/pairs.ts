// Which knobs are mapped first, and the pictures that are offered as sentences.

import type { ViewWord } from '../../core/lab.types';

export interface Pair {
  /** Upwards. */
  readonly y: string;
  /** To the right. */
  readonly x: string;
  /** What this picture is best shown by, if it is not the usual. */
  readonly trial?: string;
  readonly measure?: string;
}

/** The loop that steadies the robot in each view. */
const LOOP: Readonly<Record<ViewWord, string>> = { side: 'travel', front: 'lean' };

export type Preset = 'calm' | 'delay' | 'correction' | 'head';
export const PRESETS: readonly Preset[] = ['calm', 'delay', 'correction', 'head'];

/** A picture's knobs in a view; none where it says nothing. */
export function pairOf(preset: Preset, view: ViewWord): Pair | undefined {
  const loop = LOOP[view];
  switch (preset) {
    case 'calm':
      return { y: `${loop}.damping`, x: `${loop}.dead_band` };
    case 'delay':
      return { y: `${loop}.damping`, x: 'timing.delay_ticks' };
    case 'correction':
      return { y: `${loop}.correction`, x: `${loop}.damping` };
    case 'head':
      // Only from the side does the robot stop.
      return view === 'side' ? { y: 'head.mass', x: 'travel.deceleration', trial: 'stop', measure: 'head_dip' } : undefined;
  }
}

/** The same knob of the other view's loop, where it has one. */
export function inView(key: string, view: ViewWord, has: (key: string) => boolean): string {
  const [group = '', name = ''] = key.split('.');
  const other = `${LOOP[view]}.${name}`;
  return Object.values(LOOP).includes(group) && has(other) ? other : key;
}
