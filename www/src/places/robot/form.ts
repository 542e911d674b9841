// The form of the ten numbers. Its rows come from the core; what was typed is kept over reloads.

import type { MarkWord, StartOut, StartRow } from '../../core/lab.types';
import type { Problem } from '../../core/types';
import { el, say } from '../../dom';
import { said } from '../../words/core';
import { words } from '../../words/robot';

const PLACE = 'kickstill-ten-numbers';
const MARKS = Object.keys(words.marks.words) as MarkWord[];
/** From this number on a builder reads a sheet or a print; before it, scale and tape. */
const FROM_SHEETS = 7;

export interface Typed {
  name: string;
  numbers: Record<string, string>;
  marks: Record<string, string>;
}

const isTexts = (value: unknown): value is Record<string, string> =>
  typeof value === 'object' && value !== null && Object.values(value).every((text) => typeof text === 'string');

function recall(): Typed {
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE) ?? 'null') as Typed | null;
    if (kept !== null && typeof kept.name === 'string' && isTexts(kept.numbers) && isTexts(kept.marks)) {
      return { name: kept.name, numbers: { ...kept.numbers }, marks: { ...kept.marks } };
    }
  } catch {
    // Nothing usable is kept: the form starts empty.
  }
  return { name: '', numbers: {}, marks: {} };
}

interface Field {
  readonly input: HTMLInputElement | HTMLSelectElement;
  readonly mark: HTMLSelectElement;
  readonly wrong: HTMLElement;
  readonly unit: HTMLElement;
  /** Whether its error may be told: not while it is being typed for the first time. */
  left: boolean;
}

export class Form {
  readonly element = el('div', { class: 'ten' });
  readonly typed: Typed = recall();
  readonly #fields = new Map<string, Field>();
  readonly #name: HTMLInputElement;
  #last: readonly Problem[] = [];

  /** `about` is told which row is pointed at or typed in: its label and how its number is found. */
  constructor(
    private readonly changed: () => void,
    private readonly about: (label: string, help: string) => void,
  ) {
    this.#name = el('input', { type: 'text', id: 'ten-name', maxlength: 80, autocomplete: 'off', placeholder: words.start.usualName });
    this.#name.value = this.typed.name;
    this.#name.addEventListener('input', () => {
      this.typed.name = this.#name.value;
      this.#keep();
    });
  }

  /** Builds the rows, or brings units and errors up to date. */
  show({ rows, wrong }: StartOut): void {
    if (this.#fields.size === 0) this.#build(rows);
    this.#last = wrong;
    for (const row of rows) {
      const field = this.#fields.get(row.key);
      if (field === undefined) continue;
      if (field.input instanceof HTMLInputElement) field.input.placeholder = row.usual;
      // Beside what has no unit of its own.
      say(field.unit, row.kind === 'number' && /[\d.,]\s*$/.test(field.input.value) ? row.unit : '');
    }
    this.#tell();
  }

  /** Puts the focus on the first number that is wrong; answers whether there is one. */
  focusWrong(): boolean {
    for (const field of this.#fields.values()) field.left = true;
    this.#tell();
    const first = [...this.#fields].find(([key]) => this.#last.some(({ path }) => path === key));
    if (first !== undefined) first[1].input.focus();
    else if (this.#last.length > 0) this.#name.focus();
    return this.#last.length > 0;
  }

  empty(): void {
    this.typed.name = '';
    this.typed.numbers = {};
    this.typed.marks = {};
    this.#name.value = '';
    for (const { input, mark } of this.#fields.values()) {
      input.value = '';
      mark.value = 'guessed';
    }
    this.#keep();
  }

  #keep(): void {
    try {
      localStorage.setItem(PLACE, JSON.stringify(this.typed));
    } catch {
      // The page says elsewhere that it may not remember.
    }
    this.changed();
  }

  #build(rows: readonly StartRow[]): void {
    this.element.append(
      el('div', { class: 'tenrow' }, el('label', { class: 'label', for: 'ten-name' }, words.start.name), this.#name),
    );
    let number = 0;
    for (const row of rows) {
      this.element.append(this.#row(row, row.number !== number));
      number = row.number;
    }
  }

  #row(row: StartRow, first: boolean): HTMLElement {
    const id = `ten-${row.key}`;
    const help = el('p', { class: 'help', id: `${id}-help` }, row.help);
    const wrong = el('p', { class: 'wrong', id: `${id}-wrong` });
    const unit = el('span', { class: 'unit' });
    const describedBy = `${id}-wrong ${id}-help`;
    let input: HTMLInputElement | HTMLSelectElement;
    if (row.kind === 'choice') {
      input = el('select', { id, 'aria-describedby': describedBy });
      input.append(el('option', { value: '' }, `${row.usual} (${words.marks.words.guessed})`));
      for (const word of row.words) input.append(el('option', { value: word }, said(word)));
    } else {
      input = el('input', { id, type: 'text', autocomplete: 'off', spellcheck: 'false', 'aria-describedby': describedBy });
    }
    input.value = this.typed.numbers[row.key] ?? '';
    const mark = el('select', { class: 'markof', 'aria-label': words.marks.of(row.label) });
    for (const word of MARKS) mark.append(el('option', { value: word }, words.marks.words[word]));
    mark.value = this.typed.marks[row.key] ?? 'guessed';
    const field: Field = { input, mark, wrong, unit, left: input.value !== '' };
    this.#fields.set(row.key, field);

    input.addEventListener('input', () => {
      const text = input.value;
      if (text.trim() === '') {
        // Rebuilt rather than deleted by key: the kinds stay plain.
        this.typed.numbers = Object.fromEntries(Object.entries(this.typed.numbers).filter(([key]) => key !== row.key));
      } else {
        this.typed.numbers[row.key] = text;
        // Typed the first time, it is taken for what scale and tape, or the sheet, said.
        if (this.typed.marks[row.key] === undefined) {
          const usual: MarkWord = row.number < FROM_SHEETS ? 'measured' : 'sheet';
          this.typed.marks[row.key] = usual;
          mark.value = usual;
        }
      }
      this.#keep();
    });
    input.addEventListener('change', () => {
      field.left = true;
      this.#tell();
    });
    mark.addEventListener('change', () => {
      this.typed.marks[row.key] = mark.value;
      this.#keep();
    });
    const made = el(
      'div',
      { class: first ? 'tenrow first' : 'tenrow', 'data-key': row.key },
      el(
        'label',
        { class: 'label', for: id },
        el('span', { class: first ? 'balloon' : 'noballoon', title: first ? words.start.number(row.number) : undefined }, first ? String(row.number) : ''),
        row.label,
      ),
      el('span', { class: 'entry' }, input, unit),
      mark,
      wrong,
      help,
    );
    for (const when of ['focusin', 'pointerenter'] as const) {
      made.addEventListener(when, () => {
        this.about(row.label, row.help);
      });
    }
    return made;
  }

  #tell(): void {
    for (const [key, { input, wrong, left }] of this.#fields) {
      const problem = this.#last.find(({ path }) => path === key);
      const shown = problem !== undefined && (left || document.activeElement !== input);
      say(wrong, shown ? words.start.field(problem.expected, problem.hint, problem.kept) : '');
      if (shown) input.setAttribute('aria-invalid', 'true');
      else input.removeAttribute('aria-invalid');
    }
  }
}
