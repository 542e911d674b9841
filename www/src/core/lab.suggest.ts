// Suggested settings: what a worker is asked, what it tells while it searches, what it answers.

import type { RobotAsk, ViewWord } from './lab.types';

export interface LimitAsk {
  readonly key: 'settling' | 'dip' | 'residual' | 'grip' | 'current' | 'margin' | 'delay';
  /** [SI], or a text with its unit. */
  readonly value: number | string;
}
export interface SuggestAsk extends RobotAsk {
  /** Loops that may be changed. */
  readonly loops: readonly ('travel' | 'lean' | 'head' | 'carriage')[];
  /** Keys of knobs that stay as they are although their loop may be changed. */
  readonly keep?: readonly string[];
  /** Limits not to pass; missing ones have their usual values. */
  readonly limits?: readonly LimitAsk[];
  /** What is wanted most: relative weights, 0 … 10. */
  readonly weights?: Readonly<Partial<Record<'settling' | 'dip' | 'quiet' | 'current' | 'margin', number>>>;
  /** Evaluations to spend. */
  readonly budget?: number;
  readonly seed?: number;
}

export interface KnobChange {
  readonly key: string;
  readonly label: string;
  readonly view: ViewWord;
  readonly from: number;
  readonly to: number;
  readonly fromText: string;
  readonly toText: string;
  /** Raw firmware number, empty where there is none. */
  readonly raw: string;
}
export interface Scored {
  /** Smaller is better; settings that pass no limit come first. */
  readonly score: number;
  readonly limitsKept: boolean;
}
/** What it tells while it searches. */
export interface SuggestNews {
  readonly stage: 'linear' | 'search' | 'unused';
  readonly done: number;
  readonly of: number;
  readonly best: Scored;
  readonly knobs: readonly KnobChange[];
}
export interface SuggestRow {
  readonly key: string;
  readonly label: string;
  readonly before: string;
  readonly after: string;
  readonly limit: string;
  /** better, worse or same; and whether the limit is kept afterwards. */
  readonly change: 'better' | 'worse' | 'same';
  readonly kept: boolean;
}
export interface SuggestOut {
  readonly robot: string;
  /** The robot file with the suggested settings. */
  readonly file: string;
  readonly changes: readonly KnobChange[];
  readonly rows: readonly SuggestRow[];
  /** Scores over seeds and spreads that the search never saw: as it stood, by linear optimum, by each hand rule, suggested. */
  readonly compared: readonly { readonly key: string; readonly label: string; readonly score: Scored; readonly text: string }[];
  /** Sentences: what changed, what got better, what it costs. */
  readonly explained: readonly string[];
  /** False: nothing found that is better; nothing should be applied. */
  readonly better: boolean;
  readonly evaluations: number;
  readonly simulated: number;
}
