// Where the system asks for less motion the board and its strips show stills: one each half second, and one
// for whatever a hand does. The run itself goes on in true time; a press shows it in motion after all.

import type { Actions } from './actions';
import { button, el, say } from './dom';
import type { State } from './store';
import { words } from './words/page';

const asked = window.matchMedia('(prefers-reduced-motion: reduce)');

/** From still to still [ms]. */
export const STILL_EVERY = 500;

export const stillsWanted = (state: State): boolean => asked.matches && !state.motion;

/** Says that stills are shown, with the press that shows motion; there only for those who asked for stills. */
export function makeStills(actions: Actions, changed: () => void): HTMLElement {
  const { store } = actions;
  const said = el('span', {});
  const press = button('', { class: 'link' }, () => {
    store.set({ motion: !store.state.motion });
  });
  const element = el('p', { class: 'stills' }, said, press);
  const show = (): void => {
    const { motion } = store.state;
    element.hidden = !asked.matches;
    say(said, motion ? words.board.inMotion : words.board.stills(STILL_EVERY / 1000));
    say(press, motion ? words.board.still : words.board.motion);
    changed();
  };
  asked.addEventListener('change', show);
  store.watch(['motion'], show);
  return element;
}
