// A text as a QR code, drawn: dark on light in every theme, with its light edge, as readers expect.

import qrcode from 'qrcode-generator';
import { svg } from '../dom';

/** Longer than this a code gets too fine for a phone before a screen [characters]. */
export const MOST_CODED = 1200;
/** Light edge around a code, in modules (ISO/IEC 18004). */
const QUIET = 4;

export function drawCode(text: string, label: string): SVGElement {
  const code = qrcode(0, 'M');
  code.addData(text, 'Byte');
  code.make();
  const modules = code.getModuleCount();
  let path = '';
  for (let row = 0; row < modules; row++) {
    for (let column = 0; column < modules; column++) {
      if (code.isDark(row, column)) path += `M${column + QUIET} ${row + QUIET}h1v1h-1z`;
    }
  }
  const size = modules + 2 * QUIET;
  return svg(
    'svg',
    { viewBox: `0 0 ${size} ${size}`, role: 'img', 'aria-label': label, 'shape-rendering': 'crispEdges' },
    svg('rect', { class: 'light', width: size, height: size }),
    svg('path', { class: 'dark', d: path }),
  );
}
