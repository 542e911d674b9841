// One axis of the question: its knob and its two ends.

import type { AxisAsk, MapPlan } from '../../core/lab.map';
import type { KnobInfo } from '../../core/types';
import { el } from '../../dom';
import { mapWords as words } from '../../words/map';
import { Field } from '../trials/fields';

export type Side = 'x' | 'y';

export class AxisForm {
  readonly element: HTMLElement;
  readonly knob = el('select', {});
  readonly from = new Field('from', words.fromShort);
  readonly to = new Field('to', words.toShort);
  /** Ends in force for a knob, so that the ranges stay while other knobs are turned [SI]. */
  #held: { readonly key: string; readonly from: number; readonly to: number } | undefined;
  #offered = '';

  constructor(
    readonly side: Side,
    label: string,
    changed: () => void,
  ) {
    this.knob.id = `map-knob-${side}`;
    this.knob.addEventListener('change', () => {
      this.freshEnds();
      changed();
    });
    for (const field of [this.from, this.to]) field.input.dataset['axis'] = side;
    this.element = el(
      'fieldset',
      { class: 'axisform' },
      el('legend', {}, label),
      el('div', { class: 'field' }, el('label', { for: this.knob.id, class: 'unseen' }, label), this.knob),
      el('div', { class: 'fields' }, this.from.element, this.to.element),
    );
  }

  get key(): string {
    return this.knob.value;
  }

  offer(knobs: readonly KnobInfo[], wanted: string): void {
    const told = JSON.stringify(knobs.map(({ key, label }) => [key, label]));
    if (told !== this.#offered) {
      this.#offered = told;
      const groups = new Map<string, HTMLOptGroupElement>();
      for (const { key, label, group } of knobs) {
        let box = groups.get(group);
        if (box === undefined) {
          box = el('optgroup', { label: group });
          groups.set(group, box);
        }
        box.append(el('option', { value: key }, label));
      }
      this.knob.replaceChildren(...groups.values());
    }
    if (wanted !== this.key) this.freshEnds();
    this.knob.value = wanted;
  }

  /** Around the value again. */
  freshEnds(): void {
    this.#held = undefined;
    for (const field of [this.from, this.to]) {
      field.usual('', words.usualEnd);
      field.set('');
    }
  }

  /** The names of the two ends, for those who do not see whose they are. */
  label(knob: string): void {
    this.from.input.setAttribute('aria-label', words.from(knob));
    this.to.input.setAttribute('aria-label', words.to(knob));
  }

  /** The ends that the core took. */
  known({ key, values, texts }: MapPlan['x']): void {
    if (key !== this.key) return;
    const from = values[0];
    const to = values[values.length - 1];
    if (from === undefined || to === undefined) return;
    if (this.from.typed === undefined) this.from.usual(texts[0], '');
    if (this.to.typed === undefined) this.to.usual(texts[1], '');
    this.#held = { key, from, to };
  }

  /** Ends of an earlier map. */
  hold(key: string, from: number | undefined, to: number | undefined): void {
    if (from !== undefined && to !== undefined) this.#held = { key, from, to };
  }

  /** Typed ends win over those in force. */
  ask(count: number, typed: (key: string, text: string) => number): AxisAsk {
    const { key } = this;
    const held = this.#held?.key === key ? this.#held : undefined;
    const end = (field: Field, otherwise: number | undefined): number | undefined => (field.typed === undefined ? otherwise : typed(key, field.typed));
    const from = end(this.from, held?.from);
    const to = end(this.to, held?.to);
    return { knob: key, count, ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
  }
}
