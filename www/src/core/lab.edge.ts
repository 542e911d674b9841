// How far to the edge: what a worker is asked about one plane of a robot's loop laid open, and what
// it answers. SI inside; `text` is for people, in the units asked for.

import type { RobotAsk, ViewWord } from './lab.types';

/** What is done to joints and motors: software on, locked, motors off with open or with shorted terminals. */
export type RestWord = 'on' | 'locked' | 'off' | 'braked';
/** Where a loop is cut open. */
export type BreakWord = 'duty' | 'carriage' | 'head' | 'band';

export interface EdgeAsk extends RobotAsk {
  readonly view: ViewWord;
  /** Ball speed [m/s]; 0 stands still. */
  readonly speed: number;
  readonly rest: RestWord;
  /** Knobs whose spans are wanted; missing: all that have one in this view; empty: none. */
  readonly spans?: readonly string[];
  /** Spans as last answered: their edges are followed, not sought from nothing. */
  readonly before?: readonly KnobSpans[];
  /** Poles with their mode shapes. */
  readonly poles?: boolean;
  /** Gain and phase of the loop cut open here, and its margins. */
  readonly curve?: BreakWord;
  /** Root track of this knob. */
  readonly track?: string;
  /** Predicted oscillations. */
  readonly oscillations?: boolean;
}

/** A piece of a knob's track. */
export interface SpanPiece {
  readonly from: number;
  readonly to: number;
  readonly state: 'steady' | 'unsteady' | 'held' | 'none';
}

/** Where two pieces meet. */
export interface SpanEdge {
  readonly value: number;
  /** In the knob's unit. */
  readonly text: string;
  /** Frequency at which it swings there [Hz]; 0: it creeps away. */
  readonly frequency: number;
  /** Serves to follow it. */
  readonly slope?: number;
  /** A little beyond it, at the latest full scan: half of peak to peak of what the run is judged by [rad], and frequency [Hz]. */
  readonly beyond?: { readonly amplitude: number; readonly frequency: number };
}

export interface KnobSpans {
  readonly key: string;
  readonly label: string;
  /** The value as it stands [SI]. */
  readonly value: number;
  readonly pieces: readonly SpanPiece[];
  readonly edges: readonly SpanEdge[];
  /** One sentence: how far to the nearest edge, and what happens beyond it. */
  readonly text: string;
  /** Whether the whole track was looked at, its edges were followed from where they were, nothing that bears on it has changed, or its edges were lost and a full scan must mend it. */
  readonly known?: 'scanned' | 'followed' | 'same' | 'lost';
  /** Told from all that the track depends on; serves to tell that nothing has changed. */
  readonly stamp?: number;
}

/** A motion of the loop. */
export interface PoleRow {
  /** Place in the plane of the sampled loop. */
  readonly re: number;
  readonly im: number;
  /** [1/s]; steady below 0. */
  readonly growth: number;
  /** [Hz]; 0 for one that does not swing. */
  readonly frequency: number;
  readonly damping: number;
  /** Time constant [s]; missing just on the edge. */
  readonly time?: number;
  /** Complex amplitudes of shell rotation, carriage swing, head tilt [rad]: re, im three times, the largest of size 1. */
  readonly shape?: readonly [number, number, number, number, number, number];
  /** Such as "swings at 0.51 Hz, damping ratio 0.2, e-fold in 1.4 s". */
  readonly text: string;
  /** Which body moves most in it, in a word or two. */
  readonly name: string;
}

export interface MarginRow {
  readonly key: 'gain_up' | 'gain_down' | 'phase' | 'delay' | 'modulus';
  readonly label: string;
  /** [SI]; missing where without end. */
  readonly value?: number;
  readonly text: string;
  /** [Hz] */
  readonly frequency?: number;
}

export interface CurveOut {
  readonly at: BreakWord;
  /** [Hz] */
  readonly frequencies: Float64Array;
  /** [dB] */
  readonly gain: Float64Array;
  /** [degrees], continuous. */
  readonly phase: Float64Array;
  /** L on the complex plane, re and im in turn. */
  readonly locus: Float64Array;
  readonly margins: readonly MarginRow[];
  readonly stable: boolean;
}

export interface TrackOut {
  readonly key: string;
  readonly label: string;
  /** Values of the knob [SI], ascending. */
  readonly values: Float64Array;
  readonly texts: readonly [string, string];
  /** Each branch: re and im in turn, one pair for each value; NaN where it has none. */
  readonly branches: readonly Float64Array[];
  /** Index of the value nearest the knob as it stands. */
  readonly now: number;
}

export interface OscillationRow {
  readonly cause: 'band' | 'friction' | 'limit';
  /** Of what the run is judged by [rad]. */
  readonly amplitude: number;
  /** [Hz] */
  readonly frequency: number;
  /** Whether motions come to it; otherwise it is a bound. */
  readonly attracts?: boolean;
  /** Why it is not to be trusted, in words; empty if it may be. */
  readonly doubts: readonly string[];
  readonly text: string;
}

export interface EdgeOut {
  /** One sentence: steady or not, and the motion that decides. */
  readonly text: string;
  readonly stable: boolean;
  /** Whether only dry friction holds it, up to motions of the size told in `text`. */
  readonly heldByFriction: boolean;
  readonly robot: string;
  readonly view: ViewWord;
  readonly steady: readonly { readonly label: string; readonly text: string }[];
  readonly spans: readonly KnobSpans[];
  readonly poles: readonly PoleRow[];
  readonly curve?: CurveOut;
  readonly track?: TrackOut;
  readonly oscillations: readonly OscillationRow[];
  /** Breaks that this view has. */
  readonly breaks: readonly BreakWord[];
  /** Ticks [s]. */
  readonly step: number;
}

/** What the whole simulation does, friction, limits and all, after a small kick: beside the prediction. */
export interface HuntAsk extends RobotAsk {
  readonly view: ViewWord;
  /** A knob put to a value first [SI]; missing: as it stands. */
  readonly knob?: { readonly key: string; readonly value: number };
  /** Whether dry friction is taken out, as the linear model has it. */
  readonly smooth?: boolean;
}

export interface HuntOut {
  /** Half of peak to peak of what the run is judged by over the last half [rad], and frequency [Hz]; missing: it comes to rest or ends. */
  readonly amplitude?: number;
  readonly frequency?: number;
  readonly outcome: string;
  readonly text: string;
}

/** A knob's edge looked at by simulation: a little on either side. */
export interface BothSidesAsk extends RobotAsk {
  readonly view: ViewWord;
  readonly key: string;
  /** The edge [SI]. */
  readonly value: number;
  /** Whether dry friction is taken out, as the linear model has it. */
  readonly smooth?: boolean;
}
export interface BothSidesOut {
  readonly below: { readonly value: number; readonly text: string; readonly steady: boolean };
  readonly above: { readonly value: number; readonly text: string; readonly steady: boolean };
  readonly agrees: boolean;
  readonly text: string;
}

/** The classic hand methods on this robot. */
export interface HandAsk extends RobotAsk {
  readonly view: ViewWord;
}
export interface HandRow {
  readonly rule: string;
  readonly source: string;
  /** Settings it would give: knob keys and values [SI], with texts. */
  readonly knobs: readonly { readonly key: string; readonly label: string; readonly value: number; readonly text: string }[];
  /** Whether the linear model is steady with them, and what the usual kick does. */
  readonly stable: boolean;
  readonly outcome: string;
  /** Settling time in words. */
  readonly settling: string;
}
export interface HandOut {
  /** Ku and Pu by raising the gain on the model and by a relay on the whole simulation; missing with the reason in `text`. */
  readonly raised?: { readonly gain: number; readonly period: number };
  readonly relay?: { readonly gain: number; readonly period: number };
  readonly text: string;
  readonly rows: readonly HandRow[];
}
