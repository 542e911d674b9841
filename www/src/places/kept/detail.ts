// One kept run: what it was, its measures beside another's, its strips; put on the board, made
// the double, replayed.

import type { Actions } from '../../actions';
import { button, el, letGoAfterPointer } from '../../dom';
import { words } from '../../words/kept';
import type { KeptMeasure, KeptRun } from './record';
import { replay } from './replay';
import type { KeptStrips } from './strips';
import { row, table } from './table';

export interface Around {
  readonly actions: Actions;
  readonly strips: KeptStrips;
  readonly runs: () => readonly KeptRun[];
  /** Measures of the present run, if it is over. */
  readonly present: () => readonly KeptMeasure[] | undefined;
  readonly remove: (run: KeptRun) => void;
  readonly save: (run: KeptRun) => void;
}

const NOBODY = '';
const PRESENT = 'present';
const DOUBLE = 'double';

export function makeDetail(run: KeptRun, around: Around): HTMLElement {
  const { actions } = around;
  const status = el('p', { class: 'note', role: 'status' });
  const facts = el('dl', { class: 'facts' });
  const say = (term: string, text: string): void => {
    facts.append(el('div', {}, el('dt', {}, term), el('dd', {}, text)));
  };
  const { facts: terms } = words.detail;
  say(terms.trial, run.title);
  say(terms.robot, run.robotName);
  say(terms.outcome, run.outcome);
  const { source } = run;
  say(terms.inputs, source.kind === 'live' ? words.detail.inputs(source.log.length) : words.detail.setting);
  say(terms.seed, String(source.kind === 'live' ? source.seed : (source.setting.seed ?? 0)));
  say(terms.model, String(run.modelVersion));
  say(terms.digest, run.digest);

  const acts = el('div', { class: 'acts' });
  const act = (text: string, press: () => void): HTMLButtonElement => {
    const made = button(text, { class: 'link' }, press);
    acts.append(made);
    return made;
  };
  act(words.detail.open, () => {
    actions.revisions.putSetting({ opened: run.opened, now: run.now }, words.detail.opened(run.name));
  });
  act(words.detail.double, () => {
    actions.doubleOf({ opened: run.opened, now: run.now }, run.name, run.name);
  });
  act(words.detail.replay, () => {
    status.textContent = words.replay.going;
    replay(run).then(
      (told) => {
        status.textContent = told;
      },
      (cause: unknown) => {
        status.textContent = words.replay.failed(cause instanceof Error ? cause.message : String(cause));
      },
    );
  });
  act(words.detail.export, () => {
    around.save(run);
  });
  act(words.detail.delete, () => {
    around.remove(run);
  });

  around.strips.show(run);
  return el(
    'section',
    { class: 'detail', 'aria-label': words.detail.title(run.name) },
    el('h2', {}, run.name),
    acts,
    status,
    facts,
    makeMeasures(run, around),
    around.strips.element,
  );
}

function makeMeasures(run: KeptRun, around: Around): HTMLElement {
  const pick = letGoAfterPointer(el('select', { 'aria-label': words.detail.compare }));
  const box = el('div', {});
  pick.append(el('option', { value: NOBODY }, words.detail.nobody), el('option', { value: PRESENT }, words.detail.present));
  const { double } = run;
  if (double !== undefined) pick.append(el('option', { value: DOUBLE }, words.detail.beside(double.label)));
  for (const other of around.runs()) if (other.id !== run.id) pick.append(el('option', { value: other.id }, other.name));
  const show = (): void => {
    const other =
      pick.value === PRESENT
        ? around.present()
        : pick.value === DOUBLE
          ? double?.measures
          : around.runs().find(({ id }) => id === pick.value)?.measures;
    const rows = run.measures.map((one) => {
      const beside = other?.find(({ key }) => key === one.key);
      const cells = [one.label, one.text];
      return row(other === undefined ? cells : [...cells, beside?.text ?? '–', change(one, beside)]);
    });
    const columns = words.detail.columns.slice(0, other === undefined ? 2 : 4);
    box.replaceChildren(table(words.detail.measures, columns, rows));
  };
  pick.addEventListener('change', show);
  if (double !== undefined) pick.value = DOUBLE;
  show();
  return el('div', { class: 'measures' }, el('label', { class: 'compare' }, `${words.detail.compare} `, pick), box);
}

/** From the run beside it to this one, in per cent where both have a number. */
export function change(one: KeptMeasure, beside: KeptMeasure | undefined): string {
  if (beside === undefined) return '';
  if (one.value === null || beside.value === null) return one.text === beside.text ? words.detail.same : '';
  const difference = one.value - beside.value;
  if (Math.abs(difference) <= 1e-9 * Math.max(Math.abs(one.value), Math.abs(beside.value))) return words.detail.same;
  const share = Math.abs(difference / beside.value) * 100;
  const text = Number.isFinite(share) && share < 1000 ? `${share < 10 ? share.toFixed(1) : share.toFixed(0)} %` : '';
  return difference > 0 ? words.detail.more(text) : words.detail.less(text);
}
