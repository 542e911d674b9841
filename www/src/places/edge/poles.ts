// The table of motions: each a press that lets the robot on the board swing in it.

import type { PoleRow } from '../../core/lab.edge';
import { button, el, say } from '../../dom';
import { edgeWords } from '../../words/edge';

const words = edgeWords.poles;

/** Rows shown without asking for more. */
const FIRST = 6;
const CELLS = ['growth', 'frequency', 'damping'] as const;

interface Row {
  readonly element: HTMLTableRowElement;
  readonly press: HTMLButtonElement;
  readonly cells: readonly HTMLElement[];
}

export class PoleTable {
  readonly element: HTMLElement;
  readonly #body = el('tbody', {});
  readonly #rows: Row[] = [];
  readonly #more: HTMLButtonElement;
  #all = false;
  #poles: readonly PoleRow[] = [];
  #shown = -1;

  constructor(private readonly pressed: (index: number) => void) {
    const { columns } = words;
    this.#more = button('', { class: 'link', hidden: true }, () => {
      this.#all = true;
      this.show(this.#poles);
      this.#rows[FIRST]?.press.focus({ preventScroll: true });
    });
    const head = [columns.motion, columns.growth, columns.frequency, columns.damping];
    this.element = el(
      'div',
      { class: 'wide' },
      el('table', { class: 'poles' }, el('thead', {}, el('tr', {}, ...head.map((text) => el('th', { scope: 'col' }, text)))), this.#body),
      this.#more,
    );
  }

  show(poles: readonly PoleRow[]): void {
    this.#poles = poles;
    const count = this.#all ? poles.length : Math.min(FIRST, poles.length);
    // Rows stay, so that the focus does.
    while (this.#rows.length > count) this.#rows.pop()?.element.remove();
    while (this.#rows.length < count) this.#add();
    for (const [index, row] of this.#rows.entries()) {
      const pole = poles[index];
      if (pole !== undefined) this.#fill(row, pole, index);
    }
    this.#more.hidden = count === poles.length;
    say(this.#more, words.more(poles.length - count));
    this.mark(this.#shown);
  }

  mark(index: number): void {
    this.#shown = index;
    for (const [at, { element, press }] of this.#rows.entries()) {
      element.classList.toggle('lit', at === index);
      press.setAttribute('aria-pressed', String(at === index));
    }
  }

  #add(): void {
    const index = this.#rows.length;
    const press = button('', { class: 'link' }, () => {
      this.pressed(index);
    });
    const cells = CELLS.map(() => el('td', {}));
    const element = el('tr', {}, el('th', { scope: 'row' }, press), ...cells);
    this.#rows.push({ element, press, cells });
    this.#body.append(element);
  }

  #fill({ element, press, cells }: Row, pole: PoleRow, index: number): void {
    const motion = `${index + 1} ${pole.name}`;
    say(press, motion);
    press.setAttribute('aria-label', words.press(motion, pole.text));
    press.title = pole.text;
    press.disabled = pole.shape === undefined;
    element.classList.toggle('grows', pole.growth >= 0);
    const grows = pole.growth >= 0 ? ` ${words.unsteady}` : '';
    const texts = [words.growthText(pole.growth) + grows, words.frequencyText(pole.frequency), words.dampingText(pole.damping)];
    for (const [at, text] of texts.entries()) {
      const cell = cells[at];
      if (cell !== undefined) say(cell, text);
    }
  }
}
