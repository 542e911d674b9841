// What is mapped: knobs, ranges, trial, measure, cells, spreads; as a question for the core.

import type { MapAsk, MapPlan, SpreadsAsk } from '../../core/lab.map';
import { SOFTWARE_WORDS, VIEW_WORDS, type LabCatalogue, type SoftwareWord, type TrialAsk, type ViewWord } from '../../core/lab.types';
import { onScratch } from '../../core/scratch';
import { refused, type KnobInfo, type Problem } from '../../core/types';
import type { Actions } from '../../actions';
import { button, el } from '../../dom';
import { said } from '../../words/core';
import { mapWords as words } from '../../words/map';
import { trialWords } from '../../words/trials';
import type { Bench } from '../trials/bench';
import { Choice, Field, Fields } from '../trials/fields';
import { AxisForm, type Side } from './axisform';
import { inView, pairOf, PRESETS, type Preset } from './pairs';
import { amount, typedNumber } from './scale';

/** Trial and measure that are mapped first. */
const TRIAL = 'kick';
const MEASURE = 'settling_time';
const CELLS = [16, 32, 48, 64, 96, 128];
const USUAL_CELLS = 64;
/** Greatest spreads that the core takes, in the unit they are typed in. */
const MOST_SPREAD: Readonly<Record<keyof SpreadsAsk, number>> = { headMass: 90, voltage: 50, floor: 90, delay: 16, seeds: 8 };
/** Numbers that every trial has; they stand apart. */
const COMMON = ['seconds', 'band'];
const OUTCOME = 'outcome';

/** What a question was asked with, as it is kept. */
export type Question = Omit<MapAsk, 'robot' | 'opened' | 'inches'>;

/** Where the map stands below the form. */
const narrow = window.matchMedia('(max-width: 899px)');

/** Why a question cannot be asked. */
export class Unasked extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super('unasked');
  }
}

const problem = (path: string, value: string, expected: string): Problem => ({ path, value, expected, hint: '', kept: '', severity: 'error' });

export class MapForm {
  readonly element: HTMLElement;
  readonly #preset: Choice;
  readonly #trial: Choice;
  readonly #view: Choice;
  readonly #software: Choice;
  readonly #measure: Choice;
  readonly #cells: Choice;
  readonly #fields = new Fields();
  readonly #common = new Fields();
  readonly #seed = new Field('seed', trialWords.seed);
  readonly #exact = el('input', { type: 'checkbox', id: 'map-exact' });
  readonly #limit = new Field('limit', words.limit);
  readonly #spreads: Readonly<Record<keyof SpreadsAsk, Field>>;
  readonly #axes: Readonly<Record<Side, AxisForm>>;
  readonly #actions: Actions;
  /** All but the picture; shut at first where the map would be far below. */
  readonly #choices: HTMLDetailsElement;
  #catalogue: LabCatalogue | undefined;
  /** Typed ends as the core read them, by knob, units and text [SI]. */
  readonly #read = new Map<string, number>();
  #limited = '';
  #unit = '';
  #scale = 1;
  #planLimit: number | undefined;

  constructor(
    private readonly bench: Bench,
    /** The question changed. */
    private readonly changed: () => void,
    limitChanged: () => void,
  ) {
    this.#actions = bench.actions;
    const chosen = (): void => {
      this.#offer();
      changed();
    };
    this.#preset = new Choice(words.preset, () => {
      this.#take(this.#preset.value as Preset);
      chosen();
    });
    this.#trial = new Choice(trialWords.trial, chosen);
    this.#view = new Choice(trialWords.view, () => {
      this.#turn();
      chosen();
    });
    this.#software = new Choice(trialWords.software, chosen);
    this.#measure = new Choice(words.measure, chosen);
    this.#cells = new Choice(words.cells, chosen);
    this.#cells.offer(CELLS.map((count) => [String(count), `${count} × ${count}`]), String(USUAL_CELLS));
    this.#axes = { y: new AxisForm('y', words.up, chosen), x: new AxisForm('x', words.right, chosen) };
    this.#seed.usual('1', trialWords.seedRange);
    const spread = (key: keyof SpreadsAsk, usual: string, range: string): Field => {
      const field = new Field(`spread-${key}`, words.spread[key]);
      field.usual(usual, range);
      return field;
    };
    this.#spreads = {
      headMass: spread('headMass', '0 %', words.spreadRange.headMass),
      voltage: spread('voltage', '0 %', words.spreadRange.voltage),
      floor: spread('floor', '0 %', words.spreadRange.floor),
      delay: spread('delay', '0', words.spreadRange.delay),
      seeds: spread('seeds', '0', words.spreadRange.seeds),
    };
    this.#limit.usual('', words.limitHint(''));
    this.#limit.input.addEventListener('change', () => {
      limitChanged();
    });
    const around = button(words.around, { class: 'link' }, () => {
      this.around();
      changed();
    });
    this.#choices = el(
      'details',
      { class: 'choices', open: !narrow.matches },
      el('summary', {}, words.choices),
      this.#axes.y.element,
      this.#axes.x.element,
      around,
      el('div', { class: 'fields' }, this.#trial.element, this.#view.element, this.#software.element, this.#measure.element, this.#cells.element, this.#limit.element),
      this.#fields.element,
      el(
        'details',
        {},
        el('summary', {}, words.more),
        this.#common.element,
        el('div', { class: 'fields' }, this.#seed.element),
        el('label', { class: 'check', for: 'map-exact' }, this.#exact, words.exact),
      ),
      el(
        'details',
        { class: 'spreads' },
        el('summary', {}, words.spreads),
        el('p', { class: 'hint' }, words.spreadsAbout),
        el('div', { class: 'fields' }, ...Object.values(this.#spreads).map((field) => field.element)),
      ),
    );
    this.element = el(
      'form',
      { class: 'trialform mapform' },
      this.#preset.element,
      this.#choices,
    );
    this.element.addEventListener('submit', (event) => {
      event.preventDefault();
    });
    this.element.addEventListener('change', ({ target }) => {
      if (target instanceof HTMLInputElement && target !== this.#limit.input) changed();
    });
  }

  /** What can be chosen, for the robot on the board. */
  offer(catalogue: LabCatalogue): void {
    this.#catalogue = catalogue;
    this.#offer();
  }

  /** Ranges around the knobs as they stand. */
  around(): void {
    this.#axes.x.freshEnds();
    this.#axes.y.freshEnds();
  }

  get knobs(): readonly [x: string, y: string] {
    return [this.#axes.x.key, this.#axes.y.key];
  }

  get view(): ViewWord {
    return this.#view.value as ViewWord;
  }

  get measure(): string {
    return this.#measure.value;
  }

  /** Trial with its numbers; also for the parts below the map. */
  trial(): TrialAsk {
    const seed = this.#seed.typed;
    return {
      trial: this.#trial.value,
      view: this.view,
      software: this.#software.value as SoftwareWord,
      numbers: { ...this.#fields.typed(), ...this.#common.typed() },
      // What is no number is refused by the core, in its words.
      ...(seed === undefined ? {} : { seed: /^\d+$/.test(seed) ? Number(seed) : (seed as unknown as number) }),
    };
  }

  /** The question; throws `Unasked` with what is wrong. */
  async question(): Promise<Question> {
    const { x, y } = this.#axes;
    if (x.key === y.key) throw new Unasked([problem('', '', words.same)]);
    await this.#readEnds();
    const count = Number(this.#cells.value);
    const typed = (key: string, text: string): number => this.#read.get(this.#told(key, text)) ?? Number.NaN;
    const spreads = this.#spread();
    return {
      trial: this.trial(),
      x: x.ask(count, typed),
      y: y.ask(count, typed),
      measure: this.measure,
      ...(Object.keys(spreads).length > 0 ? { spreads } : {}),
      ...(this.#exact.checked ? { exact: true } : {}),
    };
  }

  /** What the core made of the question. */
  known(plan: MapPlan): void {
    this.#axes.x.known(plan.x);
    this.#axes.y.known(plan.y);
    const { key, unit, scale } = plan.measure;
    // A limit typed for another measure is none of this one.
    if (key !== this.#limited || unit !== this.#unit) this.#limit.set('');
    this.#limited = key;
    this.#unit = unit;
    this.#scale = scale;
    this.#planLimit = plan.limit;
    const usual = plan.limit === undefined ? '' : amount(plan.limit * scale, unit);
    this.#limit.usual(usual, usual === '' ? words.limitHint(unit) : words.limitUsual(usual));
    this.#limit.element.hidden = key === OUTCOME;
  }

  /** The limit in force [SI]; throws with words if what was typed is none. */
  limit(): number | undefined {
    const text = this.#limit.typed;
    if (text === undefined) return this.#planLimit;
    if (text === words.none) return undefined;
    const value = typedNumber(text, this.#unit);
    if (value === undefined) throw new Error(words.limitWrong(text, this.#unit));
    return value === 0 ? undefined : value / this.#scale;
  }

  /** Takes an earlier question, as far as there is what it names. */
  use(question: Question): void {
    const { trial, x, y, measure } = question;
    this.#view.select.value = trial.view;
    this.#offer(trial.trial, trial.view, trial.software, measure);
    const numbers = Object.entries(trial.numbers ?? {});
    for (const [key, value] of numbers) {
      const input = this.element.querySelector<HTMLInputElement>(`[data-number="${CSS.escape(key)}"]`);
      if (input !== null && typeof value === 'string') input.value = value;
    }
    this.#seed.set(trial.seed === undefined ? '' : String(trial.seed));
    this.#exact.checked = question.exact === true;
    for (const [side, axis] of [['x', x], ['y', y]] as const) {
      this.#axes[side].offer(this.#knobs(), axis.knob);
      this.#axes[side].freshEnds();
      this.#axes[side].hold(axis.knob, axis.from, axis.to);
    }
    if (CELLS.includes(x.count)) this.#cells.select.value = String(x.count);
    for (const [key, field] of Object.entries(this.#spreads) as [keyof SpreadsAsk, Field][]) {
      const value = question.spreads?.[key];
      field.set(value === undefined ? '' : key === 'delay' || key === 'seeds' ? String(value) : `${value * 100} %`);
      if (value === undefined) field.input.dispatchEvent(new Event('change'));
    }
    this.#nameAxes();
    this.changed();
  }

  #knobs(): readonly KnobInfo[] {
    return [...this.#actions.knobs.values()].filter(({ kind }) => kind !== 'choice');
  }

  #has(key: string): boolean {
    const info = this.#actions.knobs.get(key);
    return info !== undefined && info.kind !== 'choice';
  }

  #offer(trialWanted = this.#trial.value || TRIAL, viewWanted = '', softwareWanted = '', measureWanted = this.#measure.value || MEASURE): void {
    const catalogue = this.#catalogue;
    if (catalogue === undefined) return;
    const { state } = this.#actions.store;
    this.#trial.offer(catalogue.trials.map(({ key }) => [key, said(key)]), trialWanted);
    const trial = catalogue.trials.find(({ key }) => key === this.#trial.value);
    if (trial === undefined) return;
    const view = viewWanted || this.#view.value || (VIEW_WORDS[state.active] ?? 'side');
    this.#view.offer(trial.views.map((one) => [one.view, trialWords.views[one.view]]), view);
    const level = softwareWanted || this.#software.value || (state.level === 0 ? 'on' : (SOFTWARE_WORDS[state.level] ?? 'on'));
    this.#software.offer(catalogue.levels.map(({ key, word }) => [key, word]), level);
    const seen = trial.views.find((one) => one.view === this.#view.value);
    const measures = seen?.measures.map(({ key, label }): readonly [string, string] => [key, label]) ?? [];
    this.#measure.offer([...measures, [OUTCOME, words.outcome]], measureWanted);
    const rows = seen?.numbers ?? [];
    this.#fields.show(rows.filter(({ key }) => !COMMON.includes(key)));
    this.#common.show(rows.filter(({ key }) => COMMON.includes(key)));
    this.#offerKnobs();
  }

  #offerKnobs(): void {
    const view = this.view;
    const knobs = this.#knobs();
    const first = pairOf('calm', view);
    for (const side of ['x', 'y'] as const) {
      const axis = this.#axes[side];
      const now = axis.key;
      axis.offer(knobs, now !== '' && this.#has(now) ? now : (first?.[side] ?? knobs[0]?.key ?? ''));
    }
    this.#nameAxes();
  }

  #nameAxes(): void {
    const [x, y] = this.knobs;
    const presets = PRESETS.filter((preset) => pairOf(preset, this.view) !== undefined);
    const now = presets.find((preset) => {
      const pair = pairOf(preset, this.view);
      return pair?.x === x && pair.y === y;
    });
    this.#preset.offer(
      [...presets.map((preset): readonly [string, string] => [preset, words.presets[preset]]), ['', words.ownPair]],
      now ?? '',
    );
    for (const axis of Object.values(this.#axes)) axis.label(this.#actions.knobs.get(axis.key)?.label ?? axis.key);
  }

  #take(preset: Preset | ''): void {
    const pair = preset === '' ? undefined : pairOf(preset, this.view);
    if (pair === undefined) return;
    for (const side of ['x', 'y'] as const) if (this.#has(pair[side])) this.#axes[side].offer(this.#knobs(), pair[side]);
    if (pair.trial !== undefined) this.#offer(pair.trial, '', '', pair.measure ?? this.#measure.value);
  }

  /** The other view's loop has the same knobs. */
  #turn(): void {
    for (const axis of Object.values(this.#axes)) axis.offer(this.#knobs(), inView(axis.key, this.view, (key) => this.#has(key)));
  }

  #told(key: string, text: string): string {
    return JSON.stringify([key, text, this.bench.inches]);
  }

  /** Has the core read the ends that were typed, each with its unit. */
  async #readEnds(): Promise<void> {
    const wanted: (readonly [string, string, Field])[] = [];
    for (const { key, from, to } of Object.values(this.#axes)) {
      for (const field of [from, to]) {
        if (field.typed !== undefined && !this.#read.has(this.#told(key, field.typed))) wanted.push([key, field.typed, field]);
      }
    }
    if (wanted.length === 0) return;
    const { robot, opened, inches } = this.bench.robot();
    const problems = await onScratch((board) => {
      board.inches(inches === true);
      const wrong: Problem[] = [];
      for (const [key, text] of wanted) {
        // One end does not stand in the way of the other.
        board.restore(opened ?? robot, robot);
        const answer = board.typeKnob(key, text);
        if (refused(answer)) wrong.push(...answer.problems);
        else if ('value' in answer) this.#read.set(this.#told(key, text), answer.value);
      }
      return wrong;
    });
    if (problems.length > 0) throw new Unasked(problems);
  }

  #spread(): SpreadsAsk {
    const out: { -readonly [K in keyof SpreadsAsk]: number } = {};
    const problems: Problem[] = [];
    for (const [key, field] of Object.entries(this.#spreads) as [keyof SpreadsAsk, Field][]) {
      const { typed } = field;
      if (typed === undefined) continue;
      const whole = key === 'delay' || key === 'seeds';
      const value = typedNumber(typed, whole ? '' : '%');
      const most = MOST_SPREAD[key];
      if (value === undefined || value < 0 || value > most || (whole && !Number.isInteger(value))) {
        problems.push(problem(words.spread[key], typed, words.spreadRange[key]));
      } else if (value > 0) {
        out[key] = whole ? value : value / 100;
      }
    }
    if (problems.length > 0) throw new Unasked(problems);
    return out;
  }
}
