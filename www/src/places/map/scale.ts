// Round numbers for axes and keys, and numbers as text in the unit shown.

import { short } from '../power/scales';

/** A step of 1, 2 or 5 in some decade that divides a span into about `parts`. */
export function stepOf(span: number, parts: number): number {
  const rough = span / Math.max(parts, 1);
  if (!(rough > 0)) return 1;
  const decade = 10 ** Math.floor(Math.log10(rough));
  return (rough / decade < 1.5 ? 1 : rough / decade < 3.5 ? 2 : rough / decade < 7.5 ? 5 : 10) * decade;
}

/** Round numbers from `least` to `most`. */
export function ticks(least: number, most: number, parts: number, logarithmic: boolean): readonly number[] {
  if (!(most > least)) return [least];
  if (logarithmic && least > 0 && most / least > 4) {
    const out: number[] = [];
    for (let decade = Math.floor(Math.log10(least)); decade <= Math.ceil(Math.log10(most)); decade++) {
      for (const part of most / least > 300 ? [1] : [1, 2, 5]) {
        const value = part * 10 ** decade;
        if (value >= least * (1 - 1e-9) && value <= most * (1 + 1e-9)) out.push(value);
      }
    }
    return out;
  }
  const step = stepOf(most - least, parts);
  const first = Math.ceil(least / step - 1e-9);
  const count = Math.floor(most / step + 1e-9) - first;
  return Array.from({ length: Math.max(count + 1, 0) }, (_, index) => round((first + index) * step, step));
}

const round = (value: number, step: number): number => {
  const digits = Math.max(0, -Math.floor(Math.log10(step)));
  return Number(value.toFixed(Math.min(digits, 12)));
};

/** Ends of a scale that holds both values, at round numbers. */
export function ends(least: number, most: number): readonly [number, number] {
  if (!Number.isFinite(least) || !Number.isFinite(most)) return [0, 1];
  if (most === least) return least === 0 ? [0, 1] : [Math.min(0, least), Math.max(0, most)];
  // From nought where that costs little of the scale.
  const low = least > 0 && least < 0.35 * most ? 0 : least;
  const step = stepOf(most - low, 5);
  return [round(Math.floor(low / step + 1e-9) * step, step), round(Math.ceil(most / step - 1e-9) * step, step)];
}

/** A number with its unit. */
export function amount(value: number, unit: string): string {
  const text = short(value);
  return unit === '' ? text : unit.startsWith('°') ? `${text}${unit}` : `${text} ${unit}`;
}

/** What was typed, as a number in the unit shown; nothing if it is none, or in another unit. */
export function typedNumber(text: string, unit: string): number | undefined {
  const found = /^([-+−]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[-+]?\d+)?)\s*(.*)$/iu.exec(text.trim());
  if (found === null) return undefined;
  const rest = (found[2] ?? '').trim();
  if (rest !== '' && rest !== unit.trim()) return undefined;
  const value = Number((found[1] ?? '').replace('−', '-').replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}
