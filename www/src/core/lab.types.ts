// What the page asks of a worker, and what it answers. The functions `lab_…` of the wasm package
// `lab` give exactly this; `lab.worker.ts` is where the two meet.

import type { BothSidesAsk, BothSidesOut, EdgeAsk, EdgeOut, HandAsk, HandOut, HuntAsk, HuntOut } from './lab.edge';
import type { HeadStoryAsk, HeadStoryOut, MattersAsk, MattersOut } from './lab.matters';
import type { PowerAsk, PowerOut } from './lab.power';
import type { CardAsk, CardOut, GainsAsk, GainsOut, LidAsk, LidOut, PictureAsk, PictureOut } from './lab.sheets';
import type { SuggestAsk, SuggestOut } from './lab.suggest';
import type { Problem, Refused } from './types';

export type ViewWord = 'side' | 'front';
export type SoftwareWord = 'off' | 'locked' | 'on';

/** Words for the planes and levels of the board, by their numbers. */
export const VIEW_WORDS: readonly ViewWord[] = ['side', 'front'];
export const SOFTWARE_WORDS: readonly SoftwareWord[] = ['off', 'locked', 'on'];

/** The robot that a job is about. */
export interface RobotAsk {
  /** Robot file. */
  readonly robot: string;
  /** Robot file as it was opened: the usual push is that of this one. */
  readonly opened?: string;
  /** Whether lengths and masses are said and read in inches and pounds. */
  readonly inches?: boolean;
}

/** A trial with its numbers. A number is in SI; a text carries its unit, or is in the unit shown. */
export interface TrialAsk {
  readonly trial: string;
  readonly view: ViewWord;
  readonly software: SoftwareWord;
  /** Only those that differ from the usual ones. */
  readonly numbers?: Readonly<Record<string, number | string>>;
  readonly seed?: number;
}

export interface NumberRow {
  readonly key: string;
  readonly label: string;
  /** [SI] */
  readonly value: number;
  readonly text: string;
  /** Symbol of the unit shown. */
  readonly unit: string;
  /** In words; empty where any number is taken. */
  readonly range: string;
}

export interface Named {
  readonly key: string;
  readonly label: string;
  /** Symbol of the unit shown. */
  readonly unit: string;
}

export interface TrialView {
  readonly view: ViewWord;
  readonly numbers: readonly NumberRow[];
  readonly measures: readonly Named[];
}

export interface TrialRow {
  readonly key: string;
  readonly about: string;
  /** Whether something fails in it, so that the way to standing is a run-out. */
  readonly fault: boolean;
  readonly views: readonly TrialView[];
}

export interface QuestionView {
  readonly view: ViewWord;
  readonly trial: string;
  /** Where the robot now stands, in words. */
  readonly now: string;
  /** Greatest dip usually taken, in words; empty: it only has to survive. */
  readonly dip: string;
  /** Longest settling time usually taken, in words; empty: any. */
  readonly settling: string;
  /** Where ballast would lie, in words; empty for other questions. */
  readonly place: string;
  readonly numbers: readonly NumberRow[];
}

export interface QuestionRow {
  readonly key: string;
  readonly label: string;
  readonly about: string;
  /** Said with every answer; empty for most. */
  readonly note: string;
  /** Whether the least value is sought, not the greatest. */
  readonly least: boolean;
  readonly views: readonly QuestionView[];
}

/** What can be tried and asked, with its numbers for one robot. */
export interface LabCatalogue {
  readonly modelVersion: number;
  readonly robot: string;
  readonly trials: readonly TrialRow[];
  readonly levels: readonly { readonly key: SoftwareWord; readonly word: string }[];
  readonly outcomes: readonly string[];
  readonly questions: readonly QuestionRow[];
  readonly columns: readonly Named[];
  /** The limits file to begin with. */
  readonly usualLimits: string;
}

export interface Measured {
  readonly key: string;
  readonly label: string;
  /** [SI]; missing where the run gives none. */
  readonly value?: number;
  /** In the units asked for, or why there is none. */
  readonly text: string;
  /** Symbol of the SI unit. */
  readonly unit: string;
}

/** A column against the time since what set the run going [s]; values in SI. */
export interface StripData {
  readonly label: string;
  /** Symbol of the SI unit. */
  readonly unit: string;
  /** Symbol of the unit shown; a value times `scale` is in it. */
  readonly shown: string;
  readonly scale: number;
  readonly times: Float64Array;
  readonly values: Float64Array;
}

export type Strips = Readonly<Record<string, StripData>>;

export interface RunOut {
  readonly robot: string;
  readonly title: string;
  readonly trial: string;
  readonly view: ViewWord;
  readonly software: SoftwareWord;
  readonly seed: number;
  readonly numbers: readonly NumberRow[];
  /** 16 hexadecimal digits. */
  readonly digest: string;
  /** The digest so far at each whole second of the record. */
  readonly marks: readonly string[];
  readonly modelVersion: number;
  readonly outcome: string;
  readonly outcomeClass: string;
  readonly measures: readonly Measured[];
  /** Length of what is tested [s]. */
  readonly seconds: number;
  /** Time in the record at which it begins [s]. */
  readonly begins: number;
  readonly tickUs: number;
  /** [time in µs, word, number…] */
  readonly log: readonly (readonly (number | string)[])[];
  readonly strips: Strips;
  /** As the command line writes them. */
  readonly markdown: string;
  readonly csv: string;
}

export interface VerdictRow {
  /** Key of the measure; empty for the outcome. */
  readonly measure: string;
  readonly label: string;
  readonly limit: string;
  readonly found: string;
  readonly holds: boolean;
}

export interface CheckedTrial {
  readonly title: string;
  readonly trial: string;
  readonly view: ViewWord;
  readonly software: SoftwareWord;
  readonly outcome: string;
  readonly outcomeClass: string;
  readonly digest: string;
  readonly holds: boolean;
  readonly rows: readonly VerdictRow[];
}

export interface SetOut {
  readonly name: string;
  readonly robot: string;
  readonly holds: boolean;
  readonly summary: string;
  readonly trials: readonly CheckedTrial[];
  readonly markdown: string;
  readonly csv: string;
}

export interface LimitedTrialOut {
  readonly title: string;
  readonly trial: string;
  readonly view: ViewWord;
  readonly software: SoftwareWord;
  readonly numbers: readonly { readonly key: string; readonly label: string; readonly text: string }[];
  readonly outcomes: readonly string[];
  readonly limits: readonly {
    readonly measure: string;
    readonly label: string;
    readonly unit: string;
    readonly min?: string;
    readonly max?: string;
  }[];
}

export interface LimitsOut {
  readonly name: string;
  /** The same set written anew. */
  readonly file: string;
  readonly trials: readonly LimitedTrialOut[];
}

export interface AttemptOut {
  readonly value: number;
  readonly text: string;
  readonly words: string;
  readonly digest?: string;
}

export interface BudgetOut {
  readonly question: string;
  readonly label: string;
  readonly view: ViewWord;
  /** [SI]; missing where nothing in the range holds. */
  readonly value?: number;
  readonly unit: string;
  /** The answer in words. */
  readonly text: string;
  readonly holds?: AttemptOut;
  readonly breaks?: AttemptOut;
  /** Width of the bracket as a share of the answer. */
  readonly tolerance?: number;
  readonly holdsEasier: boolean;
  readonly breaksHarder: boolean;
  readonly sharp: boolean;
  readonly runs: number;
  /** Everything in words, as the command line says it. */
  readonly rows: readonly (readonly [string, string])[];
  readonly markdown: string;
}

export interface ComparedRow {
  readonly key: string;
  readonly was: string;
  /** By how much it changed; empty where that cannot be said. */
  readonly change: string;
  readonly sign: -1 | 0 | 1;
}

export interface Compared {
  readonly rows: readonly ComparedRow[];
}

export interface Replayed {
  readonly equal: boolean;
  readonly digest: string;
  /** The digest so far at each whole second. */
  readonly marks: readonly string[];
  /** Last whole second up to which it is equal; missing where all is equal or no marks were given. */
  readonly equalUpTo?: number;
  readonly modelVersion: number;
  readonly differences: readonly {
    readonly key: string;
    readonly label: string;
    readonly was: string;
    readonly is: string;
  }[];
}

/** The kicks of a try by hand. */
export interface TryAsk extends RobotAsk {
  /** Their seed. */
  readonly kicks: number;
  /** Length of the try [s]. */
  readonly seconds: number;
}

export interface KicksAsk extends TryAsk {
  readonly view: ViewWord;
}

export interface KicksOut {
  /** Time since the beginning of the try [s], impulse [N·s], height [m] of each, one after the other. */
  readonly plan: readonly number[];
  /** Middle of the band [rad]. */
  readonly centre: number;
  /** Half width of the band [rad]. */
  readonly band: number;
  readonly bandText: string;
}

/** A try as it was recorded. */
export interface ContestAsk extends TryAsk {
  readonly digest: string;
  readonly live: {
    readonly view: ViewWord;
    readonly seed: number;
    readonly ticks: number;
    readonly log: readonly (readonly (number | string)[])[];
    /** Time at which the try begins [µs]. */
    readonly from: number;
  };
  /** The person's delay [ticks], to be given to the software. */
  readonly delay?: number;
}

/** What came of it for one who had the drive. */
export interface ContestColumn {
  readonly outcome: string;
  readonly outcomeClass: string;
  readonly measures: readonly Measured[];
  /** How long it lasted [s]. */
  readonly seconds: number;
}

export interface ContestOut {
  readonly person: ContestColumn;
  /** The lever left in the middle. */
  readonly nobody: ContestColumn;
  readonly software: ContestColumn;
  /** The software with the person's delay; missing where none was given. */
  readonly late?: ContestColumn;
  /** Whether the run came out as it was recorded. */
  readonly equal: boolean;
  readonly digest: string;
  readonly modelVersion: number;
  readonly tickUs: number;
  /** By column; times from the beginning of the try [s]. */
  readonly strips: Readonly<Record<string, StripData>>;
  readonly softwareStrips: Readonly<Record<string, StripData>>;
}

export type MarkWord = 'measured' | 'sheet' | 'guessed';

export interface StartRow {
  readonly key: string;
  /** Which of the ten numbers it belongs to. */
  readonly number: number;
  readonly label: string;
  /** Symbol of the unit shown. */
  readonly unit: string;
  readonly kind: 'number' | 'whole' | 'choice';
  readonly words: readonly string[];
  readonly help: string;
  readonly expected: string;
  /** Taken as long as nothing is typed. */
  readonly usual: string;
  readonly text: string;
  readonly mark: MarkWord;
}

export interface StartOut {
  readonly rows: readonly StartRow[];
  /** Everything that is wrong, each under its row's key. */
  readonly wrong: readonly Problem[];
  readonly warnings: readonly Problem[];
  /** Robot file; missing while something is wrong. */
  readonly robot?: string;
  readonly name: string;
  readonly summary: readonly { readonly key: string; readonly text: string }[];
  /** How many of its knobs are measured, from a sheet, guessed. */
  readonly marks: readonly [number, number, number];
}

export interface SpreadRange {
  readonly key: string;
  readonly label: string;
  /** Least, lower quartile, median, upper quartile, greatest, in the unit shown. */
  readonly five?: readonly [number, number, number, number, number];
  readonly texts: readonly string[];
  readonly nominal?: number;
  readonly nominalText: string;
  readonly limit?: number;
  /** Empty where there is none. */
  readonly limitText: string;
  /** Variants without a value. */
  readonly none: number;
}

export interface SpreadTrial {
  readonly title: string;
  readonly limit: string;
  /** Variants that settle and keep the limit, of how many. */
  readonly holds: number;
  readonly of: number;
  readonly impossible: number;
  readonly outcomes: readonly { readonly class: string; readonly count: number }[];
  readonly measures: readonly SpreadRange[];
}

export interface SpreadNext {
  readonly key: string;
  readonly label: string;
  readonly symbol: string;
  readonly mark: MarkWord;
  readonly value: string;
  readonly share: string;
  readonly how: string;
  readonly help: string;
  readonly moves: readonly {
    readonly title: string;
    readonly label: string;
    readonly low: string;
    readonly high: string;
    readonly turns: boolean;
    readonly noise: boolean;
  }[];
}

export interface SpreadOut {
  /** Knobs varied: measured, from a sheet, guessed. */
  readonly varied: readonly [number, number, number];
  readonly spreads: readonly [string, string, string];
  readonly trials: readonly SpreadTrial[];
  readonly next: readonly SpreadNext[];
  readonly runs: number;
}

export interface LedgerEffect {
  readonly dip: string;
  readonly side: string;
  readonly front: string;
  readonly margin: string;
}

export interface LedgerOut {
  readonly dip: string;
  readonly now: LedgerEffect;
  readonly parts: readonly (LedgerEffect & { readonly index: number; readonly refused: string })[];
  readonly searches: readonly {
    readonly title: string;
    readonly limit: string;
    readonly holds: string;
    readonly breaks: string;
    readonly sharp: boolean;
    readonly runs: number;
  }[];
  /** Missing where no head holds. */
  readonly left?: string;
  readonly sign: -1 | 0 | 1;
  readonly runs: number;
}

/** Every job: what it is asked and what it answers. */
export interface Jobs {
  gains: { ask: GainsAsk; answer: GainsOut };
  lid: { ask: LidAsk; answer: LidOut };
  card: { ask: CardAsk; answer: CardOut };
  picture: { ask: PictureAsk; answer: PictureOut };
  power: { ask: PowerAsk; answer: PowerOut };
  edge: { ask: EdgeAsk; answer: EdgeOut };
  hunt: { ask: HuntAsk; answer: HuntOut };
  both_sides: { ask: BothSidesAsk; answer: BothSidesOut };
  hand: { ask: HandAsk; answer: HandOut };
  matters: { ask: MattersAsk; answer: MattersOut };
  head_story: { ask: HeadStoryAsk; answer: HeadStoryOut };
  /** Tells `SuggestNews` as the third argument of progress. */
  suggest: { ask: SuggestAsk; answer: SuggestOut };
  start: {
    ask: {
      readonly name?: string;
      readonly numbers?: Readonly<Record<string, string>>;
      readonly marks?: Readonly<Record<string, string>>;
      readonly inches?: boolean;
    };
    answer: StartOut;
  };
  spread: { ask: RobotAsk & { readonly variants?: number }; answer: SpreadOut };
  ledger: { ask: RobotAsk & { readonly dip?: number | string }; answer: LedgerOut };
  trials: { ask: RobotAsk; answer: LabCatalogue };
  run: { ask: RobotAsk & TrialAsk & { readonly columns?: readonly string[] }; answer: RunOut };
  set: { ask: RobotAsk & { readonly limits: string }; answer: SetOut };
  limits: { ask: { readonly limits: string; readonly inches?: boolean }; answer: LimitsOut };
  budget: {
    ask: RobotAsk & {
      readonly question: string;
      readonly view: ViewWord;
      readonly dip?: number | string;
      readonly settling?: number | string;
      readonly place?: number | string;
      readonly numbers?: Readonly<Record<string, number | string>>;
      readonly seed?: number;
    };
    answer: BudgetOut;
  };
  compare: {
    ask: {
      readonly trial: string;
      readonly view: ViewWord;
      readonly measures: readonly Measured[];
      readonly against: readonly Measured[];
      readonly inches?: boolean;
    };
    answer: Compared;
  };
  replay: {
    ask: RobotAsk & {
      readonly digest: string;
      /** As they were kept; records of before there were any have none. */
      readonly marks?: readonly string[];
      readonly setting?: TrialAsk;
      readonly live?: {
        readonly view: ViewWord;
        readonly seed: number;
        readonly ticks: number;
        readonly log: readonly (readonly (number | string)[])[];
      };
      /** As they were kept, to tell which differ. */
      readonly measures?: readonly Measured[];
    };
    answer: Replayed;
  };
  kicks: { ask: KicksAsk; answer: KicksOut };
  contest: { ask: ContestAsk; answer: ContestOut };
}

export type JobName = keyof Jobs;
export type AskOf<J extends JobName> = Jobs[J]['ask'];
export type AnswerOf<J extends JobName> = Jobs[J]['answer'];

/** To the worker: first the compiled core, then one job after another. */
export type ToWorker =
  | { readonly kind: 'core'; readonly module: WebAssembly.Module }
  | { readonly kind: 'job'; readonly generation: number; readonly job: JobName; readonly ask: object };

/** From the worker. */
export type FromWorker =
  | {
      readonly kind: 'progress';
      readonly generation: number;
      readonly done: number;
      readonly of: number;
      /** What is known so far, by jobs that tell it. */
      readonly news?: unknown;
    }
  | { readonly kind: 'answer'; readonly generation: number; readonly answer: object | Refused }
  | { readonly kind: 'failed'; readonly generation: number; readonly reason: string };
