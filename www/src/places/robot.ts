// My robot: the ten numbers, what their guesses do, every value's mark, the parts ledger. One of
// the four is in sight; each is made when it is first chosen.

import './robot.css';
import { button, el } from '../dom';
import type { Place, PlaceContext } from './place';
import { makeLedger } from './robot/ledger';
import { makeMarks } from './robot/marks';
import { makeSpread } from './robot/spread';
import { makeStart } from './robot/start';
import { words } from '../words/robot';

type Name = keyof typeof words.parts.names;

export function make({ actions }: PlaceContext): Place {
  const makers: Readonly<Record<Name, () => HTMLElement>> = {
    start: () =>
      makeStart(actions, () => {
        choose('spread');
        presses.get('spread')?.focus();
      }),
    spread: () => makeSpread(actions),
    marks: () => makeMarks(actions),
    ledger: () => makeLedger(actions),
  };
  const made = new Map<Name, HTMLElement>();
  const presses = new Map<Name, HTMLButtonElement>();
  const index = el('nav', { class: 'rowof robotindex', 'aria-label': words.parts.label });
  const inside = el('div', { id: 'robot-inside' });
  const choose = (name: Name): void => {
    let section = made.get(name);
    if (section === undefined) {
      section = makers[name]();
      made.set(name, section);
    }
    inside.replaceChildren(section);
    for (const [of, press] of presses) press.setAttribute('aria-expanded', String(of === name));
  };
  for (const name of Object.keys(words.parts.names) as Name[]) {
    const press = button(words.parts.names[name], { class: 'link', 'aria-controls': 'robot-inside' }, () => {
      choose(name);
    });
    presses.set(name, press);
    index.append(press);
  }
  choose('start');
  return { element: el('div', { class: 'robotplace' }, index, inside) };
}
