// One strip chart: curves against time, each with its own times, scales that the caller sets, a
// limit, and a cursor. The scales are uPlot's; the curves are laid into them here, because a
// run, its double's and the run before have each their own times.

import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import '../style/strips.css';
import { el } from '../dom';

const FONT = '11px Verdana, "DejaVu Sans", sans-serif';

export interface Curve {
  readonly times: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  readonly color: string;
  readonly width: number;
  readonly dash: readonly number[];
}

/** A value that is not to be passed. */
export interface Limit {
  readonly value: number;
  readonly color: string;
}

export interface Chart {
  /** First and last time shown [s]. */
  readonly from: number;
  readonly to: number;
  /** The greatest value on the scale. */
  readonly half: number;
  /** The least; without one the opposite of the greatest. */
  readonly least?: number;
  readonly curves: readonly Curve[];
  readonly limit?: Limit | undefined;
  /** Time that is looked at [s]. */
  readonly cursor: number | undefined;
}

const NOTHING: Chart = { from: 0, to: 10, half: 5, curves: [], cursor: undefined };
/** Space beyond the greatest and the least value, as a share. */
const BEYOND = 0.08;
/** Dashes of a limit [px]. */
const LIMIT_DASH = [7, 4];

export class Plot {
  readonly #uplot: uPlot;
  readonly #line = el('div', { class: 'cursorline', hidden: true });
  #chart = NOTHING;
  #colors = new Map<string, string>();

  /** `scale` writes the values beside the chart. */
  constructor(
    box: HTMLElement,
    private readonly scale: (value: number) => string,
    changed: () => void,
  ) {
    this.#uplot = this.#make(box);
    this.area.append(this.#line);
    let ratio = devicePixelRatio;
    new ResizeObserver(([entry]) => {
      if (entry === undefined) return;
      const { width, height } = entry.contentRect;
      if (width < 60 || height < 40) return;
      this.#uplot.setSize({ width, height });
      ratio = devicePixelRatio;
      changed();
    }).observe(box);
    // Another screen, or the page made larger: the canvas needs other pixels at the same size.
    window.addEventListener('resize', () => {
      if (ratio === devicePixelRatio || !box.isConnected) return;
      ratio = devicePixelRatio;
      const { width, height } = this.#uplot;
      this.#uplot.setSize({ width, height });
      changed();
    });
  }

  /** The area inside the scales, which takes the pointer. */
  get area(): HTMLElement {
    return this.#uplot.over;
  }

  /** A colour of the page; asked of it once for each light. */
  color(name: string): string {
    let color = this.#colors.get(name);
    if (color === undefined) {
      color = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
      this.#colors.set(name, color);
    }
    return color;
  }

  forgetColors(): void {
    this.#colors = new Map();
  }

  /** Time at a place of the window [px]. */
  timeAt(clientX: number): number {
    return this.#uplot.posToVal(clientX - this.area.getBoundingClientRect().left, 'x');
  }

  draw(chart: Chart): void {
    this.#chart = chart;
    const [a, b] = chart.curves;
    // uPlot sets its scales when there is something to scale; what it is does not matter, the
    // ranges are the caller's.
    const of = (curve: Curve | undefined): readonly ArrayLike<number>[] => [curve?.times ?? [], curve?.values ?? []];
    // Mode 2, in which each series has its own times, is not in uPlot's data type.
    this.#uplot.setData([null, of(a), of(b)] as unknown as uPlot.AlignedData, true);
    this.cursor(chart.cursor);
  }

  /** Moves the line of the time that is looked at; takes it away outside the chart. */
  cursor(time: number | undefined): void {
    const { from, to } = this.#chart;
    const away = time === undefined || time < from || time > to;
    this.#line.hidden = away;
    if (!away) this.#line.style.transform = `translateX(${this.#uplot.valToPos(time, 'x').toFixed(1)}px)`;
  }

  #make(box: HTMLElement): uPlot {
    const curve = (): uPlot.Series => ({
      // The curves are drawn below, by their own times.
      paths: () => null,
      points: { show: false },
      facets: [
        { scale: 'x', auto: false },
        { scale: 'y', auto: false },
      ],
    });
    const axis: uPlot.Axis = {
      stroke: () => this.color('--muted'),
      grid: { stroke: () => this.color('--grid'), width: 1 },
      ticks: { show: false },
      font: FONT,
    };
    const top = (): number => this.#chart.half;
    const bottom = (): number => this.#chart.least ?? -this.#chart.half;
    return new uPlot(
      {
        mode: 2,
        width: 300,
        height: 120,
        legend: { show: false },
        cursor: { show: false },
        padding: [6, 16, 0, 0],
        scales: {
          x: { time: false, range: () => [this.#chart.from, this.#chart.to] },
          y: {
            range: () => {
              const room = BEYOND * Math.max(top(), -bottom());
              return [bottom() - room, top() + room];
            },
          },
        },
        axes: [
          { ...axis, size: 22, gap: 3, space: 46, values: (_plot, splits) => splits.map((at) => `${at} s`) },
          {
            ...axis,
            size: 38,
            gap: 3,
            splits: () => (bottom() < 0 ? [bottom(), 0, top()] : [0, top() / 2, top()]),
            values: (_plot, splits) => splits.map(this.scale),
          },
        ],
        series: [{}, curve(), curve()],
        hooks: { draw: [(plot) => this.#ink(plot)] },
      },
      [null, [[], []], [[], []]] as unknown as uPlot.AlignedData,
      box,
    );
  }

  /** Limit and curves, within the scales. */
  #ink(plot: uPlot): void {
    const { ctx: pen, bbox } = plot;
    const ratio = devicePixelRatio;
    const { from, to, limit, curves } = this.#chart;
    // Both scales are straight: asking uPlot for every point would cost more than drawing them.
    const x0 = plot.valToPos(from, 'x', true);
    const perSecond = (plot.valToPos(to, 'x', true) - x0) / (to - from);
    const y0 = plot.valToPos(0, 'y', true);
    const perUnit = plot.valToPos(1, 'y', true) - y0;
    pen.save();
    pen.beginPath();
    pen.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    pen.clip();
    pen.lineJoin = 'round';
    if (limit !== undefined) {
      const y = Math.round(y0 + limit.value * perUnit) + 0.5;
      pen.strokeStyle = limit.color;
      pen.lineWidth = 1.4 * ratio;
      pen.setLineDash(LIMIT_DASH.map((length) => length * ratio));
      pen.beginPath();
      pen.moveTo(bbox.left, y);
      pen.lineTo(bbox.left + bbox.width, y);
      pen.stroke();
    }
    for (const { times, values, color, width, dash } of curves) {
      const { length } = times;
      if (length === 0) continue;
      pen.strokeStyle = color;
      pen.lineWidth = width * ratio;
      pen.setLineDash(dash.map((part) => part * ratio));
      pen.beginPath();
      for (let i = 0; i < length; i++) {
        const time = times[i] ?? 0;
        // What lies left of the chart is not drawn, but for the point that leads into it.
        if (time < from && (times[i + 1] ?? 0) < from) continue;
        pen.lineTo(x0 + (time - from) * perSecond, y0 + (values[i] ?? 0) * perUnit);
      }
      pen.stroke();
    }
    pen.restore();
  }
}
