// What a step of a lesson puts at hand: presses that do what the board's own do, and knobs.

import type { Actions } from '../../actions';
import { LOCKED, OFF, STEADIED } from '../../core/types';
import { button, el } from '../../dom';
import { Knob } from '../../parts/knob';
import { words } from '../../words/lessons';
import type { Press } from './format';
import { isDown } from './scene';

/** What lies there stands up first. */
export function standUp(actions: Actions): void {
  const { active } = actions.store.state;
  if (actions.headLost[active] || isDown(actions.board.results(active).outcomeClass)) actions.resetRun();
}

export function makePresses(list: readonly Press[], actions: Actions, drive: () => void): HTMLElement {
  const acts: Readonly<Record<Press, () => void>> = {
    kick: () => {
      standUp(actions);
      actions.kick(actions.store.state.active);
    },
    bump: () => {
      standUp(actions);
      actions.bump(actions.store.state.active);
    },
    off: () => {
      actions.level(OFF);
    },
    locked: () => {
      actions.level(LOCKED);
    },
    on: () => {
      actions.level(STEADIED);
    },
    drive,
    again: () => {
      actions.resetRun();
    },
  };
  const row = el('div', { class: 'rowof presses', role: 'group', 'aria-label': words.presses });
  for (const press of list) row.append(button(words.press[press], { class: 'act', 'data-press': press }, acts[press]));
  return row;
}

/** The page's store forgets no listener: all knobs of all steps hear it through one. */
const shown = new Set<LessonKnobs>();
const heard = new WeakSet<Actions>();

export class LessonKnobs {
  readonly element = el('div', { class: 'lessonknobs' });
  readonly #knobs: readonly Knob[];

  constructor(keys: readonly string[], actions: Actions) {
    this.#knobs = keys.filter((key) => actions.knobs.has(key)).map((key) => new Knob(key, actions));
    this.element.append(...this.#knobs.map(({ element }) => element));
    shown.add(this);
    if (heard.has(actions)) return;
    heard.add(actions);
    actions.store.watch(['knobs'], () => {
      for (const one of shown) one.#refresh();
    });
  }

  away(): void {
    shown.delete(this);
  }

  #refresh(): void {
    for (const knob of this.#knobs) knob.refresh();
  }
}
