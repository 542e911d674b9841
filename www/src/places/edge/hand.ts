// The classic hand methods: Ku and Pu as they are found, and what each published rule would set. A
// press turns the knobs; undo puts them back.

import type { Actions } from '../../actions';
import type { HandAsk, HandOut, HandRow } from '../../core/lab.edge';
import { setAll, type Stuck } from '../../core/setall';
import { button, el, say } from '../../dom';
import type { Running } from '../trials/bench';
import { edgeWords } from '../../words/edge';

const words = edgeWords.hand;

export class HandPart {
  readonly element: HTMLElement;
  readonly press: HTMLButtonElement;
  readonly #text = el('p', { class: 'told', role: 'status' });
  readonly #table = el('div', { class: 'wide' });
  readonly #stale = el('p', { class: 'stale', hidden: true }, edgeWords.stale);
  #found = false;

  constructor(
    private readonly actions: Actions,
    robot: () => HandAsk,
    running: () => Running,
  ) {
    this.press = button(words.run, { class: 'act', 'data-act': 'hand' }, () => {
      void running()
        .run('hand', robot(), words.running)
        .then((out) => {
          if (out !== undefined) this.#show(out);
        });
    });
    this.element = el('div', {}, el('p', { class: 'note' }, words.about), el('p', { class: 'rowof presses' }, this.press), this.#text, this.#stale, this.#table);
  }

  stale(): void {
    this.#stale.hidden = !this.#found;
  }

  #show({ text, rows }: HandOut): void {
    this.#found = true;
    this.#stale.hidden = true;
    say(this.#text, text);
    const { columns } = words;
    const head = [columns.rule, columns.settings, columns.model, columns.kick, columns.settling, ''];
    const cell = (text: string): HTMLElement => (text === '' ? el('td', {}) : el('th', { scope: 'col' }, text));
    this.#table.replaceChildren(
      ...(rows.length === 0
        ? []
        : [el('table', {}, el('thead', {}, el('tr', {}, ...head.map(cell))), el('tbody', {}, ...rows.map((row) => this.#row(row))))]),
    );
  }

  #row(row: HandRow): HTMLElement {
    const settings = row.knobs.map(({ label, text }) => `${label} ${text}`).join(', ');
    return el(
      'tr',
      {},
      el('th', { scope: 'row' }, row.rule, el('span', { class: 'hint' }, words.source(row.source))),
      el('td', {}, settings),
      el('td', { class: row.stable ? '' : 'doubt' }, row.stable ? words.stable : words.unstable),
      el('td', {}, row.outcome),
      el('td', {}, row.settling),
      el(
        'td',
        {},
        button(words.tryIt, { class: 'act', 'aria-label': words.tryRule(row.rule) }, () => {
          this.#turn(row);
        }),
      ),
    );
  }

  /** Turns the rule's knobs, as one row of the revisions; one that is refused stays. */
  #turn({ rule, knobs }: HandRow): void {
    const { actions } = this;
    let stuck: readonly Stuck<HandRow['knobs'][number]>[] = [];
    actions.change(words.because(rule), (board) => {
      stuck = setAll(knobs, ({ key, value }) => board.setKnob(key, value));
      return undefined;
    });
    const [first] = stuck;
    actions.notice(first === undefined ? words.tried(rule) : words.refused(first.one.label, first.problems[0]?.expected ?? ''));
  }
}
