// How the board is set for whoever stands before it, apart from the robot: taken down before a place sets it
// otherwise, and given back.

import type { Actions } from '../actions';
import { FRONT, SIDE, type Level } from '../core/types';
import type { Facts, Push, Rate, Shown } from '../store';

export interface Stand {
  readonly level: Level;
  readonly shown: Shown;
  readonly kick: readonly [Push, Push];
  readonly bump: readonly [number, number];
  readonly facts: Facts;
  readonly rate: Rate;
  /** The double's robot as a file, or that it is the same with its motors off. */
  readonly double?: { readonly file: string; readonly label: string } | 'off';
}

export function standOf({ board, store }: Actions): Stand {
  const { level, shown, kick, bump, facts, rate, double } = store.state;
  const stand = { level, shown, kick, bump, facts, rate };
  const file = board.doubleFile();
  if (double === undefined || file === undefined) return stand;
  return { ...stand, double: double.fixed && file === board.robotFile() ? 'off' : { file, label: double.label } };
}

/** Nothing stands beside the robot and nobody holds a lever: what comes before the robot itself is changed. */
export function clear(actions: Actions): void {
  actions.undouble();
  for (const plane of [SIDE, FRONT] as const) actions.lever(plane, 0);
}

/** Gives back what was taken down; the run begins anew. */
export function giveStand(actions: Actions, { level, shown, kick, bump, facts, rate, double }: Stand): void {
  actions.show(shown);
  actions.level(level);
  actions.resetRun();
  actions.store.set({ kick, bump, facts, rate });
  if (double === 'off') actions.doubleOff();
  else if (double !== undefined) actions.doubleOf({ opened: double.file, now: double.file }, double.label, double.label);
}
