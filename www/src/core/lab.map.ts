// Maps of two knobs: what the workers are asked, and what they answer, cell by cell.

import type { RobotAsk, TrialAsk } from './lab.types';
import type { Refused } from './types';

export interface AxisAsk {
  readonly knob: string;
  /** Ends [SI]; missing: those of `mapAxes`. Spaced as the knob's track is. */
  readonly from?: number;
  readonly to?: number;
  /** Cells along it, 2 … 256. */
  readonly count: number;
}

/** What may come out worse than planned; the map then shows the worst case. */
export interface SpreadsAsk {
  /** Head mass, further share, such as .2: −20 … +20 %. */
  readonly headMass?: number;
  /** Battery voltage, share down. */
  readonly voltage?: number;
  /** Rolling resistance and grip: share both ways. */
  readonly floor?: number;
  /** Further delay [ticks]. */
  readonly delay?: number;
  /** Further seeds of the sensors' noise. */
  readonly seeds?: number;
}

export interface MapAsk extends RobotAsk {
  readonly trial: TrialAsk;
  readonly x: AxisAsk;
  readonly y: AxisAsk;
  /** Key of a measure of the trial, or `outcome`. */
  readonly measure: string;
  /** Length of each run after the push [s]; missing: the trial's usual one. */
  readonly seconds?: number;
  readonly spreads?: SpreadsAsk;
  /** Each run as the board would make it: small steps, to its end. */
  readonly exact?: boolean;
  /** Each run to its end, also when all rests and next to nothing can come any more. */
  readonly toTheEnd?: boolean;
}

/** One axis as it is. */
export interface AxisOut {
  readonly key: string;
  readonly label: string;
  readonly symbol: string;
  /** Values of the cells [SI]. */
  readonly values: Float64Array;
  readonly unit: string;
  readonly scale: number;
  readonly logarithmic: boolean;
  /** The knob as it stands [SI]. */
  readonly now: number;
  /** First and last in words. */
  readonly texts: readonly [string, string];
}

/** What is known before the first cell is run. */
export interface MapPlan {
  readonly x: AxisOut;
  readonly y: AxisOut;
  readonly title: string;
  readonly measure: { readonly key: string; readonly label: string; readonly unit: string; readonly scale: number };
  /** Names of outcome classes by their numbers in `classes`; 0 is settled. */
  readonly classes: readonly { readonly key: string; readonly label: string }[];
  /** Runs in each cell. */
  readonly runs: number;
  /** Linear edge: lines of x, y pairs in cells (0 = middle of the first cell), as far as the model goes; empty for a robot without software. */
  readonly edge: readonly Float64Array[];
  /** A limit usually set on this measure [SI]. */
  readonly limit?: number;
}

export interface MapTile {
  /** Cells y·nx + x of this tile. */
  readonly cells: Uint32Array;
  /** Measure [SI]; NaN where the run gives none. */
  readonly values: Float64Array;
  readonly classes: Uint8Array;
}

export interface MapDone {
  /** Over all cells in order. */
  readonly digest: string;
  readonly runs: number;
  /** Simulated time that the runs stand for, and that was really run [s]. */
  readonly simulated: number;
  readonly run: number;
  /** Wall clock [ms]: first picture, whole. */
  readonly first: number;
  readonly whole: number;
  readonly workers: number;
}

export interface MapOptions {
  /** The plan, once, before the first tile. */
  readonly plan?: (plan: MapPlan) => void;
  /** Tiles as they come, coarse to fine: `spacing` is the distance of the cells run so far. */
  readonly tile?: (tile: MapTile, spacing: number) => void;
  readonly progress?: (done: number, of: number) => void;
  /** Gives the map up; what still comes is dropped. */
  readonly signal?: AbortSignal;
}

/** The shape of `runMap` in `map.ts`: rejects with GivenUp and with nothing else. */
export type RunMap = (ask: MapAsk, options: MapOptions) => Promise<MapDone | Refused>;
