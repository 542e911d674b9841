// The report's tables: what each part bears, axle against rim, other cells, cautions.

import type { KnobChange, PowerOut, SupplyRow } from '../../core/lab.power';
import { button, el } from '../../dom';
import { powerWords as words } from '../../words/power';

export const row = (...cells: (HTMLElement | undefined)[]): HTMLElement => el('tr', {}, ...cells.filter((cell) => cell !== undefined));

const heads = (texts: readonly string[], figures = false): HTMLElement => {
  const head = (text: string, index: number): HTMLElement =>
    text === '' ? el('td', {}) : el('th', figures && index > 0 ? { scope: 'col', class: 'figure' } : { scope: 'col' }, text);
  return el('thead', {}, el('tr', {}, ...texts.map(head)));
};

/** How a row stands, in a word; past a limit also in the limit's colour. */
export const stand = (verdict: SupplyRow['verdict']): HTMLElement =>
  el('td', verdict === 'past' ? { class: 'broken' } : {}, words.stands[verdict]);

/** Rows of the report as a table. */
export function reportTable(rows: readonly SupplyRow[]): HTMLElement {
  const body = el('tbody', {});
  for (const { key, label, text, verdict } of rows) {
    body.append(el('tr', { 'data-row': key }, el('th', { scope: 'row' }, label), el('td', {}, text), stand(verdict)));
  }
  const { what, value, stands } = words.columns;
  return el('div', { class: 'wide' }, el('table', {}, heads([what, value, stands]), body));
}

const GROUPS = ['wire', 'driver', 'windings', 'regulators', 'battery'];

export function groups(out: PowerOut): HTMLElement[] {
  return GROUPS.map((group) =>
    el(
      'section',
      { 'data-group': group, 'aria-label': words.groups[group] ?? group },
      el('h3', {}, words.groups[group] ?? group),
      reportTable(out.rows.filter((one) => one.group === group)),
    ),
  );
}

export function axleTable({ axle }: PowerOut): HTMLElement {
  const { columns } = words.axle;
  const name = (kind: 'axle' | 'rim'): string => (axle.own === kind ? words.axle.is(columns[kind]) : columns[kind]);
  const body = el('tbody', {});
  for (const one of axle.rows) {
    const cell = (text: string, past: boolean): HTMLElement => el('td', past ? { class: 'broken' } : {}, text);
    body.append(row(el('th', { scope: 'row' }, one.label), cell(one.axle, one.axlePast), cell(one.rim, one.rimPast)));
  }
  return el(
    'div',
    {},
    el('p', { class: 'note' }, words.axle.about(axle.swing, axle.speed, axle.torque)),
    el('div', { class: 'wide' }, el('table', {}, heads([columns.what, name('axle'), name('rim')]), body)),
    el('p', { class: 'note' }, words.axle.share(axle.share)),
  );
}

export function cellsTable(out: PowerOut, turn: (changes: readonly KnobChange[], because: string) => void): HTMLElement {
  const { columns } = words.cells;
  const body = el('tbody', {});
  for (const one of out.presets) {
    const press = one.now
      ? el('span', {}, words.cells.now)
      : one.changes.length === 0
        ? undefined
        : button(words.cells.take, { class: 'act', 'aria-label': words.cells.taken(one.name), 'data-id': `cells ${one.name}` }, () => {
            turn(one.changes, words.cells.because(one.name));
          });
    const cell = (text: string): HTMLElement => el('td', { class: 'figure' }, text);
    body.append(
      row(
        el('th', { scope: 'row' }, one.name),
        cell(one.voltage),
        cell(one.full),
        cell(one.charged),
        cell(one.floor),
        cell(one.resistance),
        el('td', {}, press),
      ),
    );
  }
  return el('div', { class: 'wide' }, el('table', {}, heads(Object.values(columns), true), body));
}

export function cautions(out: PowerOut): HTMLElement {
  return el('ul', { class: 'cautions' }, ...out.cautions.map(({ text, see }) => el('li', {}, words.cautions.see(text, see))));
}
