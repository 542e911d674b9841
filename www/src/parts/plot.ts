// One strip chart: two curves against time, each with its own times, scales that the caller
// sets, and a cursor. The drawing is uPlot's.

import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';

const FONT = '11px Verdana, "DejaVu Sans", sans-serif';

export interface Curve {
  readonly times: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  readonly color: string;
  readonly width: number;
  readonly dash: readonly number[];
}

export interface Chart {
  /** First and last time shown [s]. */
  readonly from: number;
  readonly to: number;
  /** The greatest value on the scale; the least is its opposite. */
  readonly half: number;
  readonly curves: readonly [Curve, Curve];
  /** Time that the board shows, if it looks back [s]. */
  readonly cursor: number | undefined;
}

const NO_CURVE: Curve = { times: [], values: [], color: '', width: 1, dash: [] };

export class Plot {
  readonly #uplot: uPlot;
  #chart: Chart = {
    from: 0,
    to: 10,
    half: 5,
    curves: [NO_CURVE, NO_CURVE],
    cursor: undefined,
  };
  #colors = new Map<string, string>();

  /** `scale` writes the values beside the chart. */
  constructor(
    box: HTMLElement,
    private readonly scale: (value: number) => string,
    changed: () => void,
  ) {
    this.#uplot = this.#make(box);
    new ResizeObserver(([entry]) => {
      if (entry === undefined) return;
      const { width, height } = entry.contentRect;
      if (width < 60 || height < 40) return;
      this.#uplot.setSize({ width, height });
      changed();
    }).observe(box);
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
    const data = [null, ...chart.curves.map((curve) => [curve.times, curve.values])];
    // Mode 2, in which each series has its own times, is not in uPlot's data type.
    this.#uplot.setData(data as unknown as uPlot.AlignedData, true);
  }

  #make(box: HTMLElement): uPlot {
    const curve = (index: 0 | 1): uPlot.Series => ({
      stroke: () => this.#chart.curves[index].color,
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
    const half = (): number => this.#chart.half;
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
          y: { range: () => [-1.08 * half(), 1.08 * half()] },
        },
        axes: [
          { ...axis, size: 22, gap: 3, values: (_plot, splits) => splits.map((at) => `${at} s`) },
          {
            ...axis,
            size: 38,
            gap: 3,
            splits: () => [-half(), 0, half()],
            values: (_plot, splits) => splits.map(this.scale),
          },
        ],
        series: [{}, curve(0), curve(1)],
        hooks: { draw: [(plot) => this.#ink(plot)] },
      },
      [null, [[], []], [[], []]] as unknown as uPlot.AlignedData,
      box,
    );
  }

  /** The curves and the cursor, within the scales. */
  #ink(plot: uPlot): void {
    const { ctx: pen, bbox } = plot;
    const ratio = devicePixelRatio;
    pen.save();
    pen.beginPath();
    pen.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    pen.clip();
    pen.lineJoin = 'round';
    for (const { times, values, color, width, dash } of this.#chart.curves) {
      pen.strokeStyle = color;
      pen.lineWidth = width * ratio;
      pen.setLineDash(dash.map((length) => length * ratio));
      pen.beginPath();
      for (let i = 0; i < times.length; i++) {
        pen.lineTo(plot.valToPos(times[i] ?? 0, 'x', true), plot.valToPos(values[i] ?? 0, 'y', true));
      }
      pen.stroke();
    }
    const { cursor, from } = this.#chart;
    if (cursor !== undefined && cursor >= from) {
      const x = plot.valToPos(cursor, 'x', true);
      pen.strokeStyle = this.color('--kick');
      pen.lineWidth = 1.2 * ratio;
      pen.setLineDash([]);
      pen.beginPath();
      pen.moveTo(x, bbox.top);
      pen.lineTo(x, bbox.top + bbox.height);
      pen.stroke();
    }
    pen.restore();
  }
}
