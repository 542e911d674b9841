// The revision table: the newest changes of the robot, undo and redo. A row pressed brings its
// robot back.

import type { Actions } from '../actions';
import { button, el } from '../dom';
import { describe } from '../recorder';
import type { Revision } from '../revisions';
import { words } from '../words/page';

const SHOWN = 3;

/** The name that was given, then what was changed. */
export const rowText = (row: Revision): string => (row.name === '' ? describe(row) : `${row.name} (${describe(row)})`);

export function makeRevisions(actions: Actions): HTMLElement {
  const { revisions, store } = actions;
  const undo = button(words.revisions.undo, { class: 'link' }, () => {
    revisions.undo();
  });
  const redo = button(words.revisions.redo, { class: 'link' }, () => {
    revisions.redo();
  });
  const all = button('', { class: 'link' }, () => {
    store.set({ place: 'kept' });
  });
  const list = el('ol', {});
  const row = (one: Revision): HTMLElement => {
    const { history } = revisions;
    const current = one.id === history.current.id;
    const letter = history.letter(one.id);
    const press = button('', { class: 'line', title: rowText(one) }, () => {
      revisions.backTo(one.id);
    });
    press.append(
      el('span', { class: 'mark' }, letter),
      el('span', { class: 'name' }, one.name === '' ? describe(one) : one.name),
    );
    if (current) press.setAttribute('aria-current', 'true');
    // What was undone stays readable, and says so by more than its colour.
    return el('li', { class: history.leads(one.id) ? '' : 'undone' }, press);
  };
  const show = (): void => {
    const { history } = revisions;
    const { rows, before, after, current } = history;
    const at = rows.findIndex((one) => one.id === current.id);
    const end = Math.min(rows.length, Math.max(at + 2, SHOWN));
    const focused = [...list.children].findIndex((child) => child.contains(document.activeElement));
    list.replaceChildren(...rows.slice(Math.max(0, end - SHOWN), end).reverse().map(row));
    if (focused >= 0) list.children[Math.min(focused, list.children.length - 1)]?.querySelector('button')?.focus();
    set(undo, before !== undefined, before === undefined ? '' : words.revisions.undoTitle(describe(current)));
    set(redo, after !== undefined, after === undefined ? '' : words.revisions.redoTitle(describe(after)));
    all.textContent = words.revisions.all(rows.length);
  };
  revisions.onChange(show);
  show();
  return el(
    'section',
    { class: 'revisions', 'aria-label': words.revisions.title },
    el('header', {}, el('h2', {}, words.revisions.title), undo, redo, all),
    list,
  );
}

/** A button that cannot be pressed keeps the focus, so that the keyboard is not lost from it. */
function set(press: HTMLButtonElement, can: boolean, title: string): void {
  press.setAttribute('aria-disabled', String(!can));
  press.title = title;
}
