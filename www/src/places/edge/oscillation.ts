// Sustained oscillation: what is predicted, whether to trust it, and beside it what the whole
// simulation does.

import type { EdgeOut, HuntAsk, HuntOut, OscillationRow } from '../../core/lab.edge';
import { button, el, say } from '../../dom';
import type { Running } from '../trials/bench';
import { edgeWords } from '../../words/edge';

const words = edgeWords.oscillation;

export class OscillationPart {
  readonly element: HTMLElement;
  readonly #body = el('tbody', {});
  readonly #table: HTMLElement;
  readonly #none = el('p', {}, words.none);
  readonly #result = el('p', { class: 'told', role: 'status' });
  readonly #beside = el('p', { class: 'note' });
  readonly #stale = el('p', { class: 'stale', hidden: true }, edgeWords.stale);
  readonly #smooth = el('input', { type: 'checkbox' });
  readonly press: HTMLButtonElement;
  #told = '';
  #rows: readonly OscillationRow[] = [];
  #found: HuntOut | undefined;

  constructor(robot: () => Omit<HuntAsk, 'smooth' | 'knob'>, running: () => Running) {
    const { columns } = words;
    this.press = button(words.run, { class: 'act', 'data-act': 'hunt' }, () => {
      void running()
        .run('hunt', { ...robot(), smooth: this.#smooth.checked }, words.running)
        .then((out) => {
          if (out !== undefined) this.#simulated(out);
        });
    });
    this.#table = el(
      'div',
      { class: 'wide' },
      el(
        'table',
        {},
        el('thead', {}, el('tr', {}, ...[columns.cause, columns.predicted, columns.doubts].map((text) => el('th', { scope: 'col' }, text)))),
        this.#body,
      ),
    );
    this.element = el(
      'div',
      {},
      this.#none,
      this.#table,
      el('p', { class: 'rowof presses' }, this.press, el('label', { class: 'check' }, this.#smooth, words.smooth)),
      this.#result,
      this.#beside,
      this.#stale,
    );
  }

  show(out: EdgeOut): void {
    const told = JSON.stringify(out.oscillations);
    if (told === this.#told) return;
    this.#told = told;
    this.#rows = out.oscillations;
    this.#none.hidden = this.#rows.length > 0;
    this.#table.hidden = this.#rows.length === 0;
    this.#body.replaceChildren(
      ...this.#rows.map(({ cause, doubts, text }) => {
        const trust = doubts.length === 0 ? el('td', {}, words.sure) : el('td', { class: 'doubt' }, doubts.join('; '));
        return el(
          'tr',
          {},
          el('th', { scope: 'row' }, words.causes[cause]),
          el('td', {}, text),
          trust,
        );
      }),
    );
    if (this.#found !== undefined) this.#compare(this.#found);
  }

  stale(): void {
    this.#stale.hidden = this.#found === undefined;
  }

  #simulated(out: HuntOut): void {
    this.#found = out;
    this.#stale.hidden = true;
    say(this.#result, `${words.simulated}: ${out.text}`);
    this.#compare(out);
  }

  #compare({ amplitude, frequency }: HuntOut): void {
    let best: OscillationRow | undefined;
    if (amplitude !== undefined && amplitude > 0) {
      const far = (row: OscillationRow): number => Math.abs(Math.log(row.amplitude / amplitude));
      for (const row of this.#rows) if (row.attracts !== false && (best === undefined || far(row) < far(best))) best = row;
    }
    const text =
      best === undefined || amplitude === undefined || frequency === undefined
        ? ''
        : words.beside(amplitude / best.amplitude, frequency / best.frequency);
    say(this.#beside, text);
  }
}
