// The same facts as a drawing's, as a table that is folded away until it is asked for.

import { el } from '../dom';
import { words } from '../words/page';

export interface AsTable {
  readonly element: HTMLElement;
  /** What the drawing shows has changed. */
  readonly renew: () => void;
}

/** `rows` is asked only while the table is open. */
export function asTable(caption: () => string, head: readonly string[], rows: () => readonly (readonly string[])[]): AsTable {
  const box = el('div', { class: 'wide' });
  const element = el('details', { class: 'astable' }, el('summary', {}, words.asTable), box);
  const renew = (): void => {
    if (!element.open) return;
    const body = el('tbody', {}, ...rows().map(([first = '', ...others]) => el('tr', {}, el('th', { scope: 'row' }, first), ...others.map((one) => el('td', {}, one)))));
    box.replaceChildren(
      el('table', {}, el('caption', { class: 'unseen' }, caption()), el('thead', {}, el('tr', {}, ...head.map((one) => el('th', { scope: 'col' }, one)))), body),
    );
  };
  element.addEventListener('toggle', renew);
  return { element, renew };
}
