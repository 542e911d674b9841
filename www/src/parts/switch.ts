// The switch. Visitors see two positions, software off and on; with "all knobs" it shows all
// three: motors off, locked, steadied.

import { LOCKED, OFF, STEADIED, type Level } from '../core/types';
import type { Actions } from '../actions';
import { button, el } from '../dom';
import { words } from '../words/page';

export function makeSwitch(actions: Actions): HTMLElement {
  const group = el('div', { class: 'switch', role: 'radiogroup', 'aria-label': words.software });
  const make = (level: Level): HTMLButtonElement =>
    button('', { role: 'radio', class: `level-${level}` }, () => {
      actions.level(level);
    });
  const positions: readonly (readonly [Level, HTMLButtonElement])[] = [
    [OFF, make(OFF)],
    [LOCKED, make(LOCKED)],
    [STEADIED, make(STEADIED)],
  ];
  group.append(el('span', { class: 'name', 'aria-hidden': 'true' }, words.software));
  for (const [, position] of positions) group.append(position);

  const shown = (): (readonly [Level, HTMLButtonElement])[] =>
    positions.filter(([, position]) => !position.hidden);
  // As a radio group: one stop for Tab, arrows move within.
  group.addEventListener('keydown', (event) => {
    const way = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (way === undefined) return;
    const list = shown();
    const at = list.findIndex(([level]) => level === actions.store.state.level);
    // Not round and round: with the software on, the next → drives.
    const next = list[at + way];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    actions.level(next[0]);
    next[1].focus();
  });

  actions.store.watch(['level', 'allKnobs'], ({ level, allKnobs }) => {
    const three = allKnobs || level === LOCKED;
    for (const [of, position] of positions) {
      position.hidden = of === LOCKED && !three;
      const simple = of === STEADIED ? words.softwareOn : words.softwareOff;
      position.textContent = three ? words.levels[of] : simple;
      const chosen = of === level;
      position.setAttribute('aria-checked', String(chosen));
      position.tabIndex = chosen ? 0 : -1;
    }
  });
  return group;
}
