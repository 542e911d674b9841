// Tables and dates, as this place writes them.

import { language } from '../../words/language';
import { el } from '../../dom';

type Cell = string | Node;

export function row(cells: readonly Cell[], attributes: Readonly<Record<string, string | undefined>> = {}): HTMLTableRowElement {
  const [first = '', ...rest] = cells;
  return el('tr', attributes, el('th', { scope: 'row' }, first), ...rest.map((cell) => el('td', {}, cell)));
}

/** A table that scrolls sideways by itself when it is wider than the page. */
export function table(label: string, columns: readonly string[], rows: readonly HTMLTableRowElement[]): HTMLElement {
  const heads = columns.map((text) => (text === '' ? el('td', {}) : el('th', { scope: 'col' }, text)));
  return el(
    'div',
    { class: 'tablebox', role: 'region', tabindex: 0, 'aria-label': label },
    el('table', {}, el('thead', {}, el('tr', {}, ...heads)), el('tbody', {}, ...rows)),
  );
}

const DAY = new Intl.DateTimeFormat(language === 'en' ? 'en-GB' : language, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });
export const when = (at: number): string => DAY.format(at);

/** Saves text or bytes as a file of the visitor's. */
export function download(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob);
  el('a', { href: url, download: name }).click();
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 10_000);
}
