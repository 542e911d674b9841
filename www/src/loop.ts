// The clock of the page. True time goes into the core in microseconds; the core turns it into
// whole controller ticks and keeps the rest, so that speed does not depend on the screen's rate.

import { placesOf, type Board, type Layout } from './core/types';
import { tellSeen } from './seen';
import type { Store } from './store';

/** Longest piece of true time made up for in one frame [ms]; more is let go, not rushed through. */
const CATCH_UP_MS = 100;

/** Frames that go by before what can wait begins. */
const SEEN = 2;

export interface Seen {
  readonly frame: Float64Array;
  readonly layout: Layout;
}

export class Loop {
  readonly layout: Layout;
  #last: number | undefined;
  #dirty = true;
  #asked = true;
  /** Frames that the robot has been seen in. */
  #seen = 0;
  #frame: Float64Array = new Float64Array(0);
  readonly #painters: (() => void)[] = [];
  readonly #readers: ((seen: Seen, now: number) => void)[] = [];
  readonly #lateReaders: ((seen: Seen, now: number) => void)[] = [];
  /** Times of script in the last frames [ms], for measurement. */
  readonly spent: number[] = [];

  constructor(
    private readonly board: Board,
    private readonly store: Store,
  ) {
    this.layout = placesOf(board.layout());
    document.addEventListener('visibilitychange', () => {
      this.#last = undefined;
    });
    store.watch(['paused'], () => {
      this.#last = undefined;
    });
  }

  /** Something that draws; runs after the core has advanced. */
  paint(painter: () => void): void {
    this.#painters.push(painter);
  }

  /** Something that reads the frame's numbers; runs after all painters. */
  read(reader: (seen: Seen, now: number) => void): void {
    this.#readers.push(reader);
  }

  /** Something that can wait until the robot is seen; runs after all readers. */
  readLate(reader: (seen: Seen, now: number) => void): void {
    this.#lateReaders.push(reader);
  }

  /** Whether the frame that is painted was asked for, not only time going on. */
  get asked(): boolean {
    return this.#asked;
  }

  /** Asks for one frame even though time stands still. */
  touch(): void {
    this.#dirty = true;
  }

  /** Shows the robot at once, then runs from frame to frame. */
  start(): void {
    this.#show(performance.now(), this.#readers);
    const step = (now: number): void => {
      requestAnimationFrame(step);
      this.#turn(now);
    };
    requestAnimationFrame(step);
  }

  #turn(now: number): void {
    const { paused, rate } = this.store.state;
    const begun = performance.now();
    if (!paused) {
      const passed = this.#last === undefined ? 0 : Math.min(now - this.#last, CATCH_UP_MS);
      this.#last = now;
      this.board.advance(Math.round(passed * 1000 * rate));
    } else if (!this.#dirty) {
      return;
    }
    this.#asked = this.#dirty;
    this.#dirty = false;
    if (this.#seen < SEEN) {
      this.#seen += 1;
      this.#dirty = true;
      this.#show(now, this.#readers);
    } else {
      this.#show(now, this.#readers, this.#lateReaders);
      tellSeen();
    }
    this.spent.push(performance.now() - begun);
    if (this.spent.length > 2000) this.spent.splice(0, 1000);
  }

  #show(now: number, ...lists: readonly ((seen: Seen, now: number) => void)[][]): void {
    for (const painter of this.#painters) painter();
    this.#frame = this.board.frame();
    const seen = { frame: this.#frame, layout: this.layout };
    for (const list of lists) for (const reader of list) reader(seen, now);
  }
}
