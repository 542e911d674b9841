// Where the watts go: the flow with its table, for a moment of the run or for the whole of it.

import type { PowerOut } from '../../core/lab.power';
import { el, say, svg } from '../../dom';
import { powerWords } from '../../words/power';
import { Flow, flowKey } from './flow';
import { fitted, through } from './scales';

const words = powerWords.watts;
const TRACE = 46;

export class WattsPart {
  readonly element: HTMLElement;
  readonly #flow = new Flow();
  readonly #slider = el('input', { type: 'range', min: 0, step: 1, 'aria-label': words.slider });
  readonly #reading = el('p', { class: 'reading' });
  readonly #table = el('div', { class: 'wide' });
  readonly #moment = el('input', { type: 'radio', name: 'power-watts', value: 'moment', checked: true });
  readonly #whole = el('input', { type: 'radio', name: 'power-watts', value: 'whole' });
  readonly #trace = el('div', { class: 'wattstrace', 'aria-hidden': 'true' });
  readonly #retrace: () => void;
  #cells: { readonly then: HTMLElement; readonly share: HTMLElement }[] = [];
  #sum = { then: el('td', {}), left: el('td', {}) };
  #out: PowerOut | undefined;
  #title = '';

  constructor() {
    this.#slider.addEventListener('input', () => {
      this.#moment.checked = true;
      this.#update();
    });
    for (const radio of [this.#moment, this.#whole]) {
      radio.addEventListener('change', () => {
        this.#update();
      });
    }
    this.#retrace = fitted(this.#trace, (width) => this.#drawTrace(width));
    this.element = el(
      'section',
      { class: 'wattspart', 'aria-label': words.title },
      el('h2', {}, words.title),
      el(
        'fieldset',
        { class: 'rowof' },
        el('legend', { class: 'unseen' }, words.which),
        el('label', {}, this.#moment, words.moment),
        el('label', {}, this.#whole, words.whole),
      ),
      el('div', { class: 'sliderbox' }, this.#trace, this.#slider),
      this.#reading,
      el('div', { class: 'drawingandtable' }, el('div', {}, this.#flow.element, flowKey()), this.#table),
    );
  }

  show(out: PowerOut): void {
    const { times, peak } = out.moments;
    // The same run with other numbers keeps its moment; another begins at its greatest power.
    const same = this.#title === out.title && this.#out?.moments.times.length === times.length;
    this.#out = out;
    this.#title = out.title;
    this.#slider.max = String(Math.max(times.length - 1, 0));
    if (!same) this.#slider.value = String(peak);
    this.#makeTable(out);
    this.#retrace();
    this.#update();
  }

  get #index(): number {
    return Number(this.#slider.value);
  }

  #powers(out: PowerOut, index: number): Float64Array {
    const count = out.parts.length;
    return out.moments.watts.subarray(index * count, (index + 1) * count);
  }

  #makeTable(out: PowerOut): void {
    const { columns } = words;
    this.#cells = [];
    const body = el('tbody', {});
    for (const { key, label, text } of out.parts) {
      const then = el('td', { class: 'figure', 'data-then': key });
      const share = el('td', { class: 'figure' });
      this.#cells.push({ then, share });
      body.append(
        el('tr', key === 'source' ? { class: 'source' } : {}, el('th', { scope: 'row' }, label), then, share, el('td', { class: 'figure', 'data-mean': key }, text)),
      );
    }
    this.#sum = { then: el('td', { class: 'figure', 'data-then': 'sum' }), left: el('td', { class: 'figure', 'data-then': 'left' }) };
    const source = out.parts[0]?.mean ?? 0;
    body.append(
      el('tr', { class: 'sum' }, el('th', { scope: 'row' }, words.sum), this.#sum.then, el('td', {}), el('td', { class: 'figure' }, words.value(source - out.imbalance, out.watt))),
      el('tr', {}, el('th', { scope: 'row' }, words.left), this.#sum.left, el('td', {}), el('td', { class: 'figure' }, words.value(out.imbalance, out.watt))),
    );
    const head = [columns.part, columns.moment, columns.share, columns.whole];
    this.#table.replaceChildren(
      el(
        'table',
        {},
        el('thead', {}, el('tr', {}, ...head.map((text, index) => el('th', index === 0 ? { scope: 'col' } : { scope: 'col', class: 'figure' }, text)))),
        body,
      ),
    );
  }

  #update(): void {
    const out = this.#out;
    if (out === undefined || out.moments.times.length === 0) return;
    const index = this.#index;
    const { times, current, voltage } = out.moments;
    const powers = this.#powers(out, index);
    const source = powers[0] ?? 0;
    const time = times[index] ?? 0;
    let sum = 0;
    powers.forEach((power, at) => {
      if (at > 0) sum += power;
      const cell = this.#cells[at];
      if (cell === undefined) return;
      say(cell.then, words.value(power, out.watt));
      say(cell.share, Math.abs(source) < 0.05 ? '' : words.share(power / source));
    });
    say(this.#sum.then, words.value(sum, out.watt));
    say(this.#sum.left, words.value(source - sum, out.watt));
    say(this.#reading, words.reading(time, current[index] ?? 0, voltage[index] ?? 0));
    this.#slider.setAttribute('aria-valuetext', words.valueText(time, source, out.watt));
    const whole = this.#whole.checked;
    const means = out.parts.map(({ mean }) => mean);
    this.#flow.show({
      parts: out.parts,
      powers: whole ? means : powers,
      most: whole ? stream(means) : this.#most(out),
      unit: out.watt,
      which: whole ? words.whole : words.at(time),
    });
    this.#cursor(index);
  }

  /** The greatest stream of the whole run, so that moments can be told apart by eye. */
  #most(out: PowerOut): number {
    let most = 0;
    for (let index = 0; index < out.moments.times.length; index++) most = Math.max(most, stream(this.#powers(out, index)));
    return most;
  }

  /** The power from the cells over the run, above the slider. */
  #drawTrace(width: number): SVGElement | undefined {
    const out = this.#out;
    if (out === undefined) return undefined;
    const count = out.moments.times.length;
    const sources = Array.from({ length: count }, (_, index) => this.#powers(out, index)[0] ?? 0);
    const [least, most] = [Math.min(0, ...sources), Math.max(1, ...sources)];
    // As wide as the way of the slider's thumb.
    const x = (index: number): number => 8 + ((width - 16) * index) / Math.max(count - 1, 1);
    const y = (power: number): number => 3 + ((TRACE - 6) * (most - power)) / (most - least);
    const drawing = svg('svg', { width, height: TRACE, viewBox: `0 0 ${width} ${TRACE}` });
    drawing.append(
      svg('line', { x1: 8, x2: width - 8, y1: y(0), y2: y(0), class: 'grid' }),
      svg('path', { d: through(sources.map((power, index) => [x(index), y(power)])), class: 'trace' }),
      svg('line', { x1: 0, x2: 0, y1: 0, y2: TRACE, class: 'cursor' }),
    );
    queueMicrotask(() => {
      this.#cursor(this.#index);
    });
    return drawing;
  }

  #cursor(index: number): void {
    const line = this.#trace.querySelector('.cursor');
    const width = this.#trace.clientWidth;
    const last = Math.max((this.#out?.moments.times.length ?? 1) - 1, 1);
    line?.setAttribute('transform', `translate(${(8 + ((width - 16) * index) / last).toFixed(1)} 0)`);
  }
}

/** What flows through: all that is given, whichever way. */
function stream(powers: ArrayLike<number>): number {
  let given = Math.max(powers[0] ?? 0, 0);
  for (let index = 1; index < powers.length; index++) given += Math.max(-(powers[index] ?? 0), 0);
  return given;
}
