// A number to be typed, with its usual value; what is left as usual is not asked for, so that the
// run has the very bits of the usual one.

import type { NumberRow } from '../../core/lab.types';
import { el, say } from '../../dom';
import { trialWords as words } from '../../words/trials';

let count = 0;

export class Field {
  readonly element: HTMLElement;
  readonly input: HTMLInputElement;
  readonly #label = el('label', {});
  readonly #hint = el('span', { class: 'hint' });
  #usual = '';

  constructor(
    readonly key: string,
    label: string,
  ) {
    count += 1;
    const id = `trial-number-${count}`;
    this.#label.htmlFor = id;
    say(this.#label, label);
    this.#hint.id = `${id}-hint`;
    this.input = el('input', { id, type: 'text', autocomplete: 'off', 'aria-describedby': this.#hint.id });
    this.input.dataset['number'] = key;
    this.input.addEventListener('change', () => {
      if (this.input.value.trim() === '') this.input.value = this.#usual;
      this.#mark();
    });
    this.element = el('div', { class: 'field' }, this.#label, this.input, this.#hint);
  }

  /** The usual value as text, shown unless another was typed. */
  usual(text: string, hint: string): void {
    const kept = this.typed !== undefined;
    this.#usual = text;
    if (!kept) this.input.value = text;
    say(this.#hint, hint);
    this.#mark();
  }

  /** What was typed, if it is not the usual. */
  get typed(): string | undefined {
    const text = this.input.value.trim();
    return text === '' || text === this.#usual ? undefined : text;
  }

  set(text: string): void {
    this.input.value = text;
    this.#mark();
  }

  #mark(): void {
    this.input.classList.toggle('changed', this.typed !== undefined);
  }
}

/** Fields for the numbers of a trial; fields that stay keep what was typed. */
export class Fields {
  readonly element = el('div', { class: 'fields' });
  #fields = new Map<string, Field>();

  show(rows: readonly NumberRow[]): void {
    const next = new Map<string, Field>();
    for (const row of rows) {
      const field = this.#fields.get(row.key) ?? new Field(row.key, row.label);
      const range = row.range === '' ? '' : words.range(row.range);
      field.usual(row.text, [words.usual(row.text), range].filter((part) => part !== '').join(', '));
      next.set(row.key, field);
    }
    // In place where nothing else is shown, so that the focus stays.
    const same = [...next.keys()].join() === [...this.#fields.keys()].join();
    this.#fields = next;
    if (!same) this.element.replaceChildren(...[...next.values()].map((field) => field.element));
  }

  /** Numbers that differ from the usual ones. */
  typed(): Record<string, string> {
    const out: Record<string, string> = {};
    for (const [key, field] of this.#fields) if (field.typed !== undefined) out[key] = field.typed;
    return out;
  }
}

/** A list to choose from, under its label. */
export class Choice {
  readonly element: HTMLElement;
  readonly select = el('select', {});
  #words = '';

  constructor(label: string, changed: () => void) {
    count += 1;
    this.select.id = `trial-choice-${count}`;
    this.select.addEventListener('change', changed);
    this.element = el('div', { class: 'field' }, el('label', { for: this.select.id }, label), this.select);
  }

  get value(): string {
    return this.select.value;
  }

  /** Options by key and word; what was chosen stays if it is still there. */
  offer(options: readonly (readonly [string, string])[], wanted = this.select.value): void {
    const told = JSON.stringify(options);
    if (told !== this.#words) {
      this.#words = told;
      this.select.replaceChildren(...options.map(([value, text]) => el('option', { value }, text)));
    }
    this.select.value = options.some(([value]) => value === wanted) ? wanted : (options[0]?.[0] ?? '');
  }
}
