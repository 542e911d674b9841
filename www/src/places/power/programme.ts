// A written programme of drive and idle, and how long the battery lasts under it.

import type { PowerOut } from '../../core/lab.power';
import { el } from '../../dom';
import { powerWords } from '../../words/power';
import { reportTable } from './tables';

const words = powerWords.programme;
/** More than the core reads [characters]. */
const MOST = 20_000;

export class Programme {
  readonly element: HTMLElement;
  readonly #box = el('textarea', {
    id: 'power-programme',
    rows: 4,
    spellcheck: 'false',
    maxlength: MOST,
    'aria-describedby': 'power-programme-hint power-programme-wrong',
  });
  readonly #wrong = el('div', { class: 'refusal', id: 'power-programme-wrong', role: 'alert' });
  readonly #result = el('div', { class: 'programmeresult' });

  /** `changed` is called when it was edited and the keys rest. */
  constructor(changed: () => void) {
    this.#box.value = words.usual;
    this.#box.addEventListener('input', changed);
    this.element = el(
      'section',
      { class: 'programme', 'aria-label': words.title },
      el('h2', {}, words.title),
      el(
        'div',
        { class: 'twosided' },
        el(
          'div',
          {},
          el('label', { for: 'power-programme' }, words.label),
          this.#box,
          el('span', { class: 'hint', id: 'power-programme-hint' }, words.hint),
          this.#wrong,
        ),
        this.#result,
      ),
    );
  }

  get text(): string {
    return this.#box.value;
  }

  show({ problems, rows }: PowerOut['programme']): void {
    this.#box.setAttribute('aria-invalid', String(problems.length > 0));
    this.#result.replaceChildren(...(rows.length === 0 ? [] : [reportTable(rows)]));
    if (problems.length === 0) {
      this.#wrong.replaceChildren();
      return;
    }
    const list = problems
      .slice(0, 20)
      .map(({ line, value, expected, hint }) => el('li', {}, words.line(line, value, expected, hint)));
    this.#wrong.replaceChildren(el('p', {}, words.wrong), el('ul', {}, ...list));
  }
}
