// The visitor's own robot while a lesson stands on the board: put away as it is, written down in
// case the page goes away, given back at the end. In the table of revisions it is a row as well.

import type { Actions } from '../../actions';
import { demoFile } from '../../core/demos';
import { onScratch } from '../../core/scratch';
import { setAll } from '../../core/setall';
import { FRONT, SIDE, type Board, type Level, type Problem } from '../../core/types';
import { NOTHING_YET } from '../../parts/firstminute';
import type { Setting } from '../../revisions';
import { words } from '../../words/lessons';
import { clear, giveStand, standOf, type Stand } from '../stand';
import { AWAY } from './asked';
import { LEVELS, type Sets } from './format';

/** All that a lesson may change. */
interface Away extends Stand {
  readonly setting: Setting;
}

/** Said when an earlier visit's robot is given back. */
export const given = (): string => words.givenBack;

let away: Away | undefined;

/** Puts the robot away, unless it is already, and the lesson's on the board; answers with what was wrong. */
export async function putAway(actions: Actions, sets: Sets, title: string): Promise<readonly Problem[]> {
  const { board, store, revisions } = actions;
  const now = { opened: board.openedFile(), now: board.robotFile() };
  const setting = await settingOf(sets, away?.setting ?? now);
  if ('problems' in setting) return setting.problems;
  if (away === undefined) {
    away = { setting: now, ...standOf(actions) };
    writeDown(away);
  }
  clear(actions);
  if (!revisions.putSetting(setting, words.revision(title))) return store.state.problems;
  actions.show(sets.view ?? 'side');
  actions.level(Math.max(0, LEVELS.indexOf(sets.level ?? 'off')) as Level);
  const { robot } = store.state;
  store.set({
    rate: 1,
    kick: [
      { impulse: robot.kick[SIDE], height: robot.radius },
      { impulse: robot.kick[FRONT], height: robot.radius },
    ],
    bump: robot.bump,
  });
  actions.resetRun();
  return [];
}

/** Gives back what was put away, if anything was. */
export function giveBack(actions: Actions): void {
  const back = away;
  away = undefined;
  forget();
  if (back === undefined) return;
  restore(actions, back);
}

/** Gives back what an earlier visit left put away; answers whether there was anything. */
export function giveBackOfEarlier(actions: Actions): boolean {
  if (away !== undefined) return false;
  let text: string | null = null;
  try {
    text = localStorage.getItem(AWAY);
  } catch {
    return false;
  }
  if (text === null) return false;
  forget();
  let back: Away;
  try {
    back = JSON.parse(text) as Away;
    if (typeof back.setting.now !== 'string' || typeof back.setting.opened !== 'string') return false;
  } catch {
    return false;
  }
  restore(actions, back);
  return true;
}

function restore(actions: Actions, back: Away): void {
  const { board, revisions } = actions;
  clear(actions);
  const same = board.robotFile() === back.setting.now && board.openedFile() === back.setting.opened;
  if (!same) revisions.putSetting(back.setting, words.revisionBack);
  // An older page may have written fewer facts.
  giveStand(actions, { ...back, facts: { ...NOTHING_YET, ...back.facts } });
}

function writeDown(what: Away): void {
  try {
    localStorage.setItem(AWAY, JSON.stringify(what));
  } catch {
    // It is a revision too.
  }
}

function forget(): void {
  try {
    localStorage.removeItem(AWAY);
  } catch {
    // Nothing was written then.
  }
}

/** The robot that a lesson begins with, tried out on a board that nobody sees. */
async function settingOf(sets: Sets, own: Setting): Promise<Setting | { readonly problems: readonly Problem[] }> {
  const demo = sets.robot === 'own' ? undefined : await demoFile(sets.robot);
  return onScratch((board) => {
    const opened = sets.robot === 'own' ? board.restore(own.opened, own.now) : board.openRobot(demo ?? '');
    const wrong = opened.problems.filter(({ severity }) => severity === 'error');
    if (wrong.length > 0) return { problems: wrong };
    const problems = setKnobs(board, Object.entries(sets.knobs ?? {}));
    return problems.length > 0 ? { problems } : { opened: board.openedFile(), now: board.robotFile() };
  });
}

/** Sets knobs. Gives what was refused. */
function setKnobs(board: Board, knobs: readonly (readonly [string, number | string])[]): readonly Problem[] {
  const catalogue = new Map(board.catalogue().map((info) => [info.key, info]));
  const stuck = setAll(knobs, ([key, to]) => {
    if (typeof to === 'number') return board.setKnob(key, to);
    const info = catalogue.get(key);
    return info?.kind === 'choice' ? board.setKnob(key, info.words.indexOf(to)) : board.typeKnob(key, to);
  });
  return stuck.flatMap(({ problems }) => problems);
}
