// What a search found, as tables: settings from and to, numbers before and after, all that was compared.

import type { KnobChange, SuggestOut } from '../../core/lab.suggest';
import { el, svg } from '../../dom';
import { suggestWords as words } from '../../words/suggest';

/** A heading; one over figures stands to the right as they do. */
type Head = string | { readonly figure: string };

function table(label: string, heads: readonly Head[], rows: readonly HTMLElement[], kind: string): HTMLElement {
  const cell = (head: Head): HTMLElement => {
    if (head === '') return el('td', {});
    return typeof head === 'string' ? el('th', { scope: 'col' }, head) : el('th', { scope: 'col', class: 'figure' }, head.figure);
  };
  const head = el('tr', {}, ...heads.map(cell));
  return el('div', { class: 'wide' }, el('table', { 'aria-label': label, class: kind }, el('thead', {}, head), el('tbody', {}, ...rows)));
}

/** Settings from where they stand to what is suggested. */
export function changesTable(changes: readonly KnobChange[]): HTMLElement {
  const { columns } = words;
  const rows = changes.map(({ key, label, view, fromText, toText, raw }) =>
    el(
      'tr',
      { 'data-knob': key },
      el('th', { scope: 'row' }, label),
      el('td', {}, words.view[view]),
      el('td', { class: 'figure' }, fromText),
      el('td', { class: 'arrow', 'aria-hidden': 'true' }, '→'),
      el('td', { class: 'figure to' }, toText),
      el('td', { class: 'figure' }, raw === '' ? words.noRaw : raw),
    ),
  );
  return table(words.changes, [columns.knob, columns.view, { figure: columns.from }, '', { figure: columns.to }, { figure: columns.raw }], rows, 'changes');
}

/** Numbers before and after, with their limits. */
export function rowsTable(out: SuggestOut): HTMLElement {
  const { rowColumns } = words;
  const rows = out.rows.map(({ key, label, before, after, limit, change, kept }) =>
    el(
      'tr',
      { 'data-row': key },
      el('th', { scope: 'row' }, label),
      el('td', { class: 'figure' }, before),
      el('td', { class: 'figure' }, after),
      el('td', { class: 'figure' }, limit),
      el('td', { class: change }, words.change[change]),
      el('td', { class: kept ? '' : 'broken' }, kept ? words.kept : words.notKept),
    ),
  );
  const heads = [
    rowColumns.what,
    { figure: rowColumns.before },
    { figure: rowColumns.after },
    { figure: rowColumns.limit },
    rowColumns.change,
    rowColumns.kept,
  ];
  return table(words.rows, heads, rows, 'beforeafter');
}

/** Width and height of a bar's drawing [px]. */
const WIDE = 170;
const HIGH = 16;
/** Score of the robot as it stood. */
const STOOD = 1;

/** Hatch of a bar whose settings pass a limit; once on the page. */
export const hatch = (): SVGElement =>
  svg(
    'svg',
    { class: 'defs', width: 0, height: 0, 'aria-hidden': 'true' },
    svg(
      'defs',
      {},
      svg(
        'pattern',
        { id: 'suggest-hatch', width: 5, height: 5, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
        svg('line', { x1: 0, y1: 0, x2: 0, y2: 5, class: 'hatch' }),
      ),
    ),
  );

/** Everything that was judged, with its score as a bar: filled what is suggested, hatched what passes a limit. */
export function comparedTable(out: SuggestOut): HTMLElement {
  const { comparedColumns } = words;
  const most = out.compared.reduce((top, { score }) => (score.limitsKept ? Math.max(top, score.score) : top), STOOD);
  const length = (score: number): number => (WIDE - 2) * (Math.min(score, most) / most);
  const rows = out.compared.map(({ key, label, score, text }) => {
    const kind = score.limitsKept ? (key === 'suggested' ? 'own' : 'plain') : 'passed';
    const bar = svg(
      'svg',
      { class: `bar ${kind}`, width: WIDE, height: HIGH, role: 'img', 'aria-label': words.bar(score.score, score.limitsKept) },
      svg('rect', { x: 1, y: 3, width: score.limitsKept ? length(score.score) : WIDE - 2, height: HIGH - 6 }),
      svg('line', { x1: 1 + length(STOOD), x2: 1 + length(STOOD), y1: 0, y2: HIGH }),
    );
    return el('tr', { 'data-settings': key, class: key === 'suggested' ? 'own' : '' }, el('th', { scope: 'row' }, label), el('td', {}, bar), el('td', {}, text));
  });
  return table(words.compared, [comparedColumns.settings, comparedColumns.bar, comparedColumns.text], rows, 'compared');
}
