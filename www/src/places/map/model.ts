// A map as far as it is known: its plan, what each cell gave, and what stands in for cells that are
// still to be run. It knows nothing of how it is drawn.

import type { AxisOut, MapPlan, MapTile } from '../../core/lab.map';
import { mapWords } from '../../words/map';

/** Class of a run that settled. */
export const SETTLED = 0;
/** Class shown where nothing is known yet. */
export const UNKNOWN = 255;

/** What one cell gave. */
export interface Cell {
  /** Measure [SI]; NaN where the run gives none. */
  readonly value: number;
  readonly class: number;
}

/** Place of a value along an axis, in cells (0 is the middle of the first); beyond its ends it goes on. */
export function cellOf({ values, logarithmic }: AxisOut, value: number): number {
  const last = values.length - 1;
  const first = values[0] ?? 0;
  const end = values[last] ?? first;
  if (last < 1 || end === first) return value === first ? 0 : value < first ? -1 : 1;
  if (logarithmic && first > 0 && value > 0) return (last * Math.log(value / first)) / Math.log(end / first);
  return (last * (value - first)) / (end - first);
}

/** Value at a place along an axis, in cells, within its ends [SI]. */
export function valueOf({ values }: AxisOut, cell: number): number {
  const at = Math.min(Math.max(Math.round(cell), 0), values.length - 1);
  return values[at] ?? Number.NaN;
}

/** What a map is called. */
export const titleOf = ({ x, y }: MapPlan): string => mapWords.title(y.label, x.label);

export class MapModel {
  readonly nx: number;
  readonly ny: number;
  /** Measures [SI] of the cells run. */
  readonly values: Float64Array;
  readonly classes: Uint8Array;
  /** What is shown: cells not run yet stand for their nearest neighbour that was. */
  readonly shownValues: Float64Array;
  readonly shownClasses: Uint8Array;
  /** How far the cell is that gave what is shown, squared [cells]; 0 for a cell's own. */
  readonly #far: Float32Array;
  /** Cells run so far. */
  known = 0;
  least = Infinity;
  most = -Infinity;

  /** `plan` may become fuller while the map is run: the linear edge comes later. */
  constructor(public plan: MapPlan) {
    this.nx = plan.x.values.length;
    this.ny = plan.y.values.length;
    const count = this.nx * this.ny;
    this.values = new Float64Array(count).fill(Number.NaN);
    this.classes = new Uint8Array(count).fill(UNKNOWN);
    this.shownValues = new Float64Array(count).fill(Number.NaN);
    this.shownClasses = new Uint8Array(count).fill(UNKNOWN);
    this.#far = new Float32Array(count).fill(Infinity);
  }

  /** A map that is known as a whole, such as a kept one. */
  static whole(plan: MapPlan, values: Float64Array, classes: Uint8Array): MapModel {
    const model = new MapModel(plan);
    model.take({ cells: Uint32Array.from(values, (_, index) => index), values, classes }, 1);
    return model;
  }

  get whole(): boolean {
    return this.known === this.values.length;
  }

  /** Takes what some cells gave; `spacing` is the distance of the cells run so far. */
  take({ cells, values, classes }: MapTile, spacing: number): void {
    const { nx, ny } = this;
    const before = Math.floor(spacing / 2);
    const after = spacing - 1 - before;
    /** What a cell stands for along an axis: half the way to its neighbours, or up to the border. */
    const reach = (at: number, count: number): readonly [number, number] => [
      spacing > 1 && at < spacing ? 0 : at - before,
      spacing > 1 && at + spacing >= count ? count - 1 : at + after,
    ];
    cells.forEach((cell, index) => {
      if (cell >= this.values.length) return;
      const value = values[index] ?? Number.NaN;
      const kind = classes[index] ?? UNKNOWN;
      if (this.classes[cell] === UNKNOWN) this.known += 1;
      this.values[cell] = value;
      this.classes[cell] = kind;
      if (value < this.least) this.least = value;
      if (value > this.most) this.most = value;
      const x = cell % nx;
      const y = (cell - x) / nx;
      const [left, right] = reach(x, nx);
      const [low, high] = reach(y, ny);
      for (let j = low; j <= high; j++) {
        for (let i = left; i <= right; i++) {
          const at = j * nx + i;
          // The nearest that is known stands for what is not.
          const far = (i - x) ** 2 + (j - y) ** 2;
          if (far > (this.#far[at] ?? 0)) continue;
          this.#far[at] = far;
          this.shownValues[at] = value;
          this.shownClasses[at] = kind;
        }
      }
    });
  }

  /** What a cell gave, if it was run. */
  cell(x: number, y: number): Cell | undefined {
    if (!(x >= 0 && y >= 0 && x < this.nx && y < this.ny)) return undefined;
    const at = y * this.nx + x;
    if (this.classes[at] === UNKNOWN) return undefined;
    return { value: this.values[at] ?? Number.NaN, class: this.classes[at] ?? UNKNOWN };
  }

  /** How many cells of each class were run. */
  counts(): readonly number[] {
    const counts = this.plan.classes.map(() => 0);
    for (const kind of this.classes) {
      const count = counts[kind];
      if (count !== undefined) counts[kind] = count + 1;
    }
    return counts;
  }

  /** The settled cell with the least measure. */
  leastSettled(): { readonly x: number; readonly y: number; readonly value: number } | undefined {
    let best = -1;
    for (let at = 0; at < this.values.length; at++) {
      if (this.classes[at] !== SETTLED) continue;
      const value = this.values[at] ?? Number.NaN;
      if (Number.isFinite(value) && (best < 0 || value < (this.values[best] ?? Infinity))) best = at;
    }
    if (best < 0) return undefined;
    const x = best % this.nx;
    return { x, y: (best - x) / this.nx, value: this.values[best] ?? Number.NaN };
  }

  /**
   * For each class, the cell deepest inside its largest patch, where its letter can stand, and how
   * far it is from the patch's border [cells].
   */
  middles(): readonly ({ readonly x: number; readonly y: number; readonly depth: number } | undefined)[] {
    const { nx, ny } = this;
    // Distance to the nearest cell of another class or the map's border, by two passes.
    const depth = new Uint16Array(nx * ny);
    const near = (at: number, x: number, y: number, dx: number, dy: number): number => {
      if (x + dx < 0 || y + dy < 0 || x + dx >= nx || y + dy >= ny) return 0;
      const other = at + dy * nx + dx;
      return this.shownClasses[other] === this.shownClasses[at] ? (depth[other] ?? 0) : 0;
    };
    for (let y = 0; y < ny; y++) {
      for (let x = 0; x < nx; x++) {
        const at = y * nx + x;
        depth[at] = 1 + Math.min(near(at, x, y, -1, 0), near(at, x, y, 0, -1), near(at, x, y, -1, -1), near(at, x, y, 1, -1));
      }
    }
    const middles: ({ x: number; y: number; depth: number } | undefined)[] = this.plan.classes.map(() => undefined);
    for (let y = ny - 1; y >= 0; y--) {
      for (let x = nx - 1; x >= 0; x--) {
        const at = y * nx + x;
        const back = 1 + Math.min(near(at, x, y, 1, 0), near(at, x, y, 0, 1), near(at, x, y, 1, 1), near(at, x, y, -1, 1));
        const least = Math.min(depth[at] ?? 0, back);
        depth[at] = least;
        const kind = this.shownClasses[at] ?? UNKNOWN;
        if (kind < middles.length && least > (middles[kind]?.depth ?? 0)) middles[kind] = { x, y, depth: least };
      }
    }
    return middles;
  }
}
