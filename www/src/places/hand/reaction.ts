// How late a hand is: the time from a sudden sign to the press, or to the lever's way towards where the sign
// points. What screen, keys and hand take together is measured, as it counts in a try.

import { PadInput, type HandInput } from './inputs';

export type Kind = 'press' | 'lever';

/** Signs that are answered in one measurement. */
export const SIGNS = 5;
/** The sign comes after at least so long [ms], and up to so much more. */
const WAIT = 1500;
const WAIT_MORE = 2500;
/** Later than this nothing was answered [ms]. */
const LATEST = 2000;
/** Quicker than this nobody answers: it was guessed [ms]. From common practice in timing sprints' starts. */
const SOONEST = 100;
/** The lever counts as moved from this share of its way on. */
const MOVED = 0.3;

export interface Delay {
  readonly kind: Kind;
  /** [ms], in order of measuring. */
  readonly times: readonly number[];
  /** [ms] */
  readonly median: number;
  /** Between quickest and slowest [ms]. */
  readonly spread: number;
  readonly falseStarts: number;
}

export interface ReactionNews {
  readonly wait: (number: number) => void;
  /** The sign, to be shown at once: 0 for a press, else which way. */
  readonly sign: (way: -1 | 0 | 1) => void;
  readonly answered: (time: number) => void;
  readonly tooSoon: () => void;
  readonly wrongWay: () => void;
  readonly missed: () => void;
  readonly done: (delay: Delay) => void;
}

export class Reaction {
  readonly #times: number[] = [];
  #falseStarts = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #frame = 0;
  /** When the sign was shown [ms]; none while it is waited for. */
  #shown: number | undefined;
  #way: -1 | 0 | 1 = 0;
  #ready = false;
  #over = false;
  #padDown = true;

  constructor(
    readonly kind: Kind,
    private readonly input: HandInput,
    private readonly news: ReactionNews,
  ) {
    input.zero();
    this.#padDown = PadInput.pressed();
    this.#wait();
    this.#frame = requestAnimationFrame(this.#poll);
  }

  /** A press of key, pointer or pad, at this time [ms]. */
  press(time: number): void {
    if (this.kind === 'press' && !this.#over) this.#answer(time, 0);
  }

  /** The lever stands so, since this time [ms]. */
  lever(share: number, time: number): void {
    if (this.kind !== 'lever' || this.#over) return;
    if (Math.abs(share) < MOVED) {
      this.#ready = true;
      return;
    }
    // It must have been in the middle before.
    if (!this.#ready) return;
    this.#ready = false;
    this.#answer(time, share < 0 ? -1 : 1);
  }

  end(): void {
    this.#over = true;
    clearTimeout(this.#timer);
    cancelAnimationFrame(this.#frame);
    this.input.stop();
  }

  #wait(): void {
    this.#shown = undefined;
    this.#ready = true;
    this.news.wait(this.#times.length + 1);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      // With the next frame, so that it is seen as early as it is counted.
      requestAnimationFrame((now) => {
        if (this.#over) return;
        this.#way = this.kind === 'press' ? 0 : Math.random() < 0.5 ? -1 : 1;
        this.#shown = now;
        this.news.sign(this.#way);
        this.#timer = setTimeout(() => {
          this.news.missed();
          this.#wait();
        }, LATEST);
      });
    }, WAIT + Math.random() * WAIT_MORE);
  }

  #answer(at: number, way: -1 | 0 | 1): void {
    const shown = this.#shown;
    const time = shown === undefined ? -Infinity : at - shown;
    if (shown === undefined || time < SOONEST) {
      this.#falseStarts += 1;
      this.news.tooSoon();
      this.#wait();
      return;
    }
    clearTimeout(this.#timer);
    if (way !== this.#way) {
      this.news.wrongWay();
      this.#wait();
      return;
    }
    this.#times.push(time);
    this.news.answered(time);
    if (this.#times.length < SIGNS) {
      this.#wait();
      return;
    }
    this.end();
    this.news.done(delayOf(this.kind, this.#times, this.#falseStarts));
  }

  readonly #poll = (): void => {
    if (this.#over) return;
    this.#frame = requestAnimationFrame(this.#poll);
    const now = performance.now();
    const down = PadInput.pressed();
    if (down && !this.#padDown) this.press(now);
    this.#padDown = down;
    // The lever on the screen tells by itself, to the millisecond.
    if (this.input.name !== 'lever') this.lever(this.input.share(now), now);
  };
}

export function delayOf(kind: Kind, times: readonly number[], falseStarts: number): Delay {
  const sorted = [...times].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  const median = ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
  return { kind, times: [...times], median, spread: (sorted[sorted.length - 1] ?? 0) - (sorted[0] ?? 0), falseStarts };
}
