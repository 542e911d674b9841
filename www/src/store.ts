// The page's one state. Views subscribe to it and never keep their own copy of what is here.

import type { KnobSpans } from './core/lab.edge';
import type { DoubleFacts, Level, Plane, Problem, RobotFacts } from './core/types';
import type { PlaceName } from './places/place';

export type Shown = 'side' | 'front' | 'both';
export type Theme = 'auto' | 'day' | 'night';
export type Units = 'metric' | 'inch';
export type Rate = 1 | 0.5 | 0.25 | 0.1;

/** An aimed push, repeated by key, button or tap. */
export interface Push {
  /** [N·s], positive forward or to the robot's right. */
  readonly impulse: number;
  /** Above the floor [m]. */
  readonly height: number;
}

/** What has really happened since the first visit began; the guide's sentence follows it. */
export interface Facts {
  readonly kicked: boolean;
  readonly switched: boolean;
  readonly settled: boolean;
  readonly drove: boolean;
  readonly heavier: boolean;
  readonly kickedHeavy: boolean;
}

export interface State {
  readonly shown: Shown;
  /** The plane that keys and press buttons act on. */
  readonly active: Plane;
  readonly level: Level;
  readonly paused: boolean;
  readonly rate: Rate;
  /** Seconds back from now that the board shows; 0 shows the present. */
  readonly back: number;
  /** Counts the single ticks that were asked for. */
  readonly ticks: number;
  readonly kick: readonly [Push, Push];
  readonly bump: readonly [number, number];
  readonly allKnobs: boolean;
  readonly theme: Theme;
  readonly units: Units;
  readonly shortcuts: boolean;
  /** Asked for by a press although the system asks for less motion. */
  readonly motion: boolean;
  /** Bits of the layers drawn. */
  readonly layers: number;
  readonly robot: RobotFacts;
  /** Counts every change of a knob. */
  readonly knobs: number;
  readonly problems: readonly Problem[];
  /** What the problems belong to, such as a file's name. */
  readonly problemsOf: string;
  readonly notice: string;
  readonly facts: Facts;
  /** The place that is open under the board. */
  readonly place: PlaceName | undefined;
  /** The second robot under the same inputs, if there is one. */
  readonly double: DoubleFacts | undefined;
  /** Whether all four strips are shown. */
  readonly four: boolean;
  /** By knob, where on its track the robot stays steady, as far as it is known. */
  readonly spans: ReadonlyMap<string, KnobSpans> | undefined;
}

export type Key = keyof State;
type Listener = (state: State, changed: ReadonlySet<Key>) => void;

export class Store {
  #state: State;
  readonly #listeners: Listener[] = [];

  constructor(initial: State) {
    this.#state = initial;
  }

  get state(): State {
    return this.#state;
  }

  /** Replaces what differs, then tells every listener which keys changed. */
  set(part: Partial<State>): void {
    const changed = new Set<Key>();
    for (const key of Object.keys(part) as Key[]) {
      if (!Object.is(part[key], this.#state[key])) changed.add(key);
    }
    if (changed.size === 0) return;
    this.#state = { ...this.#state, ...part };
    const state = this.#state;
    for (const listener of this.#listeners) listener(state, changed);
  }

  /** Calls `listener` now and whenever one of `keys` changes. */
  watch(keys: readonly Key[], listener: (state: State) => void): void {
    this.#listeners.push((state, changed) => {
      if (keys.some((key) => changed.has(key))) listener(state);
    });
    listener(this.#state);
  }
}
