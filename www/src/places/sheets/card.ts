// The card for the floor test: trials chosen, what each should show, and an empty box for what the real robot
// shows.

import type { CardOut, CardRow, CardTrial } from '../../core/lab.sheets';
import { button, el, say } from '../../dom';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { Running, type Bench } from '../trials/bench';
import { Choice } from '../trials/fields';
import { fileName, save, today } from './names';
import { fit, makePaper, paperHead, print, SIZES, usualSize, type Size } from './paper';

const VARIANTS = [0, 20, 50, 100];

export class CardPart {
  readonly element: HTMLElement;
  readonly #size = new Choice(words.paper.size, () => {
    this.#show();
  });
  readonly #variants = new Choice(words.card.variants, () => undefined);
  readonly #list = el('div', { class: 'choices' });
  readonly #make: HTMLButtonElement;
  readonly #print: HTMLButtonElement;
  readonly #csv: HTMLButtonElement;
  readonly #running: Running;
  readonly #note = el('p', { class: 'note', role: 'status' });
  readonly #stale = el('p', { class: 'stale', role: 'status', hidden: true }, words.stale);
  readonly #view = el('div', { class: 'paperbox wide', role: 'region', 'aria-label': words.paper.preview(words.card.title), hidden: true });
  readonly #ticks = new Map<string, HTMLInputElement>();
  #told: CardOut | undefined;

  constructor(
    context: PlaceContext,
    private readonly bench: Bench,
  ) {
    this.#size.offer(SIZES.map((size) => [size, words.paper.sizes[size]]), usualSize());
    this.#variants.offer(VARIANTS.map((count) => [String(count), String(count)]), '20');
    this.#make = button(words.paper.make, { class: 'act', 'data-act': 'card' }, () => void this.#run());
    this.#print = button(words.paper.print, { class: 'act', 'data-act': 'print-card', disabled: true }, () => {
      const paper = this.#view.querySelector<HTMLElement>('.paper');
      if (paper !== null) print(paper, this.#size.value as Size);
    });
    this.#csv = button(words.card.csv, { class: 'link', 'data-act': 'card-csv', disabled: true }, () => {
      if (this.#told === undefined) return;
      const name = fileName(this.#told.origin.robot, words.files.card, 'csv');
      save(context.actions, new Blob([this.#told.csv], { type: 'text/csv' }), name);
    });
    this.#running = new Running(context.actions, [this.#make]);
    bench.onChange(() => {
      this.#stale.hidden = this.#told === undefined;
    });
    this.element = el(
      'section',
      { class: 'part cardpart', 'aria-label': words.card.title },
      el('h2', {}, words.card.title),
      el('p', { class: 'note' }, words.card.about),
      el('div', { class: 'fields' }, this.#size.element, this.#variants.element),
      el('details', {}, el('summary', {}, words.card.choose), this.#list),
      el('div', { class: 'rowof presses' }, this.#make, this.#print, this.#csv, this.#running.element),
      el('p', { class: 'note' }, words.card.csvNote),
      this.#note,
      this.#stale,
      this.#view,
    );
  }

  /** The trials that can be chosen; what was ticked stays. */
  offer(trials: readonly CardTrial[]): void {
    this.#running.ready();
    if (this.#ticks.size > 0) return;
    for (const trial of trials) {
      const id = `card-${trial.key.replaceAll('/', '-')}`;
      const tick = el('input', { type: 'checkbox', id, checked: trial.usual });
      this.#ticks.set(trial.key, tick);
      this.#list.append(el('p', { class: 'tick' }, tick, el('label', { for: id, title: trial.text }, trial.title)));
    }
  }

  closed(): void {
    this.#running.cancel();
  }

  async #run(): Promise<void> {
    const trials = [...this.#ticks].filter(([, tick]) => tick.checked).map(([key]) => key);
    if (trials.length === 0) {
      say(this.#note, words.card.none);
      return;
    }
    const ask = { ...this.bench.robot(), date: today(), trials, variants: Number(this.#variants.value) };
    const told = await this.#running.run('card', ask, words.card.what);
    if (told === undefined) return;
    this.#told = told;
    this.#stale.hidden = true;
    this.#print.disabled = false;
    this.#csv.disabled = false;
    say(this.#note, told.marked || told.variants === 0 ? '' : words.card.noMarks);
    this.#show();
  }

  #show(): void {
    const told = this.#told;
    if (told === undefined) return;
    const heads = [words.card.trial, words.card.measure, words.card.predicted, words.card.limit, words.card.real, words.card.note];
    const blanks = words.card.blanks.map((text) => el('p', { class: 'blank' }, text));
    const spread = told.rows.some((row) => row.spread !== '');
    const paper = makePaper(
      'card',
      this.#size.value as Size,
      words.card.title,
      paperHead(words.card.heading(told.origin.robot), told.origin),
      el('div', { class: 'blanks' }, ...blanks),
      el(
        'table',
        { class: 'ruled' },
        el('thead', {}, el('tr', {}, ...heads.map((text) => el('th', { scope: 'col' }, text)))),
        ...byTrial(told.rows).map(trialRows),
      ),
      ...(spread ? [el('p', { class: 'key' }, words.card.spread(told.variants))] : []),
      el('ul', { class: 'cautions' }, ...told.cautions.map((text) => el('li', {}, text))),
    );
    this.#view.hidden = false;
    this.#view.replaceChildren(paper);
    fit(paper);
    // Many trials take more than a page; in the smallest type nobody could read them on a floor.
    if (paper.scrollHeight > paper.clientHeight + 1) {
      paper.style.fontSize = '8pt';
      paper.classList.add('flows');
    }
  }
}

function byTrial(rows: readonly CardRow[]): CardRow[][] {
  const groups: CardRow[][] = [];
  for (const row of rows) {
    const last = groups.at(-1);
    if (last?.[0]?.key === row.key) last.push(row);
    else groups.push([row]);
  }
  return groups;
}

/** A trial's measures, one a line, beside what is done. */
function trialRows(rows: readonly CardRow[]): HTMLElement {
  const [first] = rows;
  if (first === undefined) return el('tbody', {});
  const given = first.given.map(({ label, text }) => el('li', {}, el('span', {}, label), ' ', el('b', {}, text)));
  const what = el('th', { scope: 'rowgroup', rowspan: rows.length }, el('b', {}, first.title), el('p', {}, first.what), el('ul', {}, ...given));
  const lines = rows.map((row, index) =>
    el(
      'tr',
      {},
      ...(index === 0 ? [what] : []),
      el('td', {}, el('b', {}, row.label), el('p', {}, row.help)),
      el('td', { class: 'predicted' }, el('b', {}, row.text), row.spread === '' ? undefined : el('p', {}, row.spread)),
      el('td', {}, row.limit),
      el('td', { class: 'box' }, el('span', {}, row.unit)),
      el('td', { class: 'box' }),
    ),
  );
  return el('tbody', {}, ...lines);
}
