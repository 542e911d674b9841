// Profiles: the measure along the two lines of the crosshair, on the axes of the map.

import { mapWords as words } from '../../words/map';
import { short } from '../power/scales';
import { bottomAxis, frame, patternOf, SMALL, tick, type Drawn, type Pen, type Spot } from './draw';
import { hatchOf, type Inks } from './ink';
import type { MapLayout } from './layout';
import { CROSS_DASH } from './marks';
import { UNKNOWN, type MapModel } from './model';
import { ticks } from './scale';

/** The measure along a line through the map, with the limit and the outcomes' hatches. */
export function drawProfile(
  pen: Pen,
  model: MapModel,
  layout: MapLayout,
  side: 'x' | 'y',
  spot: Spot,
  inks: Inks,
  drawn: Drawn,
  text: string,
): void {
  const { nx, ny, plan } = model;
  const rect = side === 'x' ? layout.alongX : layout.alongY;
  const upright = side === 'y' && layout.beside;
  const count = side === 'x' ? nx : ny;
  const fixed = Math.min(Math.max(Math.round(side === 'x' ? spot.y : spot.x), 0), (side === 'x' ? ny : nx) - 1);
  const index = (at: number): number => (side === 'x' ? fixed * nx + at : at * nx + fixed);
  const [low, high] = drawn.scale;
  const { scale, unit, label } = plan.measure;
  /** Place of a cell and a measure in the unit shown. */
  const put = (cell: number, value: number): readonly [number, number] => {
    const along = (cell + 0.5) / count;
    const up = Math.min(Math.max((value - low) / (high - low), 0), 1);
    return upright
      ? [rect.x + up * rect.width, rect.y + rect.height * (1 - along)]
      : [rect.x + along * rect.width, rect.y + rect.height * (1 - up)];
  };
  pen.save();
  pen.fillStyle = inks.paper;
  pen.fillRect(rect.x, rect.y, rect.width, rect.height);
  pen.beginPath();
  pen.rect(rect.x, rect.y, rect.width, rect.height);
  pen.clip();
  const values = ticks(low, high, Math.max(2, (upright ? rect.width : rect.height) / 44), false);
  pen.strokeStyle = inks.grid;
  for (const value of values) {
    const [x, y] = put(0, value);
    if (upright) tick(pen, x, rect.y, x, rect.y + rect.height);
    else tick(pen, rect.x, y, rect.x + rect.width, y);
  }
  // Where it did not settle.
  for (let begun = 0; begun < count; ) {
    const kind = model.shownClasses[index(begun)] ?? UNKNOWN;
    let end = begun + 1;
    while (end < count && model.shownClasses[index(end)] === kind) end += 1;
    const tile = kind === UNKNOWN ? undefined : hatchOf(inks.hatches, kind);
    const pattern = tile === undefined ? null : patternOf(pen, tile);
    if (pattern !== null) {
      const [ax, ay] = put(begun - 0.5, low);
      const [bx, by] = put(end - 0.5, high);
      pen.globalAlpha = 0.5;
      pen.fillStyle = pattern;
      pen.fillRect(Math.min(ax, bx), Math.min(ay, by), Math.abs(bx - ax), Math.abs(by - ay));
      pen.globalAlpha = 1;
    }
    begun = end;
  }
  if (drawn.limit !== undefined) {
    const at = drawn.limit * scale;
    const [ax, ay] = put(-0.5, at);
    const [bx, by] = put(count - 0.5, at);
    pen.strokeStyle = inks.limit;
    pen.lineWidth = 1.6;
    pen.setLineDash([7, 4]);
    pen.beginPath();
    pen.moveTo(ax, ay);
    pen.lineTo(bx, by);
    if (at > low && at < high) pen.stroke();
    pen.setLineDash([]);
  }
  pen.beginPath();
  let going = false;
  for (let cell = 0; cell < count; cell++) {
    const value = (model.shownValues[index(cell)] ?? Number.NaN) * scale;
    if (!Number.isFinite(value)) {
      going = false;
      continue;
    }
    const [x, y] = put(cell, value);
    if (going) pen.lineTo(x, y);
    else pen.moveTo(x, y);
    going = true;
  }
  for (const [color, width] of [[inks.paper, 5], [inks.ink, 2]] as const) {
    pen.strokeStyle = color;
    pen.lineWidth = width;
    pen.lineJoin = 'round';
    pen.stroke();
  }
  // The crosshair's line goes through.
  const here = side === 'x' ? spot.x : spot.y;
  if (here > -0.6 && here < count - 0.4) {
    const [ax, ay] = put(here, low);
    const [bx, by] = put(here, high);
    pen.strokeStyle = inks.ink;
    pen.lineWidth = 1.2;
    pen.setLineDash(CROSS_DASH);
    pen.beginPath();
    pen.moveTo(ax, ay);
    pen.lineTo(bx, by);
    pen.stroke();
    pen.setLineDash([]);
  }
  pen.restore();
  frame(pen, rect, inks);
  pen.font = SMALL;
  pen.fillStyle = inks.muted;
  for (const value of values) {
    const [x, y] = put(0, value);
    pen.strokeStyle = inks.ink;
    if (upright) {
      tick(pen, x, rect.y + rect.height, x, rect.y + rect.height + 4);
      pen.textAlign = 'center';
      pen.textBaseline = 'top';
      pen.fillText(short(value), x, rect.y + rect.height + 6);
    } else {
      tick(pen, rect.x - 4, y, rect.x, y);
      pen.textAlign = 'right';
      pen.textBaseline = 'middle';
      pen.fillText(short(value), rect.x - 7, y);
    }
  }
  const name = words.scale(label, unit);
  pen.fillStyle = inks.ink;
  if (upright) {
    pen.textAlign = 'center';
    pen.textBaseline = 'top';
    pen.fillText(name, rect.x + rect.width / 2, rect.y + rect.height + 21, rect.width + 20);
  } else {
    pen.save();
    pen.translate(12, rect.y + rect.height / 2);
    pen.rotate(-Math.PI / 2);
    pen.textAlign = 'center';
    pen.textBaseline = 'middle';
    pen.fillText(name, 0, 0, rect.height + 18);
    pen.restore();
    pen.textAlign = 'left';
    pen.textBaseline = 'alphabetic';
    pen.fillStyle = inks.muted;
    pen.fillText(text, rect.x, rect.y - 5, rect.width);
    bottomAxis(pen, model, rect, side === 'x' ? plan.x : plan.y, side, inks);
  }
}
