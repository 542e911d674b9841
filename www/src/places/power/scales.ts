// Scales of the drawings. Where a number lies on the paper; what the numbers mean is the core's.

import { clamp } from '../../dom';

/** A logarithmic scale from `least` to `most`, drawn from `from` to `to` [px]. */
export class LogScale {
  readonly #low: number;
  readonly #span: number;

  constructor(
    readonly least: number,
    readonly most: number,
    readonly from: number,
    readonly to: number,
  ) {
    this.#low = Math.log10(least);
    this.#span = Math.log10(most) - this.#low;
  }

  /** Place of a value, also beyond the ends. */
  at(value: number): number {
    return this.from + ((this.to - this.from) * (Math.log10(value) - this.#low)) / this.#span;
  }

  /** Place of a value, at an end if it lies beyond. */
  within(value: number): number {
    return this.at(clamp(value, this.least, this.most));
  }

  holds(value: number): boolean {
    return value >= this.least && value <= this.most;
  }

  /** Round numbers on the scale: 1, 2 and 5 of each decade, or the decades alone. */
  ticks(parts: readonly number[]): number[] {
    const out: number[] = [];
    for (let decade = Math.floor(this.#low); decade <= Math.ceil(this.#low + this.#span); decade++) {
      for (const part of parts) {
        const value = part * 10 ** decade;
        // The ends too, whatever rounding makes of them.
        if (this.holds(value * (1 + 1e-9)) || this.holds(value * (1 - 1e-9))) out.push(value);
      }
    }
    return out;
  }
}

/** A path through points. */
export const through = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** A number as short as its decade allows. */
export const short = (value: number): string => String(Number(value.toPrecision(3))).replace('-', '−');

/** A drawing that is drawn anew for the width it gets. */
export function fitted(box: HTMLElement, draw: (width: number) => SVGElement | undefined): () => void {
  let width = 0;
  const again = (): void => {
    if (width < 120) return;
    const drawing = draw(width);
    box.replaceChildren(...(drawing === undefined ? [] : [drawing]));
  };
  new ResizeObserver(([entry]) => {
    const next = Math.floor(entry?.contentRect.width ?? 0);
    if (next === width) return;
    width = next;
    again();
  }).observe(box);
  return again;
}
