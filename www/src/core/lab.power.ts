// What the job `power` is asked and what it answers: what a run asks of the supply.

import type { RobotAsk, TrialAsk, ViewWord } from './lab.types';
import type { Problem } from './types';

/** A run of the board, made again, of which the end is looked at. */
export interface LiveAsk {
  readonly view: ViewWord;
  readonly seed: number;
  readonly ticks: number;
  readonly log: readonly (readonly (number | string)[])[];
  /** How much of its end is looked at [s]. */
  readonly seconds: number;
  /** What it is called. */
  readonly title: string;
}

export type PowerAsk = RobotAsk & {
  /** Swing at which axle and rim are compared; the run's greatest if missing. */
  readonly swing?: number | string;
  /** Rolling speed at which they are compared; the run's greatest if missing. */
  readonly speed_held?: number | string;
  /** Programme of drive and idle, a step a line. */
  readonly programme?: string;
} & (TrialAsk | { readonly live: LiveAsk });

/** How something stands to its limit; empty: it has none. */
export type Stand = 'within' | 'near' | 'past' | '';

export interface SupplyRow {
  readonly group: string;
  readonly key: string;
  readonly label: string;
  readonly text: string;
  readonly verdict: Stand;
}

export interface BandMark {
  /** [A] */
  readonly current: number;
  /** [s] */
  readonly time: number;
  readonly text: string;
}

/** The fuse's two opening-time curves, points of current [A] and time [s]. */
export interface FuseBand {
  readonly rating: number;
  readonly ratingText: string;
  /** In its surroundings [A]. */
  readonly effective: number;
  readonly quick: readonly (readonly [number, number])[];
  readonly slow: readonly (readonly [number, number])[];
  readonly mark?: BandMark;
  readonly rms: BandMark;
  readonly source: string;
}

export interface WattPart {
  readonly key: string;
  readonly label: string;
  readonly kind: 'source' | 'heat' | 'use' | 'motion';
  /** Over the run [W], and in words. */
  readonly mean: number;
  readonly text: string;
}

export interface Moments {
  /** Since the run began [s]. */
  readonly times: Float64Array;
  /** [A] */
  readonly current: Float64Array;
  /** [V] */
  readonly voltage: Float64Array;
  /** [W]; moment by moment, in the order of `parts`. */
  readonly watts: Float64Array;
  /** Place of the greatest power. */
  readonly peak: number;
}

export interface KnobChange {
  readonly key: string;
  readonly label: string;
  /** [SI] */
  readonly to: number;
  readonly fromText: string;
  readonly toText: string;
}

export interface FirstAdvice {
  readonly text: string;
  /** Empty where it plays no part in this run. */
  readonly changes: readonly KnobChange[];
  /** The fuse in the same run with it. */
  readonly fuse: string;
  readonly verdict: Stand;
  readonly peak: string;
  readonly outcome: string;
}

export interface Advice {
  readonly first: readonly FirstAdvice[];
  /** A larger fuse with what bears it, or why none is named. */
  readonly larger: string;
  /** Puts it in; missing where none is named. */
  readonly fuse?: KnobChange;
}

export interface AxleRow {
  readonly label: string;
  readonly axle: string;
  readonly rim: string;
  readonly axlePast: boolean;
  readonly rimPast: boolean;
}

export interface AxleOut {
  readonly swing: string;
  readonly speed: string;
  readonly ownSwing: string;
  readonly ownSpeed: string;
  readonly torque: string;
  readonly own: 'axle' | 'rim';
  readonly share: string;
  readonly rows: readonly AxleRow[];
}

export interface Preset {
  readonly name: string;
  readonly voltage: string;
  readonly full: string;
  readonly floor: string;
  readonly charged: string;
  readonly resistance: string;
  readonly charge: string;
  readonly now: boolean;
  readonly changes: readonly KnobChange[];
}

export interface PowerOut {
  readonly robot: string;
  readonly title: string;
  readonly view: ViewWord;
  /** Empty where the run is not judged. */
  readonly outcome: string;
  readonly outcomeClass: string;
  /** [s] */
  readonly seconds: number;
  readonly onePlane: string;
  readonly band: FuseBand;
  readonly rows: readonly SupplyRow[];
  readonly parts: readonly WattPart[];
  /** What the parts leave of the source, means [W]. */
  readonly imbalance: number;
  /** Symbol of the unit of power. */
  readonly watt: string;
  readonly moments: Moments;
  readonly axle: AxleOut;
  readonly advice: Advice;
  readonly presets: readonly Preset[];
  readonly programme: { readonly problems: readonly Problem[]; readonly rows: readonly SupplyRow[] };
  readonly cautions: readonly { readonly text: string; readonly see: string; readonly own: boolean }[];
}
