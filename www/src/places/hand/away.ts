// What a try changes on the board, kept while the place is open and given back when it is left. The knobs are
// the visitor's own all the time and are not touched.

import type { Actions } from '../../actions';
import { clear, giveStand, standOf, type Stand } from '../stand';

interface Away extends Stand {
  /** Whether motion is shown to who asked for stills. */
  readonly motion: boolean;
}

export class PutAway {
  #away: Away | undefined;

  constructor(private readonly actions: Actions) {}

  /** Keeps how the board is set, unless that is kept already. */
  keep(): void {
    this.#away ??= { ...standOf(this.actions), motion: this.actions.store.state.motion };
  }

  /** Gives it back; answers whether anything was kept. */
  giveBack(): boolean {
    const back = this.#away;
    this.#away = undefined;
    if (back === undefined) return false;
    clear(this.actions);
    giveStand(this.actions, back);
    this.actions.store.set({ motion: back.motion });
    return true;
  }
}
