// Where a result is handed to whoever keeps runs, and where a kept run is handed back to be
// compared with. The places know each other by these two only.

import type { Measured, StripData, TrialAsk } from '../core/lab.types';

/** The inputs of a live run, as the core logged them: [time in µs, word, number…]. */
export type LogEntry = readonly (number | string)[];

/** What makes a run again: a trial with its numbers, or a live run's log. */
export type RunSource =
  | { readonly kind: 'trial'; readonly setting: TrialAsk }
  | {
      readonly kind: 'live';
      readonly view: 'side' | 'front';
      readonly seed: number;
      readonly ticks: number;
      readonly log: readonly LogEntry[];
    };

/** A strip of a run, and that of the double that ran beside it. */
export interface RunStrip extends StripData {
  readonly double?: { readonly times: ArrayLike<number>; readonly values: ArrayLike<number> };
}

/** The double that ran beside a live run, as far as it is told of. */
export interface RunDouble {
  readonly label: string;
  readonly outcome: string;
  readonly measures: readonly Measured[];
}

/** A run with all that is needed to make it again and to tell what it showed. */
export interface RunRecord {
  /** Robot file: the robot that ran. */
  readonly robot: string;
  readonly robotName: string;
  /** Robot file as it was opened, whose usual kick the trial takes. */
  readonly opened: string;
  readonly source: RunSource;
  /** What was run, in words: "kick, side view, steadied". */
  readonly title: string;
  readonly modelVersion: number;
  /** 16 hexadecimal digits. */
  readonly digest: string;
  /** The digest so far at each whole second; runs kept before there were any have none. */
  readonly marks?: readonly string[];
  readonly outcome: string;
  readonly outcomeClass: string;
  readonly measures: readonly Measured[];
  readonly seconds: number;
  readonly tickUs: number;
  readonly strips: Readonly<Record<string, RunStrip>>;
  readonly double?: RunDouble;
}

type Keeper = (record: RunRecord) => void | Promise<void>;
type Comparer = (record: RunRecord) => void;

let keeper: Keeper | undefined;
let comparer: Comparer | undefined;
/** What was asked to be compared with before anybody was there to compare. */
let waiting: RunRecord | undefined;

/** Whoever keeps runs; the last one set counts. */
export function onKeep(keep: Keeper): void {
  keeper = keep;
}

/** Whether anybody keeps runs. */
export const canKeep = (): boolean => keeper !== undefined;

/** Hands a run to be kept; rejects with what went wrong. */
export async function keepRun(record: RunRecord): Promise<void> {
  if (keeper === undefined) throw new Error('nobody keeps runs');
  await keeper(record);
}

/** The place of trials compares its results with what is handed to `compareWith`. */
export function onCompare(compare: Comparer): void {
  comparer = compare;
  if (waiting !== undefined) compare(waiting);
  waiting = undefined;
}

/** Results of the same trial are compared with this run from now on. */
export function compareWith(record: RunRecord): void {
  if (comparer === undefined) waiting = record;
  else comparer(record);
}
