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
  /** Change of the measure against the robot as it stands [SI] and in words; missing where it cannot be told. */
  readonly change?: number;
  readonly changeText?: string;
  /** Whether that change could come from the sensors' noise alone. */
  readonly noise?: boolean;
  /** Whether the outcome, or whether there is a value at all, changes. */
  readonly turns?: boolean;
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
  /** Whether all it does is within the sensors' noise. */
  readonly noise?: boolean;
  /** Way to the better, if one is. */
  readonly better?: 'down' | 'up';
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
  /** Labels of knobs that were moved and do nothing to the measure. */
  readonly idle?: readonly string[];
  /** Seeds each was run under, and runs in all. */
  readonly seeds?: number;
  readonly runs?: number;
  /** What is to be known to read the numbers rightly; empty where nothing is. */
  readonly remark?: string;
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
  readonly limits: {
    readonly dip: number;
    readonly settling: number;
    readonly dipText: string;
    readonly settlingText: string;
    /** Least modulus margin usually asked for. */
    readonly margin?: number;
  };
  /** Added mass at which each limit is first passed [kg]; missing: not within the picture. */
  readonly passes: { readonly dip?: number; readonly settling?: number; readonly margin?: number; readonly outcome?: number };
  /** The same in words. */
  readonly passesText?: { readonly dip?: string; readonly settling?: string; readonly margin?: string; readonly outcome?: string };
  readonly text: string;
  /** The head as it stands [kg] and in words. */
  readonly mass?: number;
  readonly massText?: string;
  /** Added mass at which the margin first falls below the usual least [kg]; `passes.margin` is the linear edge, 0. */
  readonly usualMargin?: number;
  /** By point, which loop has the least margin. */
  readonly loops?: readonly string[];
  /** By point, whether stop or kick is not survived. */
  readonly fails?: readonly boolean[];
  /** By point, in words: added mass, dip, settling, margin, outcome. */
  readonly words?: readonly (readonly [added: string, dip: string, settling: string, margin: string, outcome: string])[];
  /** Units shown; a value times `scale` is in it. */
  readonly shown?: Readonly<Record<'dip' | 'settling', { readonly unit: string; readonly scale: number }>>;
  readonly runs?: number;
}
