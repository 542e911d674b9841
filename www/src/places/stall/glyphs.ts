// A small drawing on each press, for visitors who do not read yet: lines as on the sheet.

import { svg } from '../../dom';
import type { PressName } from './choices';

/** Lines in a field of 32 by 32. */
const LINES: Readonly<Record<PressName, string>> = {
  // An arrow against a ball.
  kick: 'M2 18h9m-4-4 4 4-4 4M22 9a9 9 0 1 0 .01 0z',
  // A ball, plumb, with a loop over it.
  software: 'M16 13a8 8 0 1 0 .01 0zM16 17v10M8 9a9 9 0 0 1 16 0m0-5v5h-5',
  // A weight on a ball.
  head: 'M16 15a8 8 0 1 0 .01 0zM10 14l2-9h8l2 9zM14 5V2h4v3',
  drive: 'M12 13a8 8 0 1 0 .01 0zM22 18h8m-4-4 4 4-4 4M2 29h28',
  turn: 'M16 10a8 8 0 1 0 .01 0zM5 9a12 5 0 0 1 22 0m0-5v5h-5',
  // A code with three corners.
  home: 'M4 4h9v9H4zM19 4h9v9h-9zM4 19h9v9H4zM19 19h4v4h-4zM25 25h3v3h-3zM8 8h1v1H8zM23 8h1v1h-1zM8 23h1v1H8z',
};

export const glyph = (name: PressName): SVGElement =>
  svg('svg', { viewBox: '0 0 32 32', class: 'glyph', 'aria-hidden': 'true' }, svg('path', { d: LINES[name] }));
