// The weight of the head, changed from the robot's usual one.

import { clamp } from '../../dom';
import type { Board } from '../../core/types';

const KNOB = 'head.mass';

/** Weights that the press goes through, in usual ones. */
export const WEIGHTS = [1, 1.5, 2] as const;

export const headMass = (board: Board): string => board.values().find(({ key }) => key === KNOB)?.text ?? '';

/** Sets the head to so many of the weight that it has now, within what the knob can take. */
export function weigh(board: Board, times: number): void {
  const now = board.values().find(({ key }) => key === KNOB);
  const range = board.catalogue().find(({ key }) => key === KNOB);
  if (now === undefined || range === undefined) return;
  board.setKnob(KNOB, clamp(now.value * times, range.min, range.max));
}
