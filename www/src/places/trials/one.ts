// One trial: chosen with its few numbers, run at once in a worker or on the board in its own time.
// Its result stands beside it, against the same trial run before or against a kept run.

import { lab } from '../../core/lab';
import {
  SOFTWARE_WORDS,
  VIEW_WORDS,
  type AskOf,
  type Compared,
  type LabCatalogue,
  type RunOut,
  type SoftwareWord,
  type TrialAsk,
  type ViewWord,
} from '../../core/lab.types';
import { refused } from '../../core/types';
import { button, el, say } from '../../dom';
import { canKeep, keepRun, onCompare, type RunRecord } from '../kept-hook';
import type { PlaceContext } from '../place';
import { said } from '../../words/core';
import { trialWords as words } from '../../words/trials';
import { copies, Running, type Bench } from './bench';
import { Charts } from './charts';
import { Choice, Field, Fields } from './fields';
import { isLive, LiveRun, numbersOf } from './live';

/** Numbers that every trial has; they stand apart. */
const COMMON = ['seconds', 'band'];
const CHARTS: Readonly<Record<ViewWord, readonly string[]>> = {
  side: ['swing', 'tilt', 'speed', 'supply_current'],
  front: ['roll', 'tilt', 'speed', 'supply_current'],
};

/** Whether two records tell of the same kind of run, so that a change between them says something. */
const kindOf = (record: RunRecord): string =>
  record.source.kind === 'trial' ? `${record.source.setting.trial} ${record.source.setting.view}` : '';

export class OneTrial {
  readonly element: HTMLElement;
  readonly #trial: Choice;
  readonly #view: Choice;
  readonly #software: Choice;
  readonly #fields = new Fields();
  readonly #common = new Fields();
  readonly #seed = new Field('seed', words.seed);
  readonly #about = el('p', { class: 'note' });
  readonly #liveNote = el('p', { class: 'note' });
  readonly #atOnce: HTMLButtonElement;
  readonly #onBoard: HTMLButtonElement;
  readonly #stopLive: HTMLButtonElement;
  readonly #running: Running;
  readonly #result = el('section', { class: 'trialresult' });
  readonly #live: LiveRun;
  readonly #charts: Charts;
  /** The last run of each trial and view. */
  readonly #last = new Map<string, RunRecord>();
  #shown: { readonly out: RunOut; readonly record: RunRecord; readonly before: RunRecord | undefined } | undefined;
  /** A kept run that results are compared with. */
  #against: RunRecord | undefined;
  #catalogue: LabCatalogue | undefined;

  constructor(
    private readonly context: PlaceContext,
    private readonly bench: Bench,
  ) {
    const { actions, loop, theme } = context;
    this.#live = new LiveRun(actions, loop);
    this.#charts = new Charts(theme);
    const chosen = (): void => {
      this.#offer();
    };
    this.#trial = new Choice(words.trial, chosen);
    this.#view = new Choice(words.view, chosen);
    this.#software = new Choice(words.software, chosen);
    this.#seed.usual('1', words.seedRange);
    this.#atOnce = button(words.atOnce, { class: 'act', 'data-act': 'at-once' }, () => void this.#runAtOnce());
    this.#onBoard = button(words.onBoard, { class: 'act', title: words.onBoardHelp }, () => void this.#runOnBoard());
    this.#stopLive = button(words.live.cancel, { class: 'link', hidden: true }, () => {
      this.#live.cancel();
    });
    this.#running = new Running(actions, [this.#atOnce, this.#onBoard]);
    this.element = el(
      'div',
      { class: 'twosided' },
      el(
        'form',
        { class: 'trialform' },
        el('div', { class: 'fields' }, this.#trial.element, this.#view.element, this.#software.element),
        this.#about,
        el('div', { class: 'rowof presses' }, this.#atOnce, this.#onBoard, this.#stopLive),
        this.#liveNote,
        this.#running.element,
        this.#fields.element,
        el(
          'details',
          {},
          el('summary', {}, words.more),
          this.#common.element,
          el('div', { class: 'fields' }, this.#seed.element),
        ),
      ),
      this.#result,
    );
    this.element.querySelector('form')?.addEventListener('submit', (event) => {
      event.preventDefault();
    });
    this.element.querySelector('form')?.addEventListener('keydown', (event) => {
      if (event.key === 'Enter' && event.target instanceof HTMLInputElement) void this.#runAtOnce();
    });
    this.#showNothing();
    bench.onCatalogue((catalogue) => {
      this.#catalogue = catalogue;
      this.#offer();
      this.#running.ready();
    });
    onCompare((record) => {
      this.#against = record;
      void this.#show();
    });
    actions.store.watch(['units'], () => {
      void this.#show();
    });
  }

  closed(): void {
    this.#running.cancel();
  }

  #offer(): void {
    const catalogue = this.#catalogue;
    if (catalogue === undefined) return;
    const { state } = this.context.actions.store;
    this.#trial.offer(catalogue.trials.map(({ key }) => [key, said(key)]));
    const trial = catalogue.trials.find(({ key }) => key === this.#trial.value);
    if (trial === undefined) return;
    const wanted = this.#view.value || (VIEW_WORDS[state.active] ?? 'side');
    this.#view.offer(trial.views.map(({ view }) => [view, words.views[view]]), wanted);
    const level = this.#software.value || (state.level === 0 ? 'on' : (SOFTWARE_WORDS[state.level] ?? 'on'));
    this.#software.offer(catalogue.levels.map(({ key, word }) => [key, word]), level);
    say(this.#about, `${trial.about}.`);
    const rows = trial.views.find(({ view }) => view === this.#view.value)?.numbers ?? [];
    this.#fields.show(rows.filter(({ key }) => !COMMON.includes(key)));
    this.#common.show(rows.filter(({ key }) => COMMON.includes(key)));
    const live = isLive(trial.key, this.#software.value as SoftwareWord);
    this.#onBoard.hidden = !live;
    say(this.#liveNote, live ? '' : words.notOnBoard);
  }

  #setting(): TrialAsk {
    const seed = this.#seed.typed;
    return {
      trial: this.#trial.value,
      view: this.#view.value as ViewWord,
      software: this.#software.value as SoftwareWord,
      numbers: { ...this.#fields.typed(), ...this.#common.typed() },
      // What is no number is refused by the core, in its words.
      ...(seed === undefined ? {} : { seed: /^\d+$/.test(seed) ? Number(seed) : (seed as unknown as number) }),
    };
  }

  async #runAtOnce(): Promise<void> {
    if (this.#catalogue === undefined) return;
    const setting = this.#setting();
    const start = performance.now();
    const ask: AskOf<'run'> = { ...this.bench.robot(), ...setting };
    const out = await this.#running.run('run', ask, setting.trial);
    if (out === undefined) return;
    const record: RunRecord = {
      robot: ask.robot,
      robotName: out.robot,
      opened: ask.opened ?? ask.robot,
      source: { kind: 'trial', setting },
      title: out.title,
      modelVersion: out.modelVersion,
      digest: out.digest,
      marks: out.marks,
      outcome: out.outcome,
      outcomeClass: out.outcomeClass,
      measures: out.measures,
      seconds: out.seconds,
      tickUs: out.tickUs,
      strips: out.strips,
    };
    const kind = kindOf(record);
    this.#shown = { out, record, before: this.#last.get(kind) };
    this.#last.set(kind, record);
    await this.#show();
    // From the press to the result on the page; the benchmark reads it.
    performance.measure('trial', { start });
    this.#result.scrollIntoView({ block: 'nearest' });
    this.context.actions.tell(words.told(out.title, out.outcome));
  }

  async #runOnBoard(): Promise<void> {
    // The core reads what was typed, and says what is wrong with it.
    const setting = this.#setting();
    const read = await this.#running.run('run', { ...this.bench.robot(), ...setting, columns: [] }, setting.trial);
    if (read === undefined) return;
    const { actions } = this.context;
    this.#stopLive.hidden = false;
    this.#live.begin({ ...setting, numbers: numbersOf(read.numbers) }, () => {
      this.#stopLive.hidden = true;
      actions.tell(words.live.ended);
    });
    actions.tell(words.live.begins(read.title));
  }

  #showNothing(): void {
    this.#result.replaceChildren(el('h2', {}, words.result), el('p', { class: 'note' }, words.noResult));
  }

  async #show(): Promise<void> {
    const shown = this.#shown;
    if (shown === undefined) return;
    const { out, record } = shown;
    const against = this.#against ?? shown.before;
    let compared: Compared | undefined;
    if (against !== undefined) {
      const { trial, view } = out;
      const answer = await lab().run('compare', {
        trial,
        view,
        measures: out.measures,
        against: against.measures,
        inches: this.bench.inches,
      });
      // Another run may have come meanwhile.
      if (this.#shown !== shown) return;
      if (!refused(answer)) compared = answer as Compared;
    }
    this.#result.replaceChildren(
      el('h2', {}, words.result),
      el('p', { class: 'outcome', 'data-class': out.outcomeClass }, out.outcome),
      el('p', { class: 'note' }, `${out.robot}, ${out.title}`),
      ...(against === undefined ? [] : [this.#comparedWith(against)]),
      el('div', { class: 'figures' }, this.#table(out, compared), this.#charts.element),
      copies(this.context.actions, () => [
        [words.copyMarkdown, words.markdown, out.markdown],
        [words.copyCsv, words.csv, out.csv],
      ]),
      this.#keeping(record),
      el('p', { class: 'note digest' }, words.digest(out.digest, out.modelVersion)),
    );
    this.#charts.show(CHARTS[out.view], out.strips, against?.strips);
  }

  #table(out: RunOut, compared: Compared | undefined): HTMLElement {
    const { columns } = words;
    const head = compared === undefined ? [columns.measure, columns.found] : Object.values(columns);
    const body = el('tbody', {});
    for (const { key, label, text, value } of out.measures) {
      const row = compared?.rows.find((one) => one.key === key);
      const cell = (content: string, figure = true): HTMLElement => el('td', figure ? { class: 'figure' } : {}, content);
      body.append(
        el(
          'tr',
          { 'data-result': key },
          el('th', { scope: 'row' }, label),
          cell(text, value !== undefined),
          ...(compared === undefined ? [] : [cell(row?.was ?? ''), cell(row?.change ?? '')]),
        ),
      );
    }
    const heads = head.map((text, index) => el('th', index === 0 ? { scope: 'col' } : { scope: 'col', class: 'figure' }, text));
    return el('div', { class: 'wide' }, el('table', {}, el('thead', {}, el('tr', {}, ...heads)), body));
  }

  #comparedWith(against: RunRecord): HTMLElement {
    if (this.#against === undefined) return el('p', { class: 'note' }, words.comparedLast);
    return el(
      'p',
      { class: 'note rowof' },
      words.comparedKept(against.title, against.robotName),
      button(words.forget, { class: 'link' }, () => {
        this.#against = undefined;
        void this.#show();
      }),
    );
  }

  #keeping(record: RunRecord): HTMLElement {
    const { actions } = this.context;
    const press = button(words.keep, { class: 'act' }, () => {
      if (!canKeep()) {
        actions.notice(words.keepLater);
        return;
      }
      press.disabled = true;
      // Whoever keeps it tells under which name.
      keepRun(record).catch((cause: unknown) => {
        press.disabled = false;
        actions.notice(words.keepFailed(cause instanceof Error ? cause.message : String(cause)));
      });
    });
    return el('div', { class: 'rowof presses' }, press);
  }
}
