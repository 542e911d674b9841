// A map on paper: cells, hatches, lines, axes; all that stays when a knob or the pointer moves.

import type { AxisOut } from '../../core/lab.map';
import { mapWords as words } from '../../words/map';
import { contour } from './contour';
import { DARK_FROM, hatchOf, type Inks } from './ink';
import type { MapLayout, Rect } from './layout';
import { cellOf, SETTLED, UNKNOWN, type MapModel } from './model';
import { amount, ends, ticks } from './scale';
import { short } from '../power/scales';

export const FONT = 'Verdana, "DejaVu Sans", "Segoe UI", system-ui, sans-serif';
export const SMALL = `11px ${FONT}`;
export const WORD = `700 11px ${FONT}`;
/** Dashes of the linear edge [px]. */
const EDGE_DASH = [9, 4];
/** A patch must be this deep to hold its letter [px]. */
const LETTER_ROOM = 11;

export type Pen = CanvasRenderingContext2D;
export interface Spot {
  /** In cells; 0 is the middle of the first. */
  readonly x: number;
  readonly y: number;
}

/** What is drawn besides the model. */
export interface Drawn {
  readonly limit: number | undefined;
  /** Ends of the scale of the measure, in the unit shown. */
  readonly scale: readonly [number, number];
}

export const scaleOf = (model: MapModel): readonly [number, number] => {
  const { scale } = model.plan.measure;
  return ends(model.least * scale, model.most * scale);
};

/** Letter of an outcome class. */
export const letterOf = (kind: number): string => (kind === SETTLED ? '' : String.fromCharCode(96 + kind));

export const isOutcome = (model: MapModel): boolean => model.plan.measure.key === 'outcome';

export function placeOf(rect: Rect, model: MapModel, { x, y }: Spot): readonly [number, number] {
  return [rect.x + ((x + 0.5) / model.nx) * rect.width, rect.y + rect.height - ((y + 0.5) / model.ny) * rect.height];
}

/** The cell under a place of the drawing; within the map's ends. */
export function spotAt(rect: Rect, model: MapModel, px: number, py: number): Spot {
  const x = Math.floor(((px - rect.x) / rect.width) * model.nx);
  const y = Math.floor(((rect.y + rect.height - py) / rect.height) * model.ny);
  return { x: Math.min(Math.max(x, 0), model.nx - 1), y: Math.min(Math.max(y, 0), model.ny - 1) };
}

/** Step of the ramp for a measure; none where there is none. */
function stepOf(value: number, { scale: [low, high] }: Drawn, perUnit: number): number | undefined {
  if (!Number.isFinite(value)) return undefined;
  return Math.round(255 * Math.min(Math.max((value * perUnit - low) / (high - low), 0), 1));
}

/** Cells as pixels of a small picture, which is made as large as the map without being smoothed. */
export class Raster {
  readonly canvas = document.createElement('canvas');
  #pixels: ImageData | undefined;

  paint(model: MapModel, inks: Inks, drawn: Drawn): void {
    const { nx, ny } = model;
    const pen = this.canvas.getContext('2d');
    if (pen === null) return;
    if (this.canvas.width !== nx || this.canvas.height !== ny || this.#pixels === undefined) {
      this.canvas.width = nx;
      this.canvas.height = ny;
      this.#pixels = pen.createImageData(nx, ny);
    }
    const { data } = this.#pixels;
    const perUnit = model.plan.measure.scale;
    const flat = isOutcome(model);
    for (let y = 0; y < ny; y++) {
      for (let x = 0; x < nx; x++) {
        const from = y * nx + x;
        const to = 4 * ((ny - 1 - y) * nx + x);
        const kind = model.shownClasses[from] ?? UNKNOWN;
        const step = flat ? (kind === SETTLED ? 80 : undefined) : stepOf(model.shownValues[from] ?? Number.NaN, drawn, perUnit);
        // Bare paper where there is no measure or nothing is known yet.
        if (step === undefined || kind === UNKNOWN) {
          data[to + 3] = 0;
          continue;
        }
        data[to] = inks.ramp[4 * step] ?? 0;
        data[to + 1] = inks.ramp[4 * step + 1] ?? 0;
        data[to + 2] = inks.ramp[4 * step + 2] ?? 0;
        data[to + 3] = 255;
      }
    }
    pen.putImageData(this.#pixels, 0, 0);
  }
}

/** Everything that does not move with knob and pointer. */
export function drawBase(pen: Pen, model: MapModel, layout: MapLayout, inks: Inks, raster: Raster, drawn: Drawn): void {
  const { map } = layout;
  pen.save();
  pen.fillStyle = inks.paper;
  pen.fillRect(map.x, map.y, map.width, map.height);
  raster.paint(model, inks, drawn);
  pen.imageSmoothingEnabled = false;
  pen.drawImage(raster.canvas, map.x, map.y, map.width, map.height);
  pen.beginPath();
  pen.rect(map.x, map.y, map.width, map.height);
  pen.clip();
  hatches(pen, model, map, inks, drawn);
  if (model.whole) borders(pen, model, map, inks);
  if (model.whole) letters(pen, model, map, inks);
  if (model.whole && drawn.limit !== undefined && !isOutcome(model)) limitLines(pen, model, map, inks, drawn.limit);
  edgeLines(pen, model, map, inks);
  pen.restore();
  axes(pen, model, map, inks);
}

/** Rows of cells of one class become rectangles of one path. */
function hatches(pen: Pen, model: MapModel, map: Rect, inks: Inks, drawn: Drawn): void {
  const { nx, ny, shownClasses, shownValues } = model;
  const paths = new Map<number, Path2D>();
  const [wide, high] = [map.width / nx, map.height / ny];
  const perUnit = model.plan.measure.scale;
  const flat = isOutcome(model);
  const groundOf = (at: number): number => {
    const kind = shownClasses[at] ?? UNKNOWN;
    if (kind === SETTLED || kind === UNKNOWN) return -1;
    const step = flat ? undefined : stepOf(shownValues[at] ?? Number.NaN, drawn, perUnit);
    return 2 * kind + (step !== undefined && step >= DARK_FROM ? 1 : 0);
  };
  for (let y = 0; y < ny; y++) {
    let begun = 0;
    let ground = -1;
    for (let x = 0; x <= nx; x++) {
      const next = x < nx ? groundOf(y * nx + x) : -1;
      if (next === ground) continue;
      if (ground >= 0) {
        let path = paths.get(ground);
        if (path === undefined) {
          path = new Path2D();
          paths.set(ground, path);
        }
        path.rect(map.x + begun * wide, map.y + map.height - (y + 1) * high, (x - begun) * wide, high);
      }
      ground = next;
      begun = x;
    }
  }
  for (const [ground, path] of paths) {
    const tile = hatchOf(ground % 2 === 1 ? inks.hatchesOver : inks.hatches, ground >> 1);
    const pattern = tile === undefined ? null : patternOf(pen, tile);
    if (pattern === null) continue;
    pen.fillStyle = pattern;
    pen.fill(path);
  }
}

export function patternOf(pen: Pen, tile: HTMLCanvasElement): CanvasPattern | null {
  const pattern = pen.createPattern(tile, 'repeat');
  // Tiles are as sharp as the screen.
  pattern?.setTransform(new DOMMatrix().scale(8 / tile.width));
  return pattern;
}

/** A thin line where one outcome meets another. */
function borders(pen: Pen, model: MapModel, map: Rect, inks: Inks): void {
  const { nx, ny, shownClasses } = model;
  const [wide, high] = [map.width / nx, map.height / ny];
  pen.beginPath();
  for (let y = 0; y < ny; y++) {
    for (let x = 0; x < nx; x++) {
      const kind = shownClasses[y * nx + x];
      const [left, bottom] = [map.x + x * wide, map.y + map.height - y * high];
      if (x + 1 < nx && shownClasses[y * nx + x + 1] !== kind) {
        pen.moveTo(left + wide, bottom);
        pen.lineTo(left + wide, bottom - high);
      }
      if (y + 1 < ny && shownClasses[(y + 1) * nx + x] !== kind) {
        pen.moveTo(left, bottom - high);
        pen.lineTo(left + wide, bottom - high);
      }
    }
  }
  pen.strokeStyle = inks.ink;
  pen.lineWidth = 0.9;
  pen.stroke();
}

function letters(pen: Pen, model: MapModel, map: Rect, inks: Inks): void {
  const cell = Math.min(map.width / model.nx, map.height / model.ny);
  model.middles().forEach((middle, kind) => {
    if (middle === undefined || kind === SETTLED || middle.depth * cell < LETTER_ROOM) return;
    const [x, y] = placeOf(map, model, middle);
    pen.fillStyle = inks.paper;
    pen.strokeStyle = inks.ink;
    pen.lineWidth = 1;
    pen.beginPath();
    pen.arc(x, y, 8, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
    pen.fillStyle = inks.ink;
    pen.font = WORD;
    pen.textAlign = 'center';
    pen.textBaseline = 'middle';
    pen.fillText(letterOf(kind), x, y + 0.5);
  });
}

/** A line of x, y pairs in cells, over a wider one of paper. */
function line(pen: Pen, model: MapModel, map: Rect, inks: Inks, points: Float64Array, color: string, width: number, dash: readonly number[]): void {
  pen.beginPath();
  for (let at = 0; at + 1 < points.length; at += 2) {
    const [x, y] = placeOf(map, model, { x: points[at] ?? 0, y: points[at + 1] ?? 0 });
    pen.lineTo(x, y);
  }
  pen.lineJoin = 'round';
  pen.setLineDash([]);
  pen.strokeStyle = inks.paper;
  pen.lineWidth = width + 2.6;
  pen.stroke();
  pen.setLineDash([...dash]);
  pen.strokeStyle = color;
  pen.lineWidth = width;
  pen.stroke();
  pen.setLineDash([]);
}

/** A word on the middle of the longest of some lines. */
function word(pen: Pen, model: MapModel, map: Rect, inks: Inks, list: readonly Float64Array[], text: string, color: string, share: number): void {
  const longest = list.reduce((a, b) => (b.length > a.length ? b : a), new Float64Array(0));
  if (longest.length < 4) return;
  // The part that lies within the map.
  const inside: (readonly [number, number])[] = [];
  for (let at = 0; at + 1 < longest.length; at += 2) {
    const [x, y] = placeOf(map, model, { x: longest[at] ?? 0, y: longest[at + 1] ?? 0 });
    if (x >= map.x && x <= map.x + map.width && y >= map.y && y <= map.y + map.height) inside.push([x, y]);
  }
  const point = inside[Math.floor(share * (inside.length - 1))];
  if (point === undefined) return;
  pen.font = WORD;
  const wide = pen.measureText(text).width;
  const x = Math.min(Math.max(point[0] + 6, map.x + 4), map.x + map.width - wide - 4);
  const y = Math.min(Math.max(point[1] - 7, map.y + 12), map.y + map.height - 8);
  onPaper(pen, inks, text, x, y, color);
}

export function onPaper(pen: Pen, inks: Inks, text: string, x: number, y: number, color: string): void {
  pen.font = WORD;
  pen.textAlign = 'left';
  pen.textBaseline = 'alphabetic';
  pen.lineJoin = 'round';
  pen.strokeStyle = inks.paper;
  pen.lineWidth = 4;
  pen.strokeText(text, x, y);
  pen.fillStyle = color;
  pen.fillText(text, x, y);
}

function limitLines(pen: Pen, model: MapModel, map: Rect, inks: Inks, limit: number): void {
  const { measure } = model.plan;
  const list = contour(model.values, model.nx, model.ny, limit);
  for (const points of list) line(pen, model, map, inks, points, inks.limit, 2.2, []);
  word(pen, model, map, inks, list, words.limitLine(amount(limit * measure.scale, measure.unit)), inks.limit, 0.65);
}

function edgeLines(pen: Pen, model: MapModel, map: Rect, inks: Inks): void {
  const { edge } = model.plan;
  for (const points of edge) line(pen, model, map, inks, points, inks.kick, 2, EDGE_DASH);
  word(pen, model, map, inks, edge, words.edge, inks.kick, 0.35);
}

// Axes.

/** Round numbers on an axis: their place in cells, and their text in the unit shown. */
export function axisTicks(axis: AxisOut, parts: number): readonly { readonly at: number; readonly text: string }[] {
  const { values, scale, logarithmic } = axis;
  const first = (values[0] ?? 0) * scale;
  const last = (values[values.length - 1] ?? 0) * scale;
  return ticks(Math.min(first, last), Math.max(first, last), parts, logarithmic).map((value) => ({ at: cellOf(axis, value / scale), text: short(value) }));
}

function axes(pen: Pen, model: MapModel, map: Rect, inks: Inks): void {
  const { x, y } = model.plan;
  frame(pen, map, inks);
  bottomAxis(pen, model, map, x, 'x', inks);
  pen.font = SMALL;
  pen.fillStyle = inks.muted;
  pen.strokeStyle = inks.ink;
  pen.textAlign = 'right';
  pen.textBaseline = 'middle';
  for (const { at, text } of axisTicks(y, Math.max(2, map.height / 56))) {
    const [, py] = placeOf(map, model, { x: 0, y: at });
    tick(pen, map.x - 4, py, map.x, py);
    pen.fillText(text, map.x - 7, py);
  }
  pen.save();
  pen.translate(12, map.y + map.height / 2);
  pen.rotate(-Math.PI / 2);
  pen.textAlign = 'center';
  pen.fillStyle = inks.ink;
  pen.fillText(words.axis(y.label, y.unit), 0, 0, map.height + 20);
  pen.restore();
}

export function tick(pen: Pen, ax: number, ay: number, bx: number, by: number): void {
  pen.lineWidth = 1;
  pen.beginPath();
  pen.moveTo(ax, ay);
  pen.lineTo(bx, by);
  pen.stroke();
}

export function frame(pen: Pen, rect: Rect, inks: Inks): void {
  pen.strokeStyle = inks.ink;
  pen.lineWidth = 1.3;
  pen.strokeRect(rect.x, rect.y, rect.width, rect.height);
}

/** An axis of the map under a rectangle. */
export function bottomAxis(pen: Pen, model: MapModel, rect: Rect, axis: AxisOut, side: 'x' | 'y', inks: Inks): void {
  pen.font = SMALL;
  pen.strokeStyle = inks.ink;
  pen.textBaseline = 'top';
  pen.textAlign = 'center';
  pen.fillStyle = inks.muted;
  const bottom = rect.y + rect.height;
  const count = side === 'x' ? model.nx : model.ny;
  for (const { at, text } of axisTicks(axis, Math.max(2, rect.width / 84))) {
    const px = rect.x + ((at + 0.5) / count) * rect.width;
    tick(pen, px, bottom, px, bottom + 4);
    pen.fillText(text, px, bottom + 6);
  }
  pen.fillStyle = inks.ink;
  pen.fillText(words.axis(axis.label, axis.unit), rect.x + rect.width / 2, bottom + 21, rect.width + 40);
}
