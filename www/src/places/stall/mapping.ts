// Keys and pads, drawn as on the sheet, and the same as a table. Drawn anew when the presses change.

import { el, svg } from '../../dom';
import { stallWords as words } from '../../words/stall';
import type { PressName } from './choices';
import { KEYS } from './layer';

const KEY = 40;
const GAP = 8;
/** Middles of the pad's four buttons, in the order of the standard mapping: bottom, right, left, top. */
const BUTTONS = [
  [338, 84],
  [364, 58],
  [312, 58],
  [338, 32],
] as const;
/** A pad seen from above, in a field of 440 by 160. */
const PAD = 'M130 12H310C380 4 414 30 424 84 432 128 420 150 396 146 372 142 356 112 330 106H110C84 112 68 142 44 146 20 150 8 128 16 84 26 30 60 4 130 12Z';

export function drawMapping(presses: readonly PressName[]): HTMLElement {
  const { mapping } = words;
  const name = (index: number): string => {
    const press = presses[index];
    return press === undefined ? '' : words.choices.names[press];
  };
  const numbers = presses.map((_, index) => index);
  const figures = el('div', { class: 'figures', role: 'img', 'aria-label': mapping.label });
  KEYS.forEach((keys, child) => figures.append(figure(mapping.keys(mapping.children[child] ?? ''), drawKeys(keys, presses.length))));
  figures.append(figure(mapping.pad(mapping.children.join(', ')), drawPad(presses.length)));
  const head = el('tr', {});
  for (const column of mapping.columns) head.append(el('th', { scope: 'col' }, column));
  const body = el('tbody', {});
  for (const index of numbers) {
    body.append(
      el(
        'tr',
        {},
        el('th', { scope: 'row' }, mapping.press(index + 1, name(index))),
        ...KEYS.map((keys) => el('td', {}, el('kbd', {}, keys[index] ?? ''))),
        el('td', {}, mapping.buttons[index] ?? ''),
      ),
    );
  }
  return el('div', {}, figures, el('div', { class: 'wide' }, el('table', {}, el('thead', {}, head), body)), el('p', { class: 'note' }, mapping.oneRobot));
}

const figure = (title: string, drawing: SVGElement): HTMLElement => el('div', { class: 'figure' }, el('span', {}, title), drawing);

function drawKeys(keys: readonly string[], used: number): SVGElement {
  const width = keys.length * (KEY + GAP) + GAP;
  const drawing = svg('svg', { viewBox: `0 0 ${width} ${KEY + 40}`, class: 'keysdrawn' });
  keys.forEach((key, index) => {
    const x = GAP + index * (KEY + GAP);
    const on = index < used;
    drawing.append(
      svg('rect', { class: on ? 'key' : 'key unused', x, y: 4, width: KEY, height: KEY, rx: 4 }),
      svg('rect', { class: 'top', x: x + 5, y: 8, width: KEY - 10, height: KEY - 12, rx: 3 }),
      svg('text', { class: 'legend', x: x + KEY / 2, y: 4 + KEY / 2 + 5 }, key),
    );
    if (on) drawing.append(...balloon(index, x + KEY / 2, KEY + 24));
  });
  return drawing;
}

function drawPad(used: number): SVGElement {
  const drawing = svg('svg', { viewBox: '0 0 440 168', class: 'paddrawn' });
  drawing.append(
    svg('path', { class: 'body', d: PAD }),
    svg('circle', { class: 'other', cx: 102, cy: 58, r: 26 }),
    svg('path', { class: 'other', d: 'M94 40h16v10h10v16h-10v10H94V66H84V50h10z' }),
    svg('circle', { class: 'other', cx: 166, cy: 84, r: 17 }),
    svg('circle', { class: 'other', cx: 166, cy: 84, r: 9 }),
    svg('circle', { class: 'other', cx: 274, cy: 84, r: 17 }),
    svg('circle', { class: 'other', cx: 274, cy: 84, r: 9 }),
    svg('path', { class: 'other', d: 'M196 46h14M230 46h14' }),
  );
  // Each leader ends at a balloon with the press's number, outside the pad's middle.
  BUTTONS.forEach(([x, y], index) => {
    drawing.append(svg('circle', { class: index < used ? 'key' : 'key unused', cx: x, cy: y, r: 12.5 }));
    if (index < used) drawing.append(svg('text', { class: 'legend', x, y: y + 5 }, String(index + 1)));
  });
  return drawing;
}

/** A number in a circle, as on the sheet's own lists. */
const balloon = (index: number, x: number, y: number): readonly SVGElement[] => [
  svg('path', { class: 'leader', d: `M${x} ${KEY + 6}V${y - 10}` }),
  svg('circle', { class: 'balloon', cx: x, cy: y, r: 10 }),
  svg('text', { class: 'number', x, y: y + 4.5 }, String(index + 1)),
];
