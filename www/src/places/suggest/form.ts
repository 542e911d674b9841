// What is asked: loops, weights, limits, settings that stay, how long to search.

import type { Actions } from '../../actions';
import type { LimitAsk, SuggestAsk } from '../../core/lab.suggest';
import { VIEW_WORDS, type RobotAsk } from '../../core/lab.types';
import { el, say } from '../../dom';
import { suggestWords as words } from '../../words/suggest';
import { Choice, Field } from '../trials/fields';
import { LOOPS, type LoopWord } from './loops';

/** Settings tried; the core has its own usual number. */
const SPENDS = { short: 150, usual: undefined, long: 2000 } as const;
/** Where the tracks stand at first: the core's usual weights, which hold unless a track is moved. */
const WEIGHTS = { settling: 5, dip: 3, quiet: 2, current: 1, margin: 1 } as const;
const MOST_WEIGHT = 10;
/** Where limits do not push away what is found. */
const roomy = window.matchMedia('(min-width: 900px)');

type Spend = keyof typeof SPENDS;
type Weight = keyof typeof WEIGHTS;

export type Question = Omit<SuggestAsk, keyof RobotAsk>;

let count = 0;

export class SuggestForm {
  /** Loops and weights: what everybody chooses. */
  readonly wanted: HTMLElement;
  /** How long to search. */
  readonly spend: HTMLElement;
  /** Limits, settings that stay, seed. */
  readonly more: HTMLElement;
  readonly #loops = new Map<LoopWord, HTMLInputElement>();
  readonly #weights = new Map<Weight, HTMLInputElement>();
  readonly #limits = new Map<LimitAsk['key'], Field>();
  readonly #keep = new Map<string, { readonly loop: LoopWord; readonly box: HTMLInputElement; readonly text: HTMLElement }>();
  readonly #groups = new Map<LoopWord, HTMLElement>();
  readonly #keeps = el('summary', {}, words.keeps(0));
  readonly #spend: Choice;
  readonly #seed = new Field('seed', words.seed);

  constructor(
    private readonly actions: Actions,
    /** Something was changed that bears on whether a search can begin. */
    private readonly changed: () => void,
  ) {
    this.#spend = new Choice(words.spend, () => undefined);
    this.#spend.offer((Object.keys(SPENDS) as Spend[]).map((key) => [key, words.spends[key]]), 'usual');
    this.#seed.usual('1', words.seedHint);
    for (const key of Object.keys(words.limit) as LimitAsk['key'][]) {
      const field = new Field(key, words.limit[key]);
      field.usual(words.usual[key], words.limitHint[key]);
      this.#limits.set(key, field);
    }
    this.wanted = el(
      'div',
      { class: 'suggestform' },
      el('fieldset', { class: 'loops' }, el('legend', {}, words.loops), ...VIEW_WORDS.map((view) => this.#loopsOf(view))),
      el(
        'fieldset',
        { class: 'weights' },
        el('legend', {}, words.weights),
        el('p', { class: 'hint' }, words.weightsHint),
        ...(Object.keys(WEIGHTS) as Weight[]).map((key) => this.#track(key)),
      ),
    );
    this.more = el(
      'div',
      { class: 'suggestform' },
      el(
        'details',
        { class: 'limitbox', open: roomy.matches },
        el('summary', {}, words.limits),
        el('p', { class: 'note' }, words.limitsHint),
        el('div', { class: 'fields' }, ...[...this.#limits.values()].map(({ element }) => element)),
      ),
      el(
        'details',
        { class: 'keepbox' },
        this.#keeps,
        el('p', { class: 'note' }, words.keepHint),
        ...LOOPS.map(({ loop, knobs }) => this.#groupOf(loop, knobs)),
      ),
      el('details', { class: 'spendbox' }, el('summary', {}, words.spends.more), el('div', { class: 'fields' }, this.#seed.element)),
    );
    this.spend = this.#spend.element;
    actions.store.watch(['robot', 'knobs', 'units'], () => {
      this.#offerKeep();
    });
  }

  get loops(): readonly LoopWord[] {
    return LOOPS.map(({ loop }) => loop).filter((loop) => this.#loops.get(loop)?.checked === true);
  }

  /** What is asked for; only what differs from the usual. */
  question(): Question {
    const limits: LimitAsk[] = [];
    for (const [key, field] of this.#limits) if (field.typed !== undefined) limits.push({ key, value: field.typed });
    const weights: Partial<Record<Weight, number>> = {};
    for (const [key, track] of this.#weights) if (track.valueAsNumber !== WEIGHTS[key]) weights[key] = track.valueAsNumber;
    const budget = SPENDS[this.#spend.value as Spend];
    const seed = this.#seed.typed;
    return {
      loops: this.loops,
      limits,
      weights,
      keep: this.#kept(),
      ...(budget === undefined ? {} : { budget }),
      // What is no number is refused by the core, in its words.
      ...(seed === undefined ? {} : { seed: /^\d+$/.test(seed) ? Number(seed) : (seed as unknown as number) }),
    };
  }

  #loopsOf(view: (typeof VIEW_WORDS)[number]): HTMLElement {
    const boxes = LOOPS.filter((row) => row.view === view).map(({ loop }) => {
      const box = el('input', { type: 'checkbox', checked: true });
      box.dataset['loop'] = loop;
      box.addEventListener('change', () => {
        this.#offerKeep();
        this.changed();
      });
      this.#loops.set(loop, box);
      return el('label', { class: 'box' }, box, words.loop[loop]);
    });
    return el('div', { class: 'ofview', role: 'group', 'aria-label': words.views[view] }, el('span', { class: 'tag' }, words.views[view]), ...boxes);
  }

  #track(key: Weight): HTMLElement {
    count += 1;
    const id = `suggest-weight-${count}`;
    const track = el('input', { type: 'range', id, min: 0, max: MOST_WEIGHT, step: 1, value: WEIGHTS[key] });
    track.dataset['weight'] = key;
    const value = el('output', { for: id }, String(WEIGHTS[key]));
    track.addEventListener('input', () => {
      say(value, track.value);
    });
    this.#weights.set(key, track);
    return el('div', { class: 'weight' }, el('label', { for: id }, words.weight[key]), track, value);
  }

  /** The settings of a loop; labels and values are filled in as they are known. */
  #groupOf(loop: LoopWord, keys: readonly string[]): HTMLElement {
    const boxes = keys.map((key) => {
      const box = el('input', { type: 'checkbox' });
      box.dataset['keep'] = key;
      box.addEventListener('change', () => {
        this.#offerKeep();
      });
      const text = el('span', {});
      this.#keep.set(key, { loop, box, text });
      return el('label', { class: 'box' }, box, text);
    });
    const group = el(
      'div',
      { role: 'group', class: 'ofloop', 'aria-label': words.loop[loop] },
      el('span', { class: 'tag' }, words.loop[loop]),
      ...boxes,
    );
    this.#groups.set(loop, group);
    return group;
  }

  /** Settings of the loops chosen, with where they stand. */
  #offerKeep(): void {
    const { knobs } = this.actions;
    for (const [loop, group] of this.#groups) group.hidden = !this.loops.includes(loop);
    for (const [key, { box, text }] of this.#keep) {
      const knob = knobs.get(key);
      say(text, words.keepOf(knob?.label ?? key, this.actions.value(key)?.text ?? ''));
      box.disabled = knob === undefined;
    }
    say(this.#keeps, words.keeps(this.#kept().length));
  }

  #kept(): readonly string[] {
    const { loops } = this;
    return [...this.#keep].filter(([, { loop, box }]) => box.checked && loops.includes(loop)).map(([key]) => key);
  }
}
