// A strip chart: one column of one plane against the time since the push, with the run before
// faint behind it. Its ranges grow by whole steps and never jump back within a run.

import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { Board, Plane } from '../core/types';
import { el, say } from '../dom';
import type { Loop } from '../loop';
import { words } from '../words';

/** Half heights of the strip [°] and widths [s]: the next step is taken when one is passed. */
const HEIGHTS = [5, 10, 20, 30, 45, 60, 90, 180, 360, 720, 1440, 2880, 5760];
const WIDTH = 10;
/** Between two drawings of the strip [ms]. */
const PERIOD = 33;

const color = (name: string): string =>
  getComputedStyle(document.documentElement).getPropertyValue(name).trim();

export class Strip {
  readonly element: HTMLElement;
  readonly #box = el('div', { class: 'plot', 'aria-hidden': 'true' });
  readonly #title = el('figcaption', {});
  readonly #range = el('span', { class: 'range' });
  readonly #plot: uPlot;
  #drawn = -Infinity;
  #run = -1;
  #half = HEIGHTS[0] ?? 5;
  #column: string;
  #plane: Plane;
  #from = 0;

  constructor(
    private readonly board: Board,
    loop: Loop,
    plane: Plane,
    column: string,
    level: () => number,
  ) {
    this.#plane = plane;
    this.#column = column;
    this.#title.append(el('span', { class: 'title' }), this.#range);
    this.element = el('figure', { class: 'strip' }, this.#title, this.#box);
    this.#plot = this.#make(level);
    this.retitle();
    new ResizeObserver(() => {
      const { width, height } = this.#box.getBoundingClientRect();
      if (width > 0 && height > 0) this.#plot.setSize({ width, height });
    }).observe(this.#box);
    loop.read((seen, now) => {
      if (this.element.hidden) return;
      const base = seen.layout.planes[this.#plane];
      const run = seen.frame[base + seen.layout.run.number] ?? 0;
      if (run === this.#run && now - this.#drawn < PERIOD) return;
      this.#drawn = now;
      this.#draw(run);
    });
  }

  /** Shows another plane or column. */
  choose(plane: Plane, column: string): void {
    if (plane === this.#plane && column === this.#column) return;
    this.#plane = plane;
    this.#column = column;
    this.#run = -1;
    this.#drawn = -Infinity;
    this.retitle();
  }

  /** Takes the colours of day or night. */
  repaint(): void {
    this.#plot.redraw(false, true);
  }

  retitle(): void {
    const name = words.strip.names[this.#column] ?? this.#column;
    const title = this.#title.firstElementChild;
    if (title !== null) say(title, name);
    this.element.setAttribute('aria-label', words.strip.label(name, this.#plane));
  }

  #draw(run: number): void {
    const flat = this.board.strip(this.#plane, this.#column);
    const count = flat[0] ?? 0;
    const times = flat.subarray(1, 1 + count);
    const values = flat.subarray(1 + count, 1 + 2 * count);
    const rest = flat.subarray(1 + 2 * count);
    const before = rest[0] ?? 0;
    const beforeTimes = rest.subarray(1, 1 + before);
    const beforeValues = rest.subarray(1 + before, 1 + 2 * before);
    if (run !== this.#run) {
      this.#run = run;
      this.#half = HEIGHTS[0] ?? 5;
      this.#grow(beforeValues);
    }
    this.#grow(values);
    const last = times[count - 1] ?? 0;
    // Past its width the strip runs under the pen, second by second.
    this.#from = last <= WIDTH ? 0 : Math.ceil(last - WIDTH);
    say(this.#range, `± ${this.#half}°`);
    this.#plot.setData(
      [null, [beforeTimes, beforeValues], [times, values]] as unknown as uPlot.AlignedData,
      true,
    );
  }

  #grow(values: Float64Array): void {
    let most = 0;
    for (const value of values) most = Math.max(most, Math.abs(value));
    if (most > this.#half) this.#half = HEIGHTS.find((height) => height >= most) ?? most;
  }

  #make(level: () => number): uPlot {
    // Mode 2: each series has its own times.
    const series = (make: () => string, width: number, dash: number[]): uPlot.Series => ({
      stroke: make,
      width,
      dash,
      points: { show: false },
      paths: (plot, index) => line(plot, index),
      facets: [
        { scale: 'x', auto: false },
        { scale: 'y', auto: false },
      ],
    });
    const axis: uPlot.Axis = {
      stroke: () => color('--muted'),
      grid: { stroke: () => color('--grid'), width: 1 },
      ticks: { show: false },
      font: '11px Verdana, "DejaVu Sans", sans-serif',
    };
    return new uPlot(
      {
        mode: 2,
        width: 300,
        height: 120,
        legend: { show: false },
        cursor: { show: false },
        padding: [6, 16, 0, 0],
        scales: {
          x: { time: false, range: () => [this.#from, this.#from + WIDTH] },
          y: { range: () => [-1.12 * this.#half, 1.12 * this.#half] },
        },
        axes: [
          { ...axis, size: 22, gap: 3, values: (_plot, splits) => splits.map((at) => `${at} s`) },
          { ...axis, size: 34, gap: 2, splits: () => [-this.#half, 0, this.#half], values: (_plot, splits) => splits.map(words.strip.angle) },
        ],
        series: [
          {},
          series(() => color('--before'), 1.5, [3, 3]),
          series(() => color(level() === 0 ? '--without-software' : '--with-software'), 2, []),
        ],
      },
      [null, [[], []], [[], []]] as unknown as uPlot.AlignedData,
      this.#box,
    );
  }
}

/** A plain line through a series of mode 2. */
function line(plot: uPlot, index: number): uPlot.Series.Paths {
  const stroke = new Path2D();
  const data = plot.data[index] as unknown as readonly [ArrayLike<number>, ArrayLike<number>];
  const [times, values] = data;
  for (let i = 0; i < times.length; i++) {
    const x = plot.valToPos(times[i] ?? 0, 'x', true);
    const y = plot.valToPos(values[i] ?? 0, 'y', true);
    if (i === 0) stroke.moveTo(x, y);
    else stroke.lineTo(x, y);
  }
  return { stroke };
}
