// What a press, a hold and a key on a map do to the robot and the page.

import type { Actions } from '../../actions';
import type { MapPlan } from '../../core/lab.map';
import { refused } from '../../core/types';
import { mapWords as words } from '../../words/map';
import type { Spot } from './draw';
import { onAxis, type FigureHands } from './figure';
import { valueOf } from './model';
import { turn, type Played, type Player } from './play';

/** `plan` is the map that is shown, `played` the robot that it is of. */
export function makeHands(
  actions: Actions,
  player: Player,
  plan: () => MapPlan | undefined,
  played: () => Omit<Played, 'knobs'> | undefined,
): FigureHands {
  /** The two knobs of a cell [SI]. */
  const knobsAt = (spot: Spot): Played['knobs'] => {
    const at = plan();
    if (at === undefined) return [];
    return [
      [at.x.key, valueOf(at.x, spot.x)],
      [at.y.key, valueOf(at.y, spot.y)],
    ];
  };
  const inWords = (spot: Spot): readonly [string, string] => {
    const at = plan();
    return at === undefined ? ['', ''] : [onAxis(at.x, valueOf(at.x, spot.x)), onAxis(at.y, valueOf(at.y, spot.y))];
  };
  return {
    robot: (x, y) => {
      const [a, b] = [actions.value(x), actions.value(y)];
      return a === undefined || b === undefined ? undefined : [a.value, b.value];
    },
    become: (spot) => {
      const knobs = knobsAt(spot);
      const before = knobs.map(([key]): readonly [string, number] => [key, actions.value(key)?.value ?? Number.NaN]);
      if (knobs.every(([, value], index) => before[index]?.[1] === value)) return;
      const answer = actions.change(words.became, (board) => {
        const problems = turn(board, knobs);
        // What was set before the other was refused goes back.
        if (problems.length > 0) turn(board, before);
        return problems.length > 0 ? { problems } : undefined;
      });
      if (refused(answer)) actions.notice(words.refused(answer.problems[0]?.expected ?? ''));
      else actions.tell(words.becameTold(...inWords(spot)));
    },
    play: (spot, height, told) => {
      const what = played();
      if (what === undefined) return;
      const [x, y] = inWords(spot);
      const text = words.playing(`${y}, ${x}`);
      told(text);
      let note = '';
      const failed = (reason: string): void => {
        told(words.playFailed(reason));
        actions.tell(words.playFailed(reason));
      };
      player
        .play({ ...what, knobs: knobsAt(spot) }, text, height, {
          told: (out) => {
            told([words.playRun(out.outcome), note].filter((part) => part !== '').join('. '));
            actions.tell(`${text}. ${out.outcome}`);
          },
          failed: (problems) => {
            failed(problems[0]?.expected ?? '');
          },
          stands: () => {
            note = words.playStands;
          },
        })
        .catch((cause: unknown) => {
          failed(String(cause));
        });
    },
    still: () => {
      player.still();
    },
    tell: (text) => {
      actions.tell(text);
    },
  };
}
