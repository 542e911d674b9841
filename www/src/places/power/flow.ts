// Where the watts go, as a flow: bands as wide as the power, from the cells on the left to what
// takes it on the right. Each parts from the stream in turn: first what the battery itself keeps, last
// the motion. What feeds back comes in on the left.

import type { WattPart } from '../../core/lab.power';
import { el, svg } from '../../dom';
import { powerWords } from '../../words/power';
import { fitted } from './scales';

const words = powerWords.watts;

/** Height of the widest stream [px]. */
const STREAM = 118;
/** Height of a label's row [px]. */
const ROW = 26;
const TOP = 10;
/** Below this a power is not drawn [W]. */
const LEAST = 0.05;
/** Room for the words on the right, and for those on the left [px]. */
const WORDS = 176;
const FROM = 6;

interface End {
  readonly label: string;
  readonly kind: WattPart['kind'];
  readonly power: number;
}

export interface FlowData {
  readonly parts: readonly WattPart[];
  /** Powers in the order of the parts [W], the source first. */
  readonly powers: ArrayLike<number>;
  /** Power that makes the widest stream [W]. */
  readonly most: number;
  readonly unit: string;
  readonly which: string;
}

export class Flow {
  readonly element: HTMLElement;
  readonly #redraw: () => void;
  readonly #box = el('div', { class: 'drawingbox' });
  #data: FlowData | undefined;

  constructor() {
    this.#redraw = fitted(this.#box, (width) => (this.#data === undefined ? undefined : draw(this.#data, width)));
    this.element = el('figure', {}, this.#box);
  }

  show(data: FlowData): void {
    this.#data = data;
    this.#redraw();
  }
}

/** What gives and what takes; what is negative stands on the other side. */
function ends({ parts, powers }: FlowData): { given: End[]; taken: End[] } {
  const given: End[] = [];
  const taken: End[] = [];
  parts.forEach(({ key, label, kind }, index) => {
    const power = powers[index] ?? 0;
    if (Math.abs(power) < LEAST) return;
    const source = key === 'source';
    const gives = source ? power > 0 : power < 0;
    const name = gives === source ? label : source ? words.into : words.back(label);
    (gives ? given : taken).push({ label: name, kind, power: Math.abs(power) });
  });
  // From top to bottom: the last to part lies on top.
  return { given, taken: taken.reverse() };
}

const list = (of: readonly End[], unit: string): string =>
  of.map(({ label, power }) => `${label} ${words.value(power, unit)}`).join(', ') || '–';

function draw(data: FlowData, width: number): SVGElement {
  const { given, taken } = ends(data);
  const { unit, most } = data;
  const scale = STREAM / Math.max(most, LEAST);
  const back = given.filter(({ kind }) => kind !== 'source');
  const sum = given.reduce((total, { power }) => total + power, 0);
  const streamTop = TOP + 16;
  // The rows of words lie as deep as they must, each band at its row.
  const rows = spread(taken, scale, streamTop);
  const height = Math.max(TOP + 260, streamTop + STREAM + 70, (rows[rows.length - 1]?.y ?? 0) + ROW) + 8;
  const drawing = svg('svg', {
    class: 'flow',
    width,
    height,
    viewBox: `0 0 ${width} ${height}`,
    role: 'img',
    'aria-label': words.describe(data.which, list(given, unit), list(taken, unit)),
  });
  drawing.append(patterns());
  if (sum < LEAST) {
    drawing.append(svg('text', { x: FROM, y: streamTop + 20, class: 'flowword' }, words.nothing));
    return drawing;
  }
  const end = width - WORDS;
  const [turn, last] = [FROM + Math.min(90, 0.28 * end), end - 8];
  // What gives, on the left, one under the other.
  let y = streamTop;
  for (const { label, kind, power } of given) {
    const wide = power * scale;
    drawing.append(svg('rect', { x: FROM, y, width: turn - FROM, height: Math.max(wide, 1), class: `flowband ${kind}` }));
    if (kind === 'source') drawing.append(svg('text', { x: FROM, y: streamTop - 6, class: 'flowword' }, `${label} ${words.value(power, unit)}`));
    y += wide;
  }
  back.forEach(({ label, power }, index) => {
    const at = streamTop + STREAM + 26 + index * 30;
    drawing.append(
      svg('text', { x: FROM, y: at, class: 'flowword' }, label),
      svg('text', { x: FROM, y: at + 13, class: 'flowword strong' }, words.value(power, unit)),
    );
  });
  // What takes, from the bottom of the stream upwards: the lowest parts first.
  const step = taken.length > 1 ? (last - turn - 40) / taken.length : 0;
  let from = streamTop;
  taken.forEach((one, index) => {
    const wide = one.power * scale;
    const row = rows[index];
    if (row === undefined) return;
    const leaves = turn + step * (taken.length - 1 - index);
    const bend = Math.max((last - leaves) * 0.55, 14);
    const [a, b] = [from, from + wide];
    const [c, d] = [row.y, row.y + wide];
    const thin = wide < 1;
    const path = thin
      ? `M${turn} ${a}L${leaves} ${a}C${leaves + bend} ${a} ${last - bend} ${c} ${last} ${c}`
      : `M${turn} ${a}L${leaves} ${a}C${leaves + bend} ${a} ${last - bend} ${c} ${last} ${c}` +
        `L${last} ${d}C${last - bend} ${d} ${leaves + bend} ${b} ${leaves} ${b}L${turn} ${b}Z`;
    const middle = row.y + wide / 2;
    drawing.append(
      svg('path', { d: path, class: thin ? 'flowline' : `flowband ${one.kind}` }),
      svg('path', { d: `M${last + 1} ${middle - 4}L${last + 8} ${middle}L${last + 1} ${middle + 4}Z`, class: 'arrow' }),
      svg('text', { x: last + 13, y: row.word, class: 'flowword' }, one.label),
      svg('text', { x: last + 13, y: row.word + 12, class: 'flowword strong' }, words.value(one.power, unit)),
    );
    from += wide;
  });
  const bar = nice(most / 4);
  const x = FROM + 2;
  drawing.append(
    svg('path', { d: `M${x - 3} ${height - 8}h6m-3 0v${-bar * scale}m-3 0h6`, class: 'scalebar' }),
    svg('text', { x: x + 8, y: height - 8 - (bar * scale) / 2 + 4, class: 'flowword muted' }, words.scale(bar, unit)),
  );
  return drawing;
}

/** Rows for bands and words on the right: in order, none upon another. */
function spread(taken: readonly End[], scale: number, top: number): { y: number; word: number }[] {
  let free = top - 8;
  return taken.map(({ power }) => {
    const wide = power * scale;
    const room = Math.max(wide, ROW);
    const y = free + (room - wide) / 2;
    const word = free + room / 2 - 2;
    free += room + 5;
    return { y, word };
  });
}

/** 1, 2 or 5 times a power of ten, not above. */
function nice(value: number): number {
  const size = 10 ** Math.floor(Math.log10(Math.max(value, 1e-6)));
  return ([5, 2, 1].find((part) => part * size <= value) ?? 1) * size;
}

function patterns(): SVGElement {
  const pattern = (id: string, size: number, turn: number, ...lines: SVGElement[]): SVGElement =>
    svg('pattern', { id, width: size, height: size, patternUnits: 'userSpaceOnUse', patternTransform: `rotate(${turn})` }, ...lines);
  const line = (size: number): SVGElement => svg('line', { x1: 0, y1: 0, x2: 0, y2: size, class: 'hatch' });
  return svg(
    'defs',
    {},
    pattern('power-flow-heat', 5, 45, line(5)),
    pattern('power-flow-use', 7, 0, svg('circle', { cx: 3, cy: 3, r: 1.1, class: 'dot' })),
    pattern('power-flow-motion', 6, 90, line(6)),
  );
}

/** The key of the hatches, for the flow. */
export function flowKey(): HTMLElement {
  const box = el('p', { class: 'flowkey', 'aria-label': words.key });
  for (const kind of ['heat', 'use', 'motion'] as const) {
    box.append(
      el('span', {}, svg('svg', { width: 26, height: 13, 'aria-hidden': 'true' }, svg('rect', { x: 0.5, y: 0.5, width: 25, height: 12, class: `flowband ${kind}` })), words.kinds[kind]),
    );
  }
  return box;
}
