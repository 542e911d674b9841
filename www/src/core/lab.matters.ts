// What matters most here, and the story of grams on the head.

import type { RobotAsk, TrialAsk } from './lab.types';

export interface MattersAsk extends RobotAsk {
  readonly trial: TrialAsk;
  readonly measure: string;
}
export interface MattersSide {
  /** The knob's value there [SI] and in words. */
  readonly value: number;
  readonly text: string;
  /** The measure there [SI]; missing where the run gives none. */
  readonly measure?: number;
  readonly measureText: string;
  readonly outcome: string;
  readonly settled: boolean;
}
export interface MattersRow {
  readonly key: string;
  readonly label: string;
  readonly now: string;
  readonly down?: MattersSide;
  readonly up?: MattersSide;
  /** Greatest change of the measure to either side [SI]; missing where the outcome changes. */
  readonly effect?: number;
  readonly effectText: string;
}
export interface MattersOut {
  readonly measure: { readonly key: string; readonly label: string; readonly unit: string; readonly scale: number };
  /** As it stands. */
  readonly value?: number;
  readonly text: string;
  readonly outcome: string;
  /** What matters most first. */
  readonly rows: readonly MattersRow[];
  /** How large a step each way is, in words. */
  readonly step: string;
}

export interface HeadStoryAsk extends RobotAsk {
  /** Greatest dip taken [SI or text]. */
  readonly dip?: number | string;
  /** Longest settling taken. */
  readonly settling?: number | string;
  readonly points?: number;
}
export interface HeadStoryOut {
  /** Added mass [kg], from 0 or below to where it fails or beyond. */
  readonly added: Float64Array;
  readonly scale: number;
  readonly unit: string;
  /** NaN where there is none. */
  readonly dip: Float64Array;
  readonly settling: Float64Array;
  /** Least modulus margin over loops and views. */
  readonly margin: Float64Array;
  /** 0 settled; index into `outcomes`. */
  readonly outcome: Uint8Array;
  readonly outcomes: readonly string[];
  readonly limits: { readonly dip: number; readonly settling: number; readonly dipText: string; readonly settlingText: string };
  /** Added mass at which each limit is first passed [kg]; missing: not within the picture. */
  readonly passes: { readonly dip?: number; readonly settling?: number; readonly margin?: number; readonly outcome?: number };
  readonly text: string;
}
