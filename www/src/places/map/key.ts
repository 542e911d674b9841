// The key of a map: what the lightness means, and which hatch and letter is which outcome.

import { el, say } from '../../dom';
import { mapWords as words } from '../../words/map';
import { FONT, isOutcome, letterOf, patternOf, type Drawn } from './draw';
import { hatchOf, type Inks } from './ink';
import { SETTLED, type MapModel } from './model';
import { amount, ticks } from './scale';
import { short } from '../power/scales';

const BAR = { width: 190, height: 14 };
const SWATCH = { width: 26, height: 16 };

/** The classes that occur, settled first. */
const occurring = (model: MapModel): readonly { readonly kind: number; readonly label: string; readonly count: number }[] =>
  model.counts().flatMap((count, kind) => (count > 0 ? [{ kind, label: model.plan.classes[kind]?.label ?? '', count }] : []));

function drawBar(pen: CanvasRenderingContext2D, inks: Inks, x: number, y: number, width: number, height: number): void {
  for (let at = 0; at < width; at++) {
    const step = 4 * Math.round((255 * at) / Math.max(width - 1, 1));
    pen.fillStyle = `rgb(${inks.ramp[step] ?? 0} ${inks.ramp[step + 1] ?? 0} ${inks.ramp[step + 2] ?? 0})`;
    pen.fillRect(x + at, y, 1.2, height);
  }
  pen.strokeStyle = inks.ink;
  pen.lineWidth = 1;
  pen.strokeRect(x + 0.5, y + 0.5, width - 1, height - 1);
}

function drawSwatch(pen: CanvasRenderingContext2D, inks: Inks, kind: number, flat: boolean, x: number, y: number, width: number, height: number): void {
  pen.fillStyle = inks.paper;
  pen.fillRect(x, y, width, height);
  if (kind === SETTLED && flat) {
    pen.fillStyle = `rgb(${inks.ramp[320] ?? 0} ${inks.ramp[321] ?? 0} ${inks.ramp[322] ?? 0})`;
    pen.fillRect(x, y, width, height);
  }
  const tile = hatchOf(inks.hatches, kind);
  const pattern = tile === undefined ? null : patternOf(pen, tile);
  if (pattern !== null) {
    pen.fillStyle = pattern;
    pen.fillRect(x, y, width, height);
  }
  pen.strokeStyle = inks.ink;
  pen.lineWidth = 1;
  pen.strokeRect(x + 0.5, y + 0.5, width - 1, height - 1);
}

function small(width: number, height: number): { readonly canvas: HTMLCanvasElement; readonly pen: CanvasRenderingContext2D | null } {
  const sharp = devicePixelRatio;
  const canvas = el('canvas', { width: Math.round(width * sharp), height: Math.round(height * sharp), 'aria-hidden': 'true' });
  canvas.style.width = `${width}px`;
  canvas.style.height = `${height}px`;
  const pen = canvas.getContext('2d');
  pen?.scale(sharp, sharp);
  return { canvas, pen };
}

/** The key as it stands under the map on the page. */
export class Key {
  readonly element = el('div', { class: 'mapkey', role: 'group', 'aria-label': words.key });
  #told = '';

  show(model: MapModel, inks: Inks, drawn: Drawn, force: boolean): void {
    const { measure, edge } = model.plan;
    const classes = occurring(model);
    const told = JSON.stringify([measure, drawn.scale, drawn.limit, edge.length, classes.map(({ kind }) => kind)]);
    if (told === this.#told && !force) return;
    this.#told = told;
    const parts: HTMLElement[] = [];
    if (!isOutcome(model)) {
      const { canvas, pen } = small(BAR.width, BAR.height);
      if (pen !== null) drawBar(pen, inks, 0, 0, BAR.width, BAR.height);
      const [low, high] = drawn.scale;
      const marks = el('span', { class: 'barmarks' });
      for (const value of ticks(low, high, 4, false)) {
        const mark = el('span', {}, short(value));
        mark.style.left = `${(100 * (value - low)) / (high - low)}%`;
        marks.append(mark);
      }
      const bar = el('span', { class: 'bar' }, canvas, marks);
      parts.push(el('span', { class: 'keyrow' }, bar, el('span', { class: 'barname' }, words.scale(measure.label, measure.unit))));
    }
    for (const { kind, label } of classes) {
      if (kind === SETTLED && !isOutcome(model)) continue;
      const { canvas, pen } = small(SWATCH.width, SWATCH.height);
      if (pen !== null) drawSwatch(pen, inks, kind, isOutcome(model), 0, 0, SWATCH.width, SWATCH.height);
      const letter = letterOf(kind);
      parts.push(el('span', { class: 'keyrow' }, canvas, ...(letter === '' ? [] : [el('b', {}, letter)]), label));
    }
    if (edge.length > 0) parts.push(el('span', { class: 'keyrow' }, el('span', { class: 'edgemark', 'aria-hidden': 'true' }), words.edgeKey));
    if (drawn.limit !== undefined && !isOutcome(model)) {
      const text = el('span', {});
      say(text, words.limitKey(amount(drawn.limit * measure.scale, measure.unit)));
      parts.push(el('span', { class: 'keyrow' }, el('span', { class: 'limitmark', 'aria-hidden': 'true' }), text));
    }
    this.element.replaceChildren(...parts);
  }
}

/** The key on a picture that is saved; answers how high it is. Without a pen it only measures. */
export function drawKey(pen: CanvasRenderingContext2D, model: MapModel, inks: Inks, drawn: Drawn, left: number, top: number, width: number, really: boolean): number {
  const { measure, edge } = model.plan;
  pen.font = `11px ${FONT}`;
  pen.textAlign = 'left';
  pen.textBaseline = 'middle';
  let [x, y] = [left, top];
  const room = (wide: number): void => {
    if (x > left && x + wide > left + width) {
      x = left;
      y += 26;
    }
  };
  if (!isOutcome(model)) {
    const name = words.scale(measure.label, measure.unit);
    room(BAR.width + 24 + pen.measureText(name).width);
    if (really) {
      drawBar(pen, inks, x, y, BAR.width, BAR.height);
      const [low, high] = drawn.scale;
      pen.fillStyle = inks.muted;
      pen.textAlign = 'center';
      for (const value of ticks(low, high, 4, false)) pen.fillText(short(value), x + (BAR.width * (value - low)) / (high - low), y + BAR.height + 8);
      pen.textAlign = 'left';
      pen.fillStyle = inks.ink;
      pen.fillText(name, x + BAR.width + 14, y + BAR.height / 2);
    }
    x += BAR.width + 34 + pen.measureText(name).width;
  }
  const row = (text: string, mark: () => void): void => {
    const wide = SWATCH.width + 6 + pen.measureText(text).width + 18;
    room(wide);
    if (really) {
      mark();
      pen.fillStyle = inks.ink;
      pen.textAlign = 'left';
      pen.fillText(text, x + SWATCH.width + 6, y + SWATCH.height / 2);
    }
    x += wide;
  };
  for (const { kind, label } of occurring(model)) {
    if (kind === SETTLED && !isOutcome(model)) continue;
    row([letterOf(kind), label].filter((part) => part !== '').join('  '), () => {
      drawSwatch(pen, inks, kind, isOutcome(model), x, y, SWATCH.width, SWATCH.height);
    });
  }
  const stroke = (color: string, width: number, dash: readonly number[]) => (): void => {
    pen.strokeStyle = color;
    pen.lineWidth = width;
    pen.setLineDash([...dash]);
    pen.beginPath();
    pen.moveTo(x, y + SWATCH.height / 2);
    pen.lineTo(x + SWATCH.width, y + SWATCH.height / 2);
    pen.stroke();
    pen.setLineDash([]);
  };
  if (edge.length > 0) row(words.edgeKey, stroke(inks.kick, 2, [9, 4]));
  if (drawn.limit !== undefined && !isOutcome(model)) {
    row(words.limitKey(amount(drawn.limit * measure.scale, measure.unit)), stroke(inks.limit, 2.2, []));
  }
  return y - top + 30;
}
