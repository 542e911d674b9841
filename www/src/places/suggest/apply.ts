// The suggested settings on the board's robot: one revision with a name, or nothing at all.

import type { Actions } from '../../actions';
import type { KnobChange } from '../../core/lab.suggest';
import { refused, type Board, type Refused } from '../../core/types';
import { suggestWords as words } from '../suggest.words';
import { loopOf } from './loops';

/** Whether the board's robot has all of these settings. */
export const has = (actions: Actions, changes: readonly KnobChange[]): boolean =>
  changes.every(({ key, to }) => actions.value(key)?.value === to);

/** Sets all or none. */
function turn(board: Board, changes: readonly KnobChange[], before: ReadonlyMap<string, number>): Refused | undefined {
  let left = [...changes];
  let wrong: Refused | undefined;
  // Some may have to wait for others: a few rounds.
  for (let round = 0; round <= changes.length && left.length > 0; round++) {
    left = left.filter(({ key, to }) => {
      const answer = board.setKnob(key, to);
      if (!refused(answer)) return false;
      wrong = answer;
      return true;
    });
  }
  if (left.length === 0) return undefined;
  for (let round = 0; round <= changes.length; round++) for (const [key, value] of before) board.setKnob(key, value);
  return wrong;
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
