// The show-day check: trials with limits of the visitor's own, run by one press, with one sheet of
// verdicts. The set is edited as its file; every edit is read by the core before it counts.

import { lab } from '../../core/lab';
import type { LabCatalogue, LimitedTrialOut, LimitsOut, SetOut } from '../../core/lab.types';
import { refused } from '../../core/types';
import { button, el } from '../../dom';
import type { PlaceContext } from '../place';
import { said } from '../../words/core';
import { trialWords } from '../../words/trials';
import { copies, Running, type Bench } from './bench';
import { fileOf, recallLimits, rememberLimits, textOf, type LimitedTrial, type LimitsFile } from './limitsfile';

const words = trialWords.set;
const MOST_BYTES = 200_000;

/** A bare number is meant in the unit shown; the file would take it in SI. */
const withUnit = (text: string, unit: string): string =>
  /^[-+−]?[\d.,]+(e[-+]?\d+)?$/i.test(text.trim()) && unit !== '' ? `${text.trim()} ${unit}` : text.trim();

export class ShowDay {
  readonly element: HTMLElement;
  readonly #rows = el('div', { class: 'wide' });
  readonly #name = el('input', { type: 'text', maxlength: 60, 'data-id': 'name' });
  readonly #add = el('select', { 'aria-label': words.add, 'data-id': 'add' });
  readonly #run: HTMLButtonElement;
  readonly #running: Running;
  readonly #sheet = el('section', { class: 'verdicts' });
  readonly #stale = el('p', { class: 'note' }, words.stale);
  #file: LimitsFile | undefined;
  #told: LimitsOut | undefined;
  #catalogue: LabCatalogue | undefined;
  #warned = false;

  constructor(
    private readonly context: PlaceContext,
    private readonly bench: Bench,
  ) {
    const input = el('input', { type: 'file', accept: '.json,application/json', hidden: true });
    input.addEventListener('change', () => {
      const file = input.files?.[0];
      if (file !== undefined) void this.#open(file);
      input.value = '';
    });
    this.#run = button(words.run, { class: 'act', 'data-act': 'check' }, () => void this.#check());
    this.#running = new Running(context.actions, [this.#run]);
    this.#name.addEventListener('change', () => {
      void this.#edit((file) => {
        file.name = this.#name.value;
      });
    });
    this.#add.addEventListener('change', () => {
      this.#addTrial(this.#add.value);
    });
    this.#stale.hidden = true;
    this.element = el(
      'div',
      {},
      el('p', { class: 'note' }, words.about),
      el(
        'div',
        { class: 'twosided' },
        el(
          'div',
          { class: 'trialform' },
          el('div', { class: 'rowof presses' }, this.#run),
          this.#running.element,
          el('div', { class: 'field named' }, el('label', {}, words.name, ' ', this.#name)),
          this.#rows,
          el(
            'div',
            { class: 'rowof' },
            this.#add,
            button(words.open, { class: 'link' }, () => {
              input.click();
            }),
            button(words.save, { class: 'link' }, () => {
              this.#save();
            }),
            button(words.usual, { class: 'link' }, () => void this.#usual()),
            input,
          ),
        ),
        this.#sheet,
      ),
    );
    bench.onCatalogue((catalogue) => {
      this.#catalogue = catalogue;
      this.#offer();
      void this.#begin();
    });
    bench.onChange(() => {
      this.#stale.hidden = false;
    });
  }

  closed(): void {
    this.#running.cancel();
  }

  #offer(): void {
    const trials = this.#catalogue?.trials ?? [];
    const options = trials.flatMap(({ key, views }) =>
      views.map(({ view }) => el('option', { value: `${key} ${view}` }, `${said(key)}, ${trialWords.views[view]}`)),
    );
    this.#add.replaceChildren(el('option', { value: '' }, words.add), ...options);
    this.#add.value = '';
  }

  /** What was remembered, else the usual set; with the words of the units now shown. */
  async #begin(): Promise<void> {
    if (this.#file !== undefined) {
      await this.#take(textOf(this.#file));
      return;
    }
    const text = recallLimits();
    if (text !== undefined && (await this.#take(text))) return;
    if (text !== undefined) this.context.actions.notice(words.damaged);
    await this.#take(this.#catalogue?.usualLimits ?? '');
  }

  /** Takes a limits file if the core does; else shows what is wrong with it. */
  async #take(text: string): Promise<boolean> {
    const answer = await lab().run('limits', { limits: text, inches: this.bench.inches });
    if (refused(answer)) {
      this.#running.show(answer.problems);
      return false;
    }
    this.#running.show([]);
    this.#file = fileOf(text);
    this.#told = answer as LimitsOut;
    this.#running.ready();
    this.#render();
    return true;
  }

  async #edit(change: (file: LimitsFile) => void): Promise<void> {
    if (this.#file === undefined) return;
    const next = structuredClone(this.#file);
    change(next);
    const text = textOf(next);
    if (!(await this.#take(text))) return;
    this.#stale.hidden = false;
    if (!rememberLimits(text) && !this.#warned) {
      this.#warned = true;
      this.context.actions.notice(words.refused);
    }
  }

  #addTrial(chosen: string): void {
    this.#add.value = '';
    const [key, view] = chosen.split(' ');
    const trial = this.#catalogue?.trials.find((one) => one.key === key);
    if (trial === undefined || view === undefined) return;
    const row: LimitedTrial = { trial: trial.key, view };
    if (trial.fault) row.limits = { run_out_distance: { max: '1 m' } };
    else row.outcomes = ['settled'];
    void this.#edit((file) => {
      file.trials.push(row);
    });
  }

  #render(): void {
    const { activeElement } = document;
    const focused = activeElement instanceof HTMLElement && this.element.contains(activeElement) ? activeElement.dataset['id'] : undefined;
    if (document.activeElement !== this.#name) this.#name.value = this.#told?.name ?? '';
    const heads = [words.columns.trial, words.columns.measure, words.columns.end, words.columns.value];
    const body = el('tbody', {});
    this.#told?.trials.forEach((trial, index) => {
      this.#rowsOf(trial, index).forEach((row) => {
        body.append(row);
      });
    });
    this.#rows.replaceChildren(
      el('table', { class: 'limits' }, el('thead', {}, el('tr', {}, ...heads.map((text) => el('th', { scope: 'col' }, text)), el('td', {}))), body),
    );
    if (focused === undefined) return;
    const again = this.element.querySelector(`[data-id="${CSS.escape(focused)}"]`);
    if (again instanceof HTMLElement) again.focus({ preventScroll: true });
  }

  #rowsOf(trial: LimitedTrialOut, index: number): HTMLElement[] {
    const rows: HTMLElement[] = [];
    const numbers = trial.numbers.map(({ label, text }) => `${label} ${text}`).join(', ');
    const remove = (what: string, id: string, change: (file: LimitsFile) => void): HTMLElement =>
      button('×', { class: 'link', 'aria-label': words.remove(what), title: words.remove(what), 'data-id': id }, () => void this.#edit(change));
    const outcome = el('select', { 'aria-label': `${trial.title}: ${words.outcome}`, 'data-id': `${index} outcome` });
    const wanted = trial.outcomes.join(' or ');
    const keys = this.#catalogue?.outcomes ?? [];
    outcome.append(el('option', { value: '' }, words.anyOutcome), ...keys.map((key) => el('option', { value: key }, key)));
    if (wanted !== '' && !keys.includes(wanted)) outcome.append(el('option', { value: wanted }, wanted));
    outcome.value = wanted;
    outcome.addEventListener('change', () => {
      void this.#edit((file) => {
        const row = file.trials[index];
        if (row === undefined) return;
        if (outcome.value === '') delete row.outcomes;
        else row.outcomes = outcome.value.split(' or ');
      });
    });
    const name = el('th', { scope: 'rowgroup', rowspan: trial.limits.length + 2 }, trial.title);
    if (numbers !== '') name.append(el('span', { class: 'hint' }, numbers));
    rows.push(
      el(
        'tr',
        { class: 'first' },
        name,
        el('td', {}, words.outcome),
        el('td', { colspan: 2 }, outcome),
        el('td', {}, remove(trial.title, `${index} remove`, (file) => file.trials.splice(index, 1))),
      ),
    );
    for (const limit of trial.limits) {
      const ends = (['max', 'min'] as const).filter((end) => limit[end] !== undefined);
      const cells = ends.map((end) => {
        const id = `${index} ${limit.measure} ${end}`;
        const box = el('input', {
          type: 'text',
          value: limit[end] ?? '',
          'aria-label': words.value(trial.title, limit.label, words.ends[end]),
          'data-id': id,
        });
        box.addEventListener('change', () => {
          void this.#edit((file) => {
            const of = file.trials[index]?.limits?.[limit.measure];
            if (of !== undefined) of[end] = withUnit(box.value, limit.unit);
          });
        });
        return box;
      });
      rows.push(
        el(
          'tr',
          {},
          el('td', {}, limit.label),
          el('td', {}, ends.map((end) => words.ends[end]).join(', ')),
          el('td', {}, ...cells),
          el(
            'td',
            {},
            remove(`${trial.title}: ${limit.label}`, `${index} ${limit.measure} remove`, (file) => {
              const row = file.trials[index];
              if (row?.limits === undefined) return;
              const { [limit.measure]: _gone, ...rest } = row.limits;
              if (Object.keys(rest).length > 0) row.limits = rest;
              else {
                delete row.limits;
                row.outcomes ??= ['settled'];
              }
            }),
          ),
        ),
      );
    }
    rows.push(el('tr', {}, el('td', { colspan: 4 }, this.#adder(trial, index))));
    return rows;
  }

  #adder(trial: LimitedTrialOut, index: number): HTMLElement {
    const views = this.#catalogue?.trials.find(({ key }) => key === trial.trial)?.views;
    const measures = views?.find(({ view }) => view === trial.view)?.measures ?? [];
    const free = measures.filter(({ key }) => !trial.limits.some(({ measure }) => measure === key));
    const select = el('select', { 'aria-label': words.limitOf(trial.title), 'data-id': `${index} add` });
    select.append(el('option', { value: '' }, words.addLimit), ...free.map(({ key, label }) => el('option', { value: key }, label)));
    select.addEventListener('change', () => {
      const measure = free.find(({ key }) => key === select.value);
      if (measure === undefined) return;
      void this.#edit((file) => {
        const row = file.trials[index];
        if (row === undefined) return;
        row.limits = { ...row.limits, [measure.key]: { max: withUnit('1', measure.unit) } };
      });
    });
    return select;
  }

  async #check(): Promise<void> {
    if (this.#file === undefined) return;
    this.#stale.hidden = true;
    const out = await this.#running.run('set', { ...this.bench.robot(), limits: textOf(this.#file) }, words.what);
    if (out === undefined) return;
    this.#show(out);
    this.#sheet.scrollIntoView({ block: 'nearest' });
    this.context.actions.tell(out.summary);
  }

  #show(out: SetOut): void {
    const body = el('tbody', {});
    for (const trial of out.trials) {
      trial.rows.forEach((row, index) => {
        const verdict = row.holds ? words.holds : words.broken;
        body.append(
          el(
            'tr',
            { 'data-holds': String(row.holds) },
            ...(index === 0 ? [el('th', { scope: 'rowgroup', rowspan: trial.rows.length }, trial.title)] : []),
            el('td', {}, row.label),
            el('td', { class: 'figure' }, row.limit),
            el('td', { class: row.measure === '' ? '' : 'figure' }, row.found),
            el('td', row.holds ? {} : { class: 'broken' }, verdict),
          ),
        );
      });
    }
    const { heads } = words;
    const head = [heads.trial, heads.measure, heads.limit, heads.found, heads.verdict];
    this.#sheet.replaceChildren(
      el('h2', {}, words.sheet),
      el('p', { class: out.holds ? 'outcome' : 'outcome broken', 'data-summary': true }, out.summary),
      this.#stale,
      el('div', { class: 'wide' }, el('table', {}, el('thead', {}, el('tr', {}, ...head.map((text) => el('th', { scope: 'col' }, text)))), body)),
      copies(this.context.actions, () => [
        [trialWords.copyMarkdown, trialWords.markdown, out.markdown],
        [trialWords.copyCsv, trialWords.csv, out.csv],
      ]),
    );
  }

  async #usual(): Promise<void> {
    if (await this.#take(this.#catalogue?.usualLimits ?? '')) {
      this.#stale.hidden = false;
      rememberLimits(undefined);
    }
  }

  async #open(file: File): Promise<void> {
    const { actions } = this.context;
    let text: string;
    try {
      // A longer one is refused by the core; no need to read all of it.
      text = await file.slice(0, MOST_BYTES + 1).text();
    } catch {
      actions.notice(words.unreadable(file.name));
      return;
    }
    if (!(await this.#take(text))) return;
    this.#stale.hidden = false;
    rememberLimits(text);
    actions.notice(words.opened(file.name));
  }

  #save(): void {
    if (this.#file === undefined) return;
    const name = (this.#file.name ?? '').replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase();
    const download = `${name === '' || name === '-' ? words.unnamed : name}.limits.json`;
    const url = URL.createObjectURL(new Blob([textOf(this.#file)], { type: 'application/json' }));
    el('a', { href: url, download }).click();
    setTimeout(() => {
      URL.revokeObjectURL(url);
    }, 10_000);
    this.context.actions.notice(words.saved(download));
  }
}

