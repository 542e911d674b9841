// Stable spans of all knobs of the view: the knobs themselves with their tracks, what the core says
// of each in words, and a press that looks at both sides of an edge by simulation.

import type { BothSidesAsk, EdgeOut, KnobSpans, SpanEdge } from '../../core/lab.edge';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { Knob } from '../../parts/knob';
import type { Running } from '../trials/bench';
import { edgeWords } from '../../words/edge';

const words = edgeWords.spans;

/** Rows shown without asking for more. */
const FIRST = 8;

/** How far from the nearest edge a knob stands, as a share of itself. */
function distance({ value, edges }: KnobSpans): number {
  return Math.min(...edges.map((edge) => Math.abs(edge.value - value) / Math.max(Math.abs(value), Math.abs(edge.value), 1e-9)));
}

interface Row {
  readonly element: HTMLElement;
  readonly knob: Knob;
  readonly text: HTMLElement;
  readonly presses: HTMLElement;
  readonly result: HTMLElement;
  told: string;
}

export class SpanRows {
  readonly element: HTMLElement;
  readonly #list = el('ul', { class: 'spanrows' });
  readonly #more: HTMLButtonElement;
  readonly #none = el('p', { class: 'note', hidden: true }, words.none);
  readonly #rows = new Map<string, Row>();
  #order: string[] = [];
  #of = '';
  #all = false;
  #spans: readonly KnobSpans[] = [];

  constructor(
    private readonly actions: Actions,
    private readonly running: Running,
    private readonly robot: () => Omit<BothSidesAsk, 'key' | 'value'>,
  ) {
    this.#more = button('', { class: 'link', hidden: true }, () => {
      this.#all = true;
      this.#lay();
    });
    this.element = el('div', {}, this.#none, this.#list, this.#more);
    actions.store.watch(['knobs', 'spans'], () => {
      if (this.element.offsetParent === null) return;
      for (const row of this.#rows.values()) row.knob.refresh();
    });
  }

  show(out: EdgeOut, all: readonly KnobSpans[]): void {
    const of = JSON.stringify([out.robot, out.view, this.actions.store.state.robot.name]);
    this.#spans = all;
    const keys = new Set(all.map(({ key }) => key));
    // Rows stay where they are while knobs move.
    if (of !== this.#of || this.#order.length !== keys.size || this.#order.some((key) => !keys.has(key))) {
      if (of !== this.#of) this.#all = false;
      this.#of = of;
      this.#order = [...all].sort((a, b) => distance(a) - distance(b)).map(({ key }) => key);
    }
    this.#lay();
  }

  /** What was simulated is of another robot. */
  stale(): void {
    for (const { result } of this.#rows.values()) say(result, '');
  }

  #lay(): void {
    this.#none.hidden = this.#spans.length > 0;
    const shown = this.#all ? this.#order : this.#order.slice(0, FIRST);
    const elements = shown.flatMap((key) => {
      const spans = this.#spans.find((one) => one.key === key);
      if (spans === undefined || this.actions.knobs.get(key) === undefined) return [];
      const row = this.#rows.get(key) ?? this.#make(key);
      this.#fill(row, spans);
      return [row.element];
    });
    const same = elements.length === this.#list.children.length && elements.every((one, at) => this.#list.children[at] === one);
    if (!same) this.#list.replaceChildren(...elements);
    this.#more.hidden = shown.length === this.#order.length;
    say(this.#more, words.all(this.#order.length));
  }

  #make(key: string): Row {
    const knob = new Knob(key, this.actions);
    const text = el('p', { class: 'told' });
    const presses = el('span', { class: 'rowof' });
    const result = el('p', { class: 'note', role: 'status' });
    const element = el('li', {}, knob.element, el('div', {}, text, presses, result));
    const row: Row = { element, knob, text, presses, result, told: '' };
    this.#rows.set(key, row);
    return row;
  }

  #fill(row: Row, spans: KnobSpans): void {
    say(row.text, spans.text);
    const told = spans.edges.map(({ text }) => text).join();
    if (told === row.told) return;
    row.told = told;
    // Presses stay, so that the focus does; their edge is read when they are used.
    const { presses } = row;
    while (presses.children.length > spans.edges.length) presses.lastChild?.remove();
    while (presses.children.length < spans.edges.length) {
      const at = presses.children.length;
      presses.append(
        button('', { class: 'link' }, () => {
          const edge = this.#spans.find(({ key }) => key === row.knob.key)?.edges[at];
          if (edge !== undefined) void this.#both(row, edge);
        }),
      );
    }
    for (const [at, edge] of spans.edges.entries()) {
      const press = presses.children[at];
      if (press === undefined) continue;
      say(press, words.both(edge.text));
      press.setAttribute('aria-label', `${words.both(edge.text)}: ${spans.label}`);
    }
  }

  async #both(row: Row, edge: SpanEdge): Promise<void> {
    const ask = { ...this.robot(), key: row.knob.key, value: edge.value };
    const out = await this.running.run('both_sides', ask, words.running);
    if (out === undefined) return;
    say(row.result, `${out.text} ${out.below.text}; ${out.above.text}.`);
  }
}
