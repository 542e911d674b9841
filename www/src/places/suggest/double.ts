// The best so far on the board's double: put up once, then its knobs are turned while it runs, so
// that it goes on under the same kicks as the robot beside it.

import type { Actions } from '../../actions';
import type { KnobChange } from '../../core/lab.suggest';
import { setAll } from '../../core/setall';
import { refused } from '../../core/types';
import type { Setting } from '../../revisions';
import { suggestWords as words } from '../../words/suggest';

/** Least time between two turns of its knobs [ms]. */
const PERIOD = 500;

export class OnDouble {
  /** What the double had at first, by knob, of all that was ever turned. */
  readonly #base = new Map<string, number>();
  /** Whether the double on the board is this one. */
  #up = false;
  #label = '';
  #last = -Infinity;
  #next: { readonly knobs: readonly KnobChange[]; readonly label: string } | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turning = false;

  constructor(
    private readonly actions: Actions,
    /** It was put away, or another one was put up. */
    private readonly gone: () => void,
  ) {
    actions.store.watch(['double'], ({ double }) => {
      if (this.#turning || !this.#up || double?.label === this.#label) return;
      this.forget();
      this.gone();
    });
  }

  get up(): boolean {
    return this.#up;
  }

  /** Puts it up as the robot that was asked about; both robots then stand at rest. */
  putUp(setting: Setting): boolean {
    this.forget();
    this.#turning = true;
    try {
      this.#up = this.actions.doubleOf(setting, words.doubleLabel, words.double);
    } finally {
      this.#turning = false;
    }
    this.#label = words.doubleLabel;
    return this.#up;
  }

  /** What it should have now; the latest wish counts. */
  show(knobs: readonly KnobChange[], label: string): void {
    if (!this.#up) return;
    this.#next = { knobs, label };
    if (this.#timer !== undefined) return;
    this.#timer = setTimeout(
      () => {
        this.#timer = undefined;
        this.#turn();
      },
      Math.max(0, this.#last + PERIOD - performance.now()),
    );
  }

  /** The double is no longer minded; it stays where it is. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#next = undefined;
    this.#up = false;
    this.#base.clear();
  }

  /** Changes places with the board's robot for as long as it takes to turn its knobs: nothing is drawn meanwhile. */
  #turn(): void {
    const next = this.#next;
    const { board, store } = this.actions;
    if (next === undefined || !this.#up) return;
    this.#next = undefined;
    this.#last = performance.now();
    const wanted = new Map(this.#base);
    for (const { key, from, to } of next.knobs) {
      if (!this.#base.has(key)) this.#base.set(key, from);
      wanted.set(key, to);
    }
    this.#turning = true;
    try {
      if (refused(board.swap(next.label))) return;
      try {
        setAll(wanted, ([key, value]) => board.setKnob(key, value));
      } finally {
        board.swap(next.label);
      }
      this.#label = next.label;
      store.set({ double: board.doubled() });
    } finally {
      this.#turning = false;
    }
  }
}
