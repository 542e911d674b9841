// The show-day check of the robot on the board: in one sentence, with the first reason why not and
// what to change next; then trial by trial.

import type { CheckedTrial, SetOut, VerdictRow } from '../../core/lab.types';
import { el } from '../../dom';
import { words } from '../../words/robot';
import { table } from './table';

/** What to change next about a limit that is broken. */
function advice(trial: CheckedTrial, row: VerdictRow): string {
  const { verdict } = words;
  const told = row.measure === '' ? verdict.outcomes[trial.outcomeClass] : verdict.measures[row.measure];
  return told ?? verdict.other;
}

/** In one sentence: steadied, or the first reason why not. */
export function verdictLine(name: string, set: SetOut): { readonly text: string; readonly reason: string; readonly next: string } {
  const { verdict } = words;
  const broken = set.trials.filter(({ holds }) => !holds);
  const kicks = set.trials.filter(({ trial }) => trial === 'kick');
  const first = broken[0];
  const row = first?.rows.find(({ holds }) => !holds);
  const settled = kicks.length > 0 && kicks.every(({ outcomeClass }) => outcomeClass === 'settled');
  if (first === undefined || row === undefined) {
    return { text: verdict.steadied(name, kicks[0]?.outcome ?? ''), reason: '', next: '' };
  }
  return {
    text: settled ? verdict.kickBut(name, broken.length) : verdict.notYet(name, broken.length, set.trials.length),
    reason: verdict.reason(first.title, row.label, row.found, row.limit),
    next: advice(first, row),
  };
}

/** The whole of it. */
export function makeVerdict(name: string, set: SetOut): HTMLElement {
  const { verdict } = words;
  const line = verdictLine(name, set);
  const rows = set.trials.flatMap((trial) =>
    trial.rows.map((row, index) => [
      index === 0 ? trial.title : '',
      index === 0 ? trial.outcome : '',
      `${row.label} ${row.limit}`,
      row.found,
      row.holds ? verdict.holds : el('span', { class: 'broken' }, verdict.breaks),
      row.holds ? '' : advice(trial, row),
    ]),
  );
  return el(
    'div',
    { class: 'verdictof' },
    el('p', { class: 'line1' }, line.text),
    line.reason === '' ? undefined : el('p', { class: 'broken' }, line.reason),
    line.next === '' ? undefined : el('p', {}, el('strong', {}, words.verdict.change), ` ${line.next}`),
    el('details', {}, el('summary', {}, `${verdict.title}: ${set.summary}`), table(verdict.title, verdict.columns, rows)),
    el('p', { class: 'note' }, verdict.caution),
  );
}
