// The lesson file: what a lesson sets, and its steps. FORMAT.md beside this file says it for those
// who write lessons; read.ts checks a file against it.

export const FORMAT = 'kickstill-lesson';
export const VERSION = 1;

export const VIEWS = ['side', 'front'] as const;
export const LEVELS = ['off', 'locked', 'on'] as const;
export const RUNS = ['any', 'kick', 'bump', 'start', 'stop'] as const;
export const PRESSES = ['kick', 'bump', 'off', 'locked', 'on', 'drive', 'again'] as const;
/** Units that a number can be asked for and said in; formulas are in SI. */
export const UNITS = ['', 's', 'kg', 'm', 'mm', 'deg', 'W', 'A', 'N·m', 'Hz', '%', 'h', 'ms'] as const;

export type View = (typeof VIEWS)[number];
export type Software = (typeof LEVELS)[number];
export type Press = (typeof PRESSES)[number];
export type UnitWord = (typeof UNITS)[number];

/** A number, or a formula that gives one. */
export type Amount = number | string;

/** What the lesson begins with. */
export interface Sets {
  /** A demo robot's key, or `own`: the robot on the board. */
  readonly robot: string;
  /** By knob: an SI number, a text with its unit, or a choice's word. */
  readonly knobs?: Readonly<Record<string, number | string>>;
  readonly level?: Software;
  readonly view?: View;
}

interface Bounds {
  readonly above?: Amount;
  readonly below?: Amount;
}

/** Something that must be true of the simulation. */
export type Condition =
  | { readonly all: readonly Condition[] }
  | { readonly any: readonly Condition[] }
  | { readonly not: Condition }
  | {
      /** A run that began in this step: any, kick, bump, start, stop, or a trial's key. No knob was turned in it. */
      readonly run: string;
      readonly view?: View;
      /** The switch stood there for the whole run. */
      readonly level?: Software;
      /** At least so long [s]. */
      readonly seconds?: number;
      /** Whether its outcome must stand. */
      readonly over?: boolean;
      readonly outcome?: readonly string[];
      /** Measures that must have a number. */
      readonly known?: readonly string[];
    }
  | ({ readonly measure: string; readonly of?: string } & Bounds)
  | { readonly outcome: readonly string[]; readonly of?: string }
  | ({ readonly knob: string; readonly is?: string } & Bounds)
  | { readonly level: Software }
  | { readonly view: View }
  | ({ readonly formula: string } & Bounds);

export interface Say {
  readonly kind: 'say';
  readonly text: string;
}

export interface Choice {
  readonly text: string;
  /** When the simulation has shown it to be right. */
  readonly when: Condition;
}

export interface Predict {
  readonly kind: 'predict';
  readonly name: string;
  readonly ask: string;
  readonly choices?: readonly Choice[];
  readonly number?: {
    /** In SI; worked out when the guess is looked at. */
    readonly truth: string;
    readonly unit: UnitWord;
    /** Share of the truth within which a guess is close. */
    readonly within: number;
  };
}

/** A repeatable test, run in the worker by a press. */
export interface TrialStep {
  readonly trial: string;
  readonly view: View;
  readonly software: Software;
  readonly numbers?: Readonly<Record<string, number | string>>;
}

/** A search for what the robot bears, run in the worker by a press. */
export interface BudgetStep {
  readonly question: string;
  readonly view: View;
}

export interface Do {
  readonly kind: 'do';
  readonly text: string;
  /** Said when it takes long. */
  readonly help?: string;
  readonly until?: Condition;
  /** The run, trial or search is kept under this name. */
  readonly keep?: string;
  readonly press?: readonly Press[];
  /** Knobs that lie beside the step. */
  readonly knobs?: readonly string[];
  readonly trial?: TrialStep;
  readonly budget?: BudgetStep;
}

export interface See {
  readonly kind: 'see';
  readonly text: string;
  /** Predictions that are now looked at. */
  readonly guesses?: readonly string[];
  /** A table of kept runs. */
  readonly table?: {
    readonly runs: readonly { readonly of: string; readonly called: string }[];
    readonly measures: readonly string[];
  };
}

export type Step = Say | Predict | Do | See;

export interface Lesson {
  readonly format: typeof FORMAT;
  readonly version: typeof VERSION;
  /** Its name in links. */
  readonly key: string;
  readonly title: string;
  readonly about: string;
  readonly minutes: number;
  readonly sets: Sets;
  readonly steps: readonly Step[];
}
