// What came of a try: in words, as a table beside nobody, the software and the software with the visitor's delay,
// and as curves.

import type { ContestColumn, ContestOut } from '../../core/lab.types';
import { el } from '../../dom';
import type { Theme } from '../../theme';
import { handWords as words } from '../../words/hand';
import { Charts } from '../trials/charts';

const WITHIN = 'within_band';

/** Seconds within the band. */
export const withinOf = (column: ContestColumn): number => column.measures.find(({ key }) => key === WITHIN)?.value ?? 0;

/** The result as sentences. */
export function sentences(out: ContestOut, seconds: number, delay: number | undefined): string {
  const { person, nobody, software, late } = out;
  const short = (column: ContestColumn): string => withinOf(column).toFixed(1);
  const list = [words.result.held(short(person), seconds.toFixed(0), short(software))];
  if (person.seconds < seconds - 0.05) list.push(words.result.ended(person.outcome));
  const better = withinOf(person) - withinOf(nobody);
  list.push(better > 0.05 ? words.result.betterThanNobody(short(nobody)) : words.result.notBetter(short(nobody)));
  if (withinOf(person) > withinOf(software)) list.push(words.result.beaten);
  if (late !== undefined && delay !== undefined) list.push(words.result.late(Math.round(delay), short(late)));
  return list.join(' ');
}

export class ResultTable {
  readonly element = el('div', { class: 'handresult' });
  readonly #charts: Charts;

  constructor(theme: Theme) {
    this.#charts = new Charts(theme, { now: '--without-software', before: '--with-software' });
  }

  show(out: ContestOut): void {
    const columns: readonly (readonly [string, ContestColumn])[] = [
      [words.contest.you, out.person],
      [words.contest.nobody, out.nobody],
      [words.contest.software, out.software],
      ...(out.late === undefined ? [] : [[words.contest.late, out.late] as const]),
    ];
    const head = el('tr', {}, el('th', { scope: 'col' }, ''), ...columns.map(([name]) => el('th', { scope: 'col' }, name)));
    const rows = out.person.measures.map(({ key, label }) =>
      el(
        'tr',
        { 'data-measure': key },
        el('th', { scope: 'row' }, label),
        ...columns.map(([, column]) => el('td', {}, column.measures.find((one) => one.key === key)?.text ?? words.result.none)),
      ),
    );
    rows.push(
      el('tr', { 'data-measure': 'outcome' }, el('th', { scope: 'row' }, words.result.outcome), ...columns.map(([, { outcome }]) => el('td', {}, outcome))),
    );
    const table = el('table', {}, el('caption', { class: 'unseen' }, words.result.title), el('thead', {}, head), el('tbody', {}, ...rows));
    this.#charts.show(['swing', 'roll', 'tilt', 'duty'], out.strips, out.softwareStrips);
    this.element.replaceChildren(
      el('div', { class: 'wide' }, table),
      el('p', { class: 'small note' }, words.result.curves),
      this.#charts.element,
      el('p', { class: 'small note' }, out.equal ? words.result.equal(out.digest) : words.result.different),
    );
  }
}
