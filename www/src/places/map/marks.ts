// What moves on a map: the crosshair at the robot's own knobs, and the cell under pointer or keys.
// It lies on top and is drawn apart, so that a move costs no more than that.

import { mapWords as words } from '../../words/map';
import { onPaper, placeOf, WORD, type Pen, type Spot } from './draw';
import type { Inks } from './ink';
import type { Rect } from './layout';
import type { MapModel } from './model';

/** Dashes of the crosshair [px]. */
export const CROSS_DASH = [3, 3];

/** The crosshair at the robot's own knobs; an arrow at the border if they lie outside. */
export function drawCross(pen: Pen, model: MapModel, map: Rect, inks: Inks, spot: Spot): void {
  const [rawX, rawY] = placeOf(map, model, spot);
  const x = Math.min(Math.max(rawX, map.x), map.x + map.width);
  const y = Math.min(Math.max(rawY, map.y), map.y + map.height);
  pen.save();
  for (const [color, width, dash] of [[inks.paper, 3.4, []], [inks.ink, 1.2, CROSS_DASH]] as const) {
    pen.strokeStyle = color;
    pen.lineWidth = width;
    pen.setLineDash([...dash]);
    pen.beginPath();
    pen.moveTo(map.x, y);
    pen.lineTo(map.x + map.width, y);
    pen.moveTo(x, map.y);
    pen.lineTo(x, map.y + map.height);
    pen.globalAlpha = color === inks.paper ? 0.55 : 1;
    pen.stroke();
  }
  pen.globalAlpha = 1;
  pen.setLineDash([]);
  ring(pen, x, y, 6.5, inks.paper, 5);
  ring(pen, x, y, 6.5, inks.ink, 2.2);
  const text = words.robotHere;
  pen.font = WORD;
  const wide = pen.measureText(text).width;
  const right = x + 12 + wide < map.x + map.width;
  onPaper(pen, inks, text, right ? x + 11 : x - 11 - wide, y - 9 < map.y + 12 ? y + 18 : y - 9, inks.ink);
  pen.restore();
}

function ring(pen: Pen, x: number, y: number, radius: number, color: string, width: number): void {
  pen.beginPath();
  pen.arc(x, y, radius, 0, 2 * Math.PI);
  pen.strokeStyle = color;
  pen.lineWidth = width;
  pen.stroke();
}

/** The cell that pointer or keys are on. */
export function drawCursor(pen: Pen, model: MapModel, map: Rect, inks: Inks, { x, y }: Spot): void {
  const [wide, high] = [map.width / model.nx, map.height / model.ny];
  const [px, py] = [map.x + x * wide, map.y + map.height - (y + 1) * high];
  const room = Math.max(0, (9 - Math.min(wide, high)) / 2);
  for (const [color, width] of [[inks.paper, 4.5], [inks.kick, 2]] as const) {
    pen.strokeStyle = color;
    pen.lineWidth = width;
    pen.strokeRect(px - room, py - room, wide + 2 * room, high + 2 * room);
  }
}
