// Texts of lessons: what stands in braces is filled in from the simulation when it is shown.
//   {head.mass}               a knob, with its unit
//   {first.period}            a measure of the run kept as "first", in the core's own words
//   {first.outcome}           how that run ended
//   {=60/first.period | Hz}   a formula, with the unit it is said in

import type { UnitWord } from './format';

export type Piece =
  | { readonly kind: 'plain'; readonly text: string }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'formula'; readonly formula: string; readonly unit: string };

export function pieces(text: string): readonly Piece[] {
  const list: Piece[] = [];
  let from = 0;
  for (const found of text.matchAll(/\{([^{}]*)\}/g)) {
    if (found.index > from) list.push({ kind: 'plain', text: text.slice(from, found.index) });
    from = found.index + found[0].length;
    const inside = (found[1] ?? '').trim();
    if (inside.startsWith('=')) {
      const [formula = '', unit = ''] = inside.slice(1).split('|');
      list.push({ kind: 'formula', formula: formula.trim(), unit: unit.trim() });
    } else {
      list.push({ kind: 'name', name: inside });
    }
  }
  if (from < text.length) list.push({ kind: 'plain', text: text.slice(from) });
  return list;
}

/** By unit: its symbol and how many of it make one of the SI unit; in inches and pounds where those differ. */
const SAID: Readonly<Record<UnitWord, readonly [symbol: string, scale: number, inchSymbol?: string, inchScale?: number]>> = {
  '': ['', 1],
  s: [' s', 1],
  ms: [' ms', 1000],
  h: [' h', 1 / 3600],
  kg: [' kg', 1, ' lb', 1 / 0.45359237],
  m: [' m', 1, ' in', 1 / 0.0254],
  mm: [' mm', 1000, ' in', 1 / 0.0254],
  deg: ['°', 180 / Math.PI],
  W: [' W', 1],
  A: [' A', 1],
  'N·m': [' N·m', 1],
  Hz: [' Hz', 1],
  '%': [' %', 100],
};

/** The unit that a number is typed in: its symbol, and how many of it make one of the SI unit. */
export function typedIn(unit: UnitWord, inches: boolean): readonly [symbol: string, scale: number] {
  const [symbol, scale, inchSymbol = symbol, inchScale = scale] = SAID[unit];
  return inches ? [inchSymbol.trim(), inchScale] : [symbol.trim(), scale];
}

/** A number in SI with its unit, three figures. */
export function said(value: number, unit: UnitWord, inches: boolean): string {
  if (!Number.isFinite(value)) return '–';
  const [symbol, scale, inchSymbol = symbol, inchScale = scale] = SAID[unit];
  const shown = value * (inches ? inchScale : scale);
  // A bare number is a count or a ratio: “5 to one”, not “5.00 to one”.
  if (unit === '') return String(Number(shown.toPrecision(3))).replace('-', '−');
  const size = Math.abs(shown);
  const digits = size === 0 || size >= 100 ? 0 : size >= 10 ? 1 : 2;
  return shown.toFixed(digits).replace('-', '−') + (inches ? inchSymbol : symbol);
}
