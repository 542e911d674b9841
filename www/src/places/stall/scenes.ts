// What the stall shows while nobody plays: short scenes on the stall's own board, from the same
// inputs that a hand has.

import { FRONT, LAYER, LOCKED, OFF, SIDE, STEADIED, type Board, type Level, type Plane } from '../../core/types';
import { stallWords as words } from '../../words/stall';
import { weigh } from './weight';

export type SceneName = keyof typeof words.scenes;

interface Act {
  /** Since the scene's beginning [s]. */
  readonly at: number;
  readonly act: (board: Board) => void;
}

export interface Scene {
  readonly name: SceneName;
  readonly plane: Plane;
  readonly level: Level;
  /** Layers drawn besides the usual ones. */
  readonly layers: number;
  /** Sets the robot up, at rest. */
  readonly set?: (board: Board) => void;
  readonly acts: readonly Act[];
}

/** The robot is seen at rest before anything happens [s]. */
const BEFORE = 1.2;
/** How long it drives before it stops [s]. */
const DRIVE = 3;
/** How long it rocks before the software is switched on [s]. */
const ROCKS = 4.5;
/** A head made heavier for the dip, in usual ones. */
const HEAVY = 2;

/** `share` of the robot's usual kick. */
const kick = (plane: Plane, share = 1): Act => ({
  at: BEFORE,
  act: (board) => {
    const { kick: usual, radius } = board.facts();
    board.kick(plane, share * usual[plane], radius);
  },
});

const stop: readonly Act[] = [
  { at: BEFORE, act: (board) => void board.speed(1) },
  { at: BEFORE + DRIVE, act: (board) => void board.speed(0) },
];

export const SCENES: readonly Scene[] = [
  { name: 'off', plane: SIDE, level: OFF, layers: 0, acts: [kick(SIDE)] },
  { name: 'on', plane: SIDE, level: STEADIED, layers: 0, acts: [kick(SIDE, -1)] },
  { name: 'locked', plane: SIDE, level: LOCKED, layers: 0, acts: [kick(SIDE)] },
  { name: 'both', plane: SIDE, level: STEADIED, layers: 0, set: (board) => { board.doubleOff(words.doubleOff); }, acts: [kick(SIDE)] },
  { name: 'switched', plane: SIDE, level: OFF, layers: 0, acts: [kick(SIDE, -1), { at: BEFORE + ROCKS, act: (board) => void board.level(STEADIED) }] },
  { name: 'stop', plane: SIDE, level: STEADIED, layers: 0, acts: stop },
  { name: 'heavyStop', plane: SIDE, level: STEADIED, layers: 0, set: (board) => { weigh(board, HEAVY); }, acts: stop },
  { name: 'bump', plane: SIDE, level: STEADIED, layers: 0, acts: [{ at: BEFORE, act: (board) => void board.bump(SIDE, board.facts().bump[SIDE]) }] },
  { name: 'forces', plane: SIDE, level: STEADIED, layers: LAYER.forces | LAYER.centres, acts: [kick(SIDE)] },
  { name: 'offFront', plane: FRONT, level: OFF, layers: 0, acts: [kick(FRONT)] },
  { name: 'onFront', plane: FRONT, level: STEADIED, layers: 0, acts: [kick(FRONT, -1)] },
];
