// What leaves the simulation on paper or as a file: gains, the sheet inside the lid, the card for the
// floor, a pose as SVG.

import type { RobotAsk, ViewWord } from './lab.types';

/** Day, as 2031-05-17, and revision; either may be left out. */
export interface OriginAsk {
  readonly date?: string;
  readonly revision?: string;
}

export interface Origin {
  readonly robot: string;
  /** Digest of the robot file: 16 hexadecimal digits. */
  readonly digest: string;
  readonly date: string;
  readonly revision: string;
  readonly modelVersion: number;
  readonly program: string;
}

export type GainsAsk = RobotAsk & OriginAsk;

export interface GainRow {
  readonly key: string;
  readonly label: string;
  readonly help: string;
  readonly text: string;
  /** As the firmware has it, six digits; empty where it has no number. */
  readonly raw: string;
  readonly rawUnit: string;
  /** The same as a whole number where that is close enough, else empty. */
  readonly whole: string;
}

/** A trial that a card can hold. */
export interface CardTrial {
  readonly key: string;
  readonly title: string;
  /** What is done. */
  readonly text: string;
  readonly usual: boolean;
}

export interface GainsOut {
  readonly origin: Origin;
  readonly rows: readonly GainRow[];
  /** As the command line writes them. */
  readonly header: string;
  readonly markdown: string;
  readonly csv: string;
  readonly trials: readonly CardTrial[];
}

export type LidAsk = RobotAsk & OriginAsk & { readonly limits?: string };

export interface LidLine {
  /** Of its knob; empty where it is none. */
  readonly key: string;
  readonly label: string;
  readonly text: string;
  readonly raw: string;
  readonly rawUnit: string;
  /** measured, sheet, guessed, or empty. */
  readonly mark: string;
}

export interface LidGroup {
  readonly key: 'bodies' | 'drives' | 'supply' | 'software';
  readonly title: string;
  readonly lines: readonly LidLine[];
}

export interface LidLimit {
  readonly title: string;
  readonly label: string;
  readonly limit: string;
  /** What was found. */
  readonly text: string;
  readonly holds: boolean;
}

export interface LidOut {
  readonly origin: Origin;
  readonly summary: string;
  readonly groups: readonly LidGroup[];
  readonly limits: readonly LidLimit[];
  readonly cautions: readonly string[];
  /** Side and front view as SVG, black on white. */
  readonly drawings: readonly [string, string];
}

export type CardAsk = RobotAsk &
  OriginAsk & {
    /** Keys of trials; left out: the usual ones. */
    readonly trials?: readonly string[];
    readonly limits?: string;
    readonly variants?: number;
  };

export interface CardGiven {
  readonly label: string;
  readonly text: string;
}

export interface CardRow {
  readonly key: string;
  readonly title: string;
  /** What is done. */
  readonly what: string;
  readonly given: readonly CardGiven[];
  readonly measure: string;
  readonly label: string;
  /** How it is measured on the real robot. */
  readonly help: string;
  /** Prediction, or why there is none. */
  readonly text: string;
  readonly known: boolean;
  readonly spread: string;
  readonly limit: string;
  /** Symbol of the unit shown. */
  readonly unit: string;
}

export interface CardOut {
  readonly origin: Origin;
  readonly rows: readonly CardRow[];
  readonly variants: number;
  /** Whether any number of the robot is marked, without which nothing has a spread. */
  readonly marked: boolean;
  readonly cautions: readonly string[];
  readonly csv: string;
}

export type LayerWord = 'forces' | 'centres' | 'trail' | 'grid' | 'angles' | 'lengths';

export interface PictureAsk extends RobotAsk {
  readonly view: ViewWord;
  readonly colours: 'day' | 'night' | 'ink';
  /** [px] */
  readonly width: number;
  readonly height: number;
  /** Left out: angles alone. */
  readonly layers?: readonly LayerWord[];
  /** Columns of the frame by key [SI]; left out: at rest. */
  readonly sample?: Readonly<Record<string, number>>;
  /** Where the board painted the ball; left out: the whole robot, in the middle [px, px/m]. */
  readonly seen?: { readonly ballX: number; readonly ballY: number; readonly scale: number; readonly floorY: number };
  readonly arrow?: { readonly push: 'kick' | 'bump'; readonly impulse: number; readonly height: number };
  /** Travel and tilt of the head, oldest first, as strips give them. */
  readonly trail?: readonly (readonly [number, number])[];
  /** Robot file of the double, with its columns and name. */
  readonly beside?: string;
  readonly besideSample?: Readonly<Record<string, number>>;
  readonly besideLabel?: string;
}

export interface PictureOut {
  readonly svg: string;
}
