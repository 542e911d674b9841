// What a try changes on the board, kept while the place is open and given back when it is left. The knobs are
// the visitor's own all the time and are not touched.

import type { Actions } from '../../actions';
import { FRONT, SIDE, type Level } from '../../core/types';
import type { Facts, Push, Rate, Shown } from '../../store';

interface Away {
  readonly level: Level;
  readonly shown: Shown;
  readonly kick: readonly [Push, Push];
  readonly bump: readonly [number, number];
  readonly facts: Facts;
  readonly rate: Rate;
  /** Whether motion is shown to who asked for stills. */
  readonly motion: boolean;
  /** The double's robot as a file, or the level that the board's own robot keeps in it. */
  readonly double?: { readonly file: string; readonly label: string; readonly off: boolean };
}

export class PutAway {
  #away: Away | undefined;

  constructor(private readonly actions: Actions) {}

  /** Keeps how the board is set, unless that is kept already. */
  keep(): void {
    if (this.#away !== undefined) return;
    const { board, store } = this.actions;
    const { level, shown, kick, bump, facts, rate, motion, double } = store.state;
    const file = board.doubleFile();
    const beside =
      double === undefined || file === undefined ? {} : { double: { file, label: double.label, off: double.fixed && file === board.robotFile() } };
    this.#away = { level, shown, kick, bump, facts, rate, motion, ...beside };
  }

  /** Gives it back; answers whether anything was kept. */
  giveBack(): boolean {
    const back = this.#away;
    this.#away = undefined;
    if (back === undefined) return false;
    const { actions } = this;
    actions.undouble();
    for (const plane of [SIDE, FRONT] as const) actions.lever(plane, 0);
    actions.show(back.shown);
    actions.level(back.level);
    actions.resetRun();
    const { kick, bump, facts, rate, motion, double } = back;
    actions.store.set({ kick, bump, facts, rate, motion });
    if (double?.off === true) actions.doubleOff();
    else if (double !== undefined) actions.doubleOf({ opened: double.file, now: double.file }, double.label, double.label);
    return true;
  }
}
