// Gain and phase of the loop cut open, over frequency, and the loop on the complex plane. Margins are
// marked where they are read off.

import { asTable } from '../../parts/astable';
import { three } from '../../words/numbers';
import type { CurveOut, MarginRow } from '../../core/lab.edge';
import { el, svg } from '../../dom';
import { edgeWords } from '../../words/edge';
import { fitted, LogScale, short, through } from '../power/scales';

const words = edgeWords.curve;
/** Rows of the table of the curves. */
const ROWS = 25;

const MARGIN = { left: 52, right: 12, top: 8, bottom: 32 };
const GAIN_HEIGHT = 150;
const PHASE_HEIGHT = 150;
const GAP = 12;
/** Gains shown at least [dB], widened by whole steps. */
const GAINS = [-40, 20] as const;
const GAIN_STEP = 20;
/** As far from 1 as gains are followed [dB]. */
const GAIN_MOST = 80;
const PHASE_STEP = 90;
/** The complex plane reaches so far from 0. */
const LOCUS_REACH = 2.2;
const LOCUS_HEIGHT = 260;

const minus = (value: number): string => String(value).replace('-', '−');

class Straight {
  constructor(
    readonly least: number,
    readonly most: number,
    readonly from: number,
    readonly to: number,
  ) {}
  at(value: number): number {
    return this.from + ((this.to - this.from) * (value - this.least)) / (this.most - this.least);
  }
}

/** A value of a curve at a frequency, on the straight line between its points. */
function read(frequencies: Float64Array, values: Float64Array, frequency: number): number | undefined {
  const next = frequencies.findIndex((one) => one >= frequency);
  if (next < 0) return undefined;
  const [f0, f1, v0, v1] = [frequencies[next - 1], frequencies[next], values[next - 1], values[next]];
  if (f1 === undefined || v1 === undefined) return undefined;
  if (f0 === undefined || v0 === undefined || f1 === f0) return v1;
  return v0 + ((v1 - v0) * (frequency - f0)) / (f1 - f0);
}

/** Whole steps that hold the values, no wider than `most`. */
function range(values: Float64Array, least: number, most: number, step: number, limit: number): readonly [number, number] {
  let [low, high] = [least, most];
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, Math.floor(value / step) * step);
    high = Math.max(high, Math.ceil(value / step) * step);
  }
  return [Math.max(low, -limit), Math.min(high, limit)];
}

export class CurvePart {
  readonly element: HTMLElement;
  readonly #box = el('div', { class: 'drawingbox' });
  readonly #locusBox = el('div', { class: 'drawingbox' });
  readonly #redraw: readonly (() => void)[];
  #curve: CurveOut | undefined;
  readonly #table = asTable(
    () => (this.#curve === undefined ? '' : words.describe(words.breaks[this.#curve.at], '')),
    [words.frequency, words.gain, words.phase, words.real, words.imaginary],
    () => this.#rows(),
  );

  constructor() {
    this.#redraw = [
      fitted(this.#box, (width) => (this.#curve === undefined ? undefined : this.#draw(this.#curve, width))),
      fitted(this.#locusBox, (width) => (this.#curve === undefined ? undefined : this.#locus(this.#curve, Math.min(width, 340)))),
    ];
    this.element = el('div', { class: 'curves' }, el('figure', {}, this.#box, this.#table.element), el('figure', {}, this.#locusBox, el('figcaption', { class: 'note' }, words.locus)));
  }

  show(curve: CurveOut | undefined): void {
    this.#curve = curve;
    this.#table.renew();
    for (const redraw of this.#redraw) redraw();
  }

  /** The curves at so many frequencies that the table can be read. */
  #rows(): readonly (readonly string[])[] {
    const curve = this.#curve;
    if (curve === undefined) return [];
    const last = curve.frequencies.length - 1;
    const rows = Math.min(ROWS, last + 1);
    return Array.from({ length: rows }, (_, row) => {
      const at = Math.round((row * last) / Math.max(rows - 1, 1));
      const values = [curve.frequencies[at], curve.gain[at], curve.phase[at], curve.locus[2 * at], curve.locus[2 * at + 1]];
      return values.map((value) => (value === undefined || !Number.isFinite(value) ? '–' : three(value)));
    });
  }

  #draw(curve: CurveOut, width: number): SVGElement {
    const { frequencies, gain, phase } = curve;
    const [left, right] = [MARGIN.left, width - MARGIN.right];
    const height = MARGIN.top + GAIN_HEIGHT + GAP + PHASE_HEIGHT + MARGIN.bottom;
    const told = curve.margins.map(({ label, text }) => `${label} ${text}`).join(', ');
    const drawing = svg('svg', {
      width,
      height,
      viewBox: `0 0 ${width} ${height}`,
      role: 'img',
      'aria-label': words.describe(words.breaks[curve.at], told),
    });
    const x = new LogScale(frequencies[0] ?? 0.01, frequencies.at(-1) ?? 100, left, right);
    const gainBottom = MARGIN.top + GAIN_HEIGHT;
    const phaseTop = gainBottom + GAP;
    const [least, most] = range(gain, ...GAINS, GAIN_STEP, GAIN_MOST);
    const db = new Straight(least, most, gainBottom, MARGIN.top);
    const [low, high] = range(phase, -180, 0, PHASE_STEP, 1080);
    const angle = new Straight(low, high, phaseTop + PHASE_HEIGHT, phaseTop);
    drawing.append(
      svg(
        'defs',
        {},
        svg('clipPath', { id: 'edge-gain' }, svg('rect', { x: left, y: MARGIN.top, width: right - left, height: GAIN_HEIGHT })),
        svg('clipPath', { id: 'edge-phase' }, svg('rect', { x: left, y: phaseTop, width: right - left, height: PHASE_HEIGHT })),
      ),
    );
    this.#panel(drawing, x, db, GAIN_STEP, words.gain, false);
    this.#panel(drawing, x, angle, high - low > 540 ? 180 : PHASE_STEP, words.phase, true);
    // Where gain is 1, and where phase turns the loop's sign.
    drawing.append(svg('line', { x1: left, x2: right, y1: db.at(0), y2: db.at(0), class: 'critical' }));
    for (let turn = -180 - 360 * 3; turn <= 540; turn += 360) {
      if (turn < low || turn > high) continue;
      drawing.append(svg('line', { x1: left, x2: right, y1: angle.at(turn), y2: angle.at(turn), class: 'critical' }));
    }
    const line = (values: Float64Array, y: Straight): string =>
      through([...frequencies].flatMap((f, i): [number, number][] => {
        const value = values[i];
        return value !== undefined && Number.isFinite(value) ? [[x.at(f), y.at(value)]] : [];
      }));
    drawing.append(
      svg('g', { 'clip-path': 'url(#edge-gain)' }, svg('path', { d: line(gain, db), class: 'curve' })),
      svg('g', { 'clip-path': 'url(#edge-phase)' }, svg('path', { d: line(phase, angle), class: 'curve' })),
    );
    for (const margin of curve.margins) this.#mark(drawing, curve, margin, x, db, angle);
    return drawing;
  }

  #panel(drawing: SVGElement, x: LogScale, y: Straight, step: number, name: string, lower: boolean): void {
    const [top, bottom] = [y.to, y.from];
    const wide = x.to - x.from > 420;
    for (const value of x.ticks(wide ? [1, 2, 5] : [1])) {
      drawing.append(svg('line', { x1: x.at(value), x2: x.at(value), y1: top, y2: bottom, class: 'grid' }));
      if (lower) drawing.append(svg('text', { x: x.at(value), y: bottom + 14, class: 'tick middle' }, short(value)));
    }
    for (let value = Math.ceil(y.least / step) * step; value <= y.most; value += step) {
      drawing.append(
        svg('line', { x1: x.from, x2: x.to, y1: y.at(value), y2: y.at(value), class: 'grid' }),
        svg('text', { x: x.from - 5, y: y.at(value) + 4, class: 'tick end' }, minus(value)),
      );
    }
    const middle = (top + bottom) / 2;
    drawing.append(
      svg('rect', { x: x.from, y: top, width: x.to - x.from, height: bottom - top, class: 'frame' }),
      svg('text', { x: 10, y: middle, class: 'tick middle', transform: `rotate(-90 10 ${middle})` }, name),
    );
    if (lower) drawing.append(svg('text', { x: x.to, y: bottom + 28, class: 'tick end' }, words.frequency));
  }

  #mark(drawing: SVGElement, curve: CurveOut, margin: MarginRow, x: LogScale, db: Straight, angle: Straight): void {
    const { key, frequency, text, value } = margin;
    if (frequency === undefined || value === undefined || !x.holds(frequency)) return;
    const at = x.at(frequency);
    const own = read(curve.frequencies, key === 'phase' ? curve.phase : curve.gain, frequency);
    if (own === undefined) return;
    const left = at > (x.from + x.to) / 2;
    const word = (y: number): SVGElement =>
      svg('text', { x: at + (left ? -6 : 6), y, class: left ? 'markword end' : 'markword' }, text);
    if (key === 'phase') {
      // From the nearest turn of the sign to the curve.
      const turn = Math.round((own + 180) / 360) * 360 - 180;
      const [a, b] = [angle.at(turn), angle.at(own)];
      drawing.append(
        svg('line', { x1: at, x2: at, y1: db.at(0), y2: b, class: 'reading' }),
        svg('line', { x1: at, x2: at, y1: a, y2: b, class: 'margin' }),
        word((a + b) / 2 + 4),
      );
    } else if (key === 'gain_up' || key === 'gain_down') {
      const [a, b] = [db.at(0), db.at(own)];
      drawing.append(
        svg('line', { x1: at, x2: at, y1: b, y2: angle.to, class: 'reading' }),
        svg('line', { x1: at, x2: at, y1: a, y2: b, class: 'margin' }),
        word(Math.min(Math.max((a + b) / 2 + 4, db.to + 12), db.from - 4)),
      );
    }
  }

  #locus(curve: CurveOut, width: number): SVGElement {
    const height = LOCUS_HEIGHT;
    const scale = Math.min(width, height) / (2 * LOCUS_REACH);
    const [cx, cy] = [width / 2, height / 2];
    const x = (value: number): number => cx + value * scale;
    const y = (value: number): number => cy - value * scale;
    const drawing = svg('svg', { width, height, viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': words.describeLocus });
    const { locus, margins } = curve;
    const points: [number, number][] = [];
    for (let i = 0; i + 1 < locus.length; i += 2) {
      const [re, im] = [locus[i] ?? NaN, locus[i + 1] ?? NaN];
      if (Number.isFinite(re) && Number.isFinite(im) && Math.hypot(re, im) < 200) points.push([x(re), y(im)]);
    }
    const modulus = margins.find(({ key }) => key === 'modulus')?.value;
    drawing.append(
      svg('defs', {}, svg('clipPath', { id: 'edge-locus' }, svg('rect', { x: 0, y: 0, width, height }))),
      svg('line', { x1: 0, x2: width, y1: cy, y2: cy, class: 'grid' }),
      svg('line', { x1: cx, x2: cx, y1: 0, y2: height, class: 'grid' }),
      svg('circle', { cx, cy, r: scale, class: 'one' }),
      svg('rect', { x: 0.6, y: 0.6, width: width - 1.2, height: height - 1.2, class: 'frame' }),
    );
    if (modulus !== undefined) drawing.append(svg('circle', { cx: x(-1), cy, r: modulus * scale, class: 'modulus' }));
    drawing.append(
      svg('g', { 'clip-path': 'url(#edge-locus)' }, svg('path', { d: through(points), class: 'curve' })),
      svg('path', { d: `M${x(-1) - 5} ${cy}h10M${x(-1)} ${cy - 5}v10`, class: 'minusone' }),
      svg('text', { x: x(-1) - 8, y: cy + 16, class: 'markword end' }, words.point),
      svg('text', { x: x(0.72) + 4, y: y(0.72) - 4, class: 'tick' }, words.unit),
    );
    return drawing;
  }
}
