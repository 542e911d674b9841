// The suggested settings on the board's robot: one revision with a name, or nothing at all.

import type { Actions } from '../../actions';
import type { KnobChange } from '../../core/lab.suggest';
import { setAll } from '../../core/setall';
import type { Board, Refused } from '../../core/types';
import { suggestWords as words } from '../../words/suggest';
import { loopOf } from './loops';

/** Whether the board's robot has all of these settings. */
export const has = (actions: Actions, changes: readonly KnobChange[]): boolean =>
  changes.every(({ key, to }) => actions.value(key)?.value === to);

/** Sets all or none. */
function turn(board: Board, changes: readonly KnobChange[], before: ReadonlyMap<string, number>): Refused | undefined {
  const stuck = setAll(changes, ({ key, to }) => board.setKnob(key, to));
  if (stuck.length === 0) return undefined;
  setAll(before, ([key, value]) => board.setKnob(key, value));
  return { problems: stuck.flatMap(({ problems }) => problems) };
}

/** Makes the board's robot what is suggested; undo brings back what was. Answers with what was wrong. */
export function become(actions: Actions, changes: readonly KnobChange[]): Refused | undefined {
  if (has(actions, changes)) return undefined;
  const { revisions } = actions;
  const before = new Map(changes.map(({ key, from }) => [key, actions.value(key)?.value ?? from]));
  const wrong = actions.change(words.why, (board) => turn(board, changes, before));
  if (wrong !== undefined) return wrong;
  const loops = [...new Set(changes.map(({ key }) => loopOf(key)))].filter((loop) => loop !== undefined);
  revisions.rename(revisions.history.current.id, words.name(loops.map((loop) => words.loopShort[loop])));
  return undefined;
}
