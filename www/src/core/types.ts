// What the page asks of the core. The class `Board` of the wasm package gives exactly this;
// `open.ts` is where the two meet.

/** A vertical plane: 0 the side view (fore-aft), 1 the front view (side to side). */
export type Plane = 0 | 1;
export const SIDE: Plane = 0;
export const FRONT: Plane = 1;

/** Software level: 0 motors off, 1 locked, 2 steadied. */
export type Level = 0 | 1 | 2;
export const OFF: Level = 0;
export const LOCKED: Level = 1;
export const STEADIED: Level = 2;

/** What is wrong with something that was given, and what was kept instead. */
export interface Problem {
  readonly path: string;
  readonly value: string;
  readonly expected: string;
  readonly hint: string;
  readonly kept: string;
  readonly severity: 'error' | 'warning';
  readonly line?: number;
  readonly column?: number;
}

/** Answer of an act that may be refused; a refused act changes nothing. */
export interface Refused {
  readonly problems: readonly Problem[];
}

/** One row of the knob catalogue. Numbers are in the SI unit. */
export interface KnobInfo {
  readonly key: string;
  readonly symbol: string;
  readonly label: string;
  /** Heading under which "all knobs" lists it. */
  readonly group: string;
  /** Symbol of the unit shown. */
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly logarithmic: boolean;
  readonly kind: 'number' | 'whole' | 'choice';
  readonly words: readonly string[];
  /** Least and greatest value and step, as they are shown. */
  readonly ends: readonly [string, string, string];
}

/** What a knob is set to. */
export interface KnobValue {
  readonly key: string;
  /** [SI] */
  readonly value: number;
  /** With its unit, for people. */
  readonly text: string;
  /** The maker's raw firmware number for it, and its unit; empty where there is none. */
  readonly raw: string;
  readonly rawUnit: string;
  /** As the robot was opened [SI]. */
  readonly opened: number;
  readonly openedText: string;
  /** Where it comes from: measured, sheet, guessed; empty if nobody has said. */
  readonly mark: string;
}

export interface DemoInfo {
  readonly key: string;
  readonly name: string;
}

export interface PartRow {
  /** Empty for what the knobs added to the listed parts of a body, or took from them. */
  readonly name: string;
  readonly mass: string;
  readonly grams: number;
}

/** An entry of the parts ledger. */
export interface LedgerPart {
  readonly name: string;
  readonly body: 'shell' | 'carriage' | 'head';
  readonly mass: string;
  /** Above the shell's centre. */
  readonly height: string;
  /** Fitted; what is not is planned and weighs nothing. */
  readonly on: boolean;
  readonly mark: string;
}

/** One of the three bodies, with its listed parts. */
export interface BodyRow {
  readonly body: 'shell' | 'carriage' | 'head';
  readonly mass: string;
  readonly parts: readonly PartRow[];
}

/** What the title block and the parts list say of the robot. */
export interface RobotFacts {
  readonly name: string;
  readonly summary: string;
  readonly diameter: string;
  readonly mass: string;
  readonly headShare: string;
  readonly bodies: readonly BodyRow[];
  /** Default kick and bump of each plane [N·s]. */
  readonly kick: readonly [number, number];
  readonly bump: readonly [number, number];
  /** Outer radius [m]. */
  readonly radius: number;
  /** Controller tick [µs]. */
  readonly tickUs: number;
  /** Integration steps are this many times finer than 1 ms. */
  readonly stepDivisor: number;
}

/** One number of the run since the last kick, bump, start or stop. */
export interface Measure {
  readonly key: string;
  readonly label: string;
  /** With unit, or a word where there is no number. */
  readonly text: string;
  /** Whether there is a number. */
  readonly known: boolean;
  /** [SI]; missing where there is none. */
  readonly value?: number;
  /** Symbol of the SI unit. */
  readonly unit: string;
  /** What the value alone says, such as of the fuse; mostly empty. */
  readonly note: string;
  /** Whether the note tells of a limit passed. */
  readonly past: boolean;
  /** The same of the run before; empty if there was none. */
  readonly was: string;
  /** −1 less, 0 the same or unknown, 1 more than the run before. */
  readonly change: -1 | 0 | 1;
}

export interface Results {
  /** kick, bump, start, stop or an empty word before the first. */
  readonly trial: string;
  readonly impulse: number;
  readonly seconds: number;
  readonly outcome: string;
  /** Machine word of the outcome. */
  readonly outcomeClass: string;
  readonly outcomeWas: string;
  /** Whether the outcome may still change. */
  readonly going: boolean;
  readonly measures: readonly Measure[];
}

/** What the double is: a second robot under the same inputs. */
export interface DoubleFacts {
  /** What the page calls it. */
  readonly label: string;
  readonly name: string;
  readonly level: number;
  /** Whether it keeps its level whatever the switch says. */
  readonly fixed: boolean;
  /** Software level of the board's own robot. */
  readonly switch: number;
}

/** An input of a run: time [µs], word, numbers; see crates/web/src/record.rs. */
export type LogEntry = readonly (number | string)[];

/** What makes a live run again, from rest. */
export interface LiveRecord {
  /** Robot file of the robot as it stood at rest. */
  readonly robot: string;
  readonly view: string;
  readonly seed: number;
  /** Whole controller ticks made. */
  readonly ticks: number;
  readonly tickUs: number;
  readonly log: readonly LogEntry[];
  /** 16 hexadecimal digits. */
  readonly digest: string;
  /** False if inputs were left out, or the file does not give the robot to the last bit. */
  readonly complete: boolean;
}

/** Where each number of the flat frame lies. */
export interface Layout {
  readonly header: Readonly<Record<'time' | 'oldest' | 'shown' | 'backlog', number>>;
  readonly planes: readonly [number, number];
  /** Where the double's planes begin; `run` and `columns` lie in them as in a plane. NaN without one. */
  readonly doubles: readonly [number, number];
  /** Offsets from a plane's start. */
  readonly columns: Readonly<Record<string, number>>;
  readonly anchors: Readonly<Record<string, number>>;
  /** `ended`: 0 goes on, 1 hop, 2 brown-out, 3 diverged. */
  readonly run: Readonly<Record<'seconds' | 'number' | 'ended' | 'level', number>>;
}

/** Bits of `paint`'s layers. */
export const LAYER = { night: 1, forces: 2, centres: 4, trail: 8, grid: 16, forced: 32, still: 64 } as const;

/**
 * Names of the numbers of a frame, in order: header, then for each plane run, columns, anchors,
 * then for each plane of the double run, columns.
 */
export interface Names {
  readonly header: readonly string[];
  readonly run: readonly string[];
  readonly columns: readonly string[];
  readonly anchors: readonly string[];
}

/** From the names to the places. */
export function placesOf(names: Names): Layout {
  const from = (list: readonly string[], start: number): Record<string, number> =>
    Object.fromEntries(list.map((name, index) => [name, start + index]));
  const { header, run, columns, anchors } = names;
  const double = run.length + columns.length;
  const length = double + anchors.length;
  const doubles = header.length + 2 * length;
  return {
    header: from(header, 0) as Layout['header'],
    planes: [header.length, header.length + length],
    doubles: [doubles, doubles + double],
    run: from(run, 0) as Layout['run'],
    columns: from(columns, run.length),
    anchors: from(anchors, run.length + columns.length),
  };
}

export interface Board {
  // Each frame.
  advance(microseconds: number): number;
  paint(
    context: CanvasRenderingContext2D,
    plane: Plane,
    width: number,
    height: number,
    dpr: number,
    layers: number,
  ): void;
  frame(): Float64Array;

  // Acts. Each answers with problems or nothing.
  kick(plane: Plane, impulse: number, height: number): Refused | undefined;
  bump(plane: Plane, impulse: number): Refused | undefined;
  level(level: Level): Refused | undefined;
  /** Share of the lever's way, −1 … 1. */
  speed(share: number): Refused | undefined;
  lean(share: number): Refused | undefined;
  /** Motors off and windings shorted, until the switch is used again. */
  emergencyStop(): void;
  /** Takes the drive by hand, at this duty (−1 … 1); the software goes off, and the switch ends it. */
  hand(plane: Plane, duty: number): Refused | undefined;
  /** Kicks to come: time since rest [s], impulse, height of each; forgotten by `resetRun`. */
  plan(plane: Plane, kicks: readonly number[]): Refused | undefined;
  /** A double with the motors off. Both robots stand at rest. */
  doubleOff(label: string): void;
  /** The same with the software on. */
  doubleOn(label: string): void;
  /** The robot of a file as double: as it was opened, and with its knobs. Both stand at rest. */
  doubleRobot(opened: string, now: string, label: string): Refused;
  undouble(): void;
  /** Board's robot and double change places, the former under this label; both runs go on. */
  swap(label: string): Refused | undefined;
  /** The double's settings and run become the board's. */
  becomeDouble(): Refused | undefined;
  scrub(secondsBack: number): void;
  resetRun(): void;
  resetKnobs(): void;
  /** The arrow of a push being aimed, with the speed it gives; NaN takes it away. */
  aim(plane: Plane, bump: boolean, impulse: number, height: number): void;
  /**
   * Shows a motion on the drawn robot, over its pose: real and imaginary parts of shell rotation,
   * carriage swing, head tilt, the largest of size 1; [Hz], [1/s], and the largest's amplitude [rad].
   */
  swingMode(plane: Plane, shape: readonly number[], hertz: number, growth: number, amplitude: number): Refused | undefined;
  /** Goes to this time after its beginning [s]. */
  modeAt(seconds: number): void;
  /** Shows the robot as it is again. */
  still(): void;
  /** What a pointer touches: 0 nothing, 1 the ball, 2 the head; and the height [m]. */
  touch(plane: Plane, x: number, y: number, slack: number): Float64Array;
  /** Impulse that a drag of this length [px] means [N·s]. */
  impulse(plane: Plane, bump: boolean, length: number): number;
  /** How far below the centre the carriage hangs if pulled to this place of a view [m]. */
  hang(plane: Plane, x: number, y: number): number;
  tickOnce(): void;

  // Rare.
  layout(): Names;
  /** Whether lengths and masses are said in inches and pounds. */
  inches(inches: boolean): void;
  catalogue(): readonly KnobInfo[];
  demos(): readonly DemoInfo[];
  facts(): RobotFacts;
  values(): readonly KnobValue[];
  setKnob(key: string, value: number): KnobValue | Refused;
  typeKnob(key: string, text: string): KnobValue | Refused;
  typeRaw(key: string, text: string): KnobValue | Refused;
  parts(): readonly LedgerPart[];
  /** Mass and height as typed; a bare mass is in grams, or ounces. */
  putPart(part: LedgerPart): Refused | undefined;
  switchPart(index: number, on: boolean): Refused | undefined;
  removePart(index: number): Refused | undefined;
  /** An empty word takes the mark off. */
  setMark(key: string, mark: string): Refused | undefined;
  results(plane: Plane): Results;
  doubled(): DoubleFacts | undefined;
  doubleResults(plane: Plane): Results | undefined;
  /** The double's robot as a file. */
  doubleFile(): string | undefined;
  record(plane: Plane): LiveRecord;
  /** Count, times, values of this run; then the same of the run before, and of the double's. */
  strip(plane: Plane, column: string): Float64Array;
  robotFile(): string;
  openedFile(): string;
  openRobot(text: string): Refused;
  restore(opened: string, now: string): Refused;
  free(): void;
}

export const refused = (answer: object | undefined): answer is Refused =>
  answer !== undefined && 'problems' in answer && (answer as Refused).problems.length > 0;
