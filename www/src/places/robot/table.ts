// Tables of this place: ruled as the drawing's, scrolling in their own box.

import { el } from '../../dom';

type Cell = Node | string;

/** A table in a box that can be scrolled by keyboard. Columns from `figures` on hold figures. */
export function table(
  label: string,
  head: readonly Cell[],
  rows: readonly (readonly Cell[])[],
  figures = head.length,
): HTMLElement {
  const kind = (index: number): string | undefined => (index >= figures ? 'figure' : undefined);
  return el(
    'div',
    { class: 'wide', role: 'region', tabindex: 0, 'aria-label': label },
    el(
      'table',
      {},
      el('thead', {}, el('tr', {}, ...head.map((cell, index) => (cell === '' ? el('td') : el('th', { scope: 'col', class: kind(index) }, cell))))),
      el(
        'tbody',
        {},
        ...rows.map((row) =>
          el('tr', {}, ...row.map((cell, index) => (index === 0 && cell !== '' ? el('th', { scope: 'row' }, cell) : el('td', { class: kind(index) }, cell)))),
        ),
      ),
    ),
  );
}
