// The board as one picture: the views that are shown, where they are shown, and a strip that says what is
// seen, so that a clip or a picture needs no words beside it.

import type { Actions } from '../../actions';
import { LAYER, type Plane } from '../../core/types';
import { sheetsWords as words } from '../../words/sheets';
import { words as page } from '../../words/page';

const FONT = "Verdana, 'DejaVu Sans', sans-serif";
/** Height of the strip [CSS px]. */
export const STRIP = 46;
/** What a strip says of the run, if it is known, the most telling first. */
const TOLD = ['settling_time', 'head_dip', 'head_sway', 'current_peak', 'stopping_distance'];

/** A view as it lies on the board [CSS px]. */
export interface Shot {
  readonly plane: Plane;
  readonly canvas: HTMLCanvasElement;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The views that are shown, placed from the board's corner; the same order as on the page. */
export function shots(): Shot[] {
  const panes = [...document.querySelectorAll<HTMLElement>('.drawings .pane')];
  const found = panes.flatMap((pane, index) => {
    const canvas = pane.querySelector('canvas');
    const box = pane.getBoundingClientRect();
    if (canvas === null || pane.hidden || box.width < 1 || box.height < 1) return [];
    return [{ plane: (index === 0 ? 0 : 1) as Plane, canvas, x: box.left, y: box.top, width: box.width, height: box.height }];
  });
  const left = Math.min(...found.map(({ x }) => x));
  const top = Math.min(...found.map(({ y }) => y));
  return found.map((shot) => ({ ...shot, x: shot.x - left, y: shot.y - top }));
}

/** Size of all of them together [CSS px]. */
export const extent = (views: readonly Shot[]): { readonly width: number; readonly height: number } => ({
  width: Math.max(0, ...views.map(({ x, width }) => x + width)),
  height: Math.max(0, ...views.map(({ y, height }) => y + height)),
});

/** The page's own colours as they now are. */
export function colour(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

/** The views as they are painted now, on a canvas whose unit is a CSS pixel of the board. */
export function copyShots(pen: CanvasRenderingContext2D, views: readonly Shot[]): void {
  for (const { canvas, x, y, width, height } of views) {
    if (canvas.width > 0 && canvas.height > 0) pen.drawImage(canvas, x, y, width, height);
  }
  divide(pen, views);
}

/** The views painted anew, `scale` pixels to each CSS pixel, by day or night. */
export function paintShots(actions: Actions, views: readonly Shot[], scale: number, night: boolean): HTMLCanvasElement | undefined {
  const { width, height } = extent(views);
  const whole = document.createElement('canvas');
  whole.width = Math.round(width * scale);
  whole.height = Math.round(height * scale);
  const pen = whole.getContext('2d');
  if (pen === null) return undefined;
  pen.fillStyle = night ? NIGHT : DAY;
  pen.fillRect(0, 0, whole.width, whole.height);
  const bits = (actions.store.state.layers & ~(LAYER.night | LAYER.forced)) | (night ? LAYER.night : 0) | LAYER.still;
  for (const shot of views) {
    const own = document.createElement('canvas');
    own.width = Math.round(shot.width * scale);
    own.height = Math.round(shot.height * scale);
    const context = own.getContext('2d');
    if (context === null) return undefined;
    actions.board.paint(context, shot.plane, shot.width, shot.height, scale, bits);
    pen.drawImage(own, Math.round(shot.x * scale), Math.round(shot.y * scale));
  }
  pen.scale(scale, scale);
  divide(pen, views, night ? '#5b6e7e' : '#b9b09a');
  return whole;
}

/** Paper of day and night, for the theme that the page does not have now; the palette's, see style/sheet.css. */
const DAY = '#fbf8ef';
const NIGHT = '#17232e';

/** A line between two views side by side. */
function divide(pen: CanvasRenderingContext2D, views: readonly Shot[], faint = colour('--faint')): void {
  pen.fillStyle = faint;
  for (const { x, y, width, height } of views.slice(1)) {
    if (x > 0) pen.fillRect(x, y, 1, height);
    else if (y > 0) pen.fillRect(x, y, width, 1);
  }
}

/** What the strip says of the run. */
export function stripWords(actions: Actions): { readonly name: string; readonly level: string; readonly run: string } {
  const { robot, level, active, double } = actions.store.state;
  const results = actions.board.results(active);
  const known = TOLD.flatMap((key) => {
    const measure = results.measures.find((one) => one.key === key && one.known);
    return measure === undefined ? [] : [`${measure.label} ${measure.text}`];
  });
  const name = double === undefined ? robot.name : `${robot.name} · B ${double.label}`;
  const run = results.trial === '' ? words.clip.noRun : [results.outcome, ...known.slice(0, 3)].filter((part) => part !== '').join(' · ');
  return { name, level: `${words.clip.on}: ${page.levels[level]}`, run };
}

/** The strip, along the top of a canvas of this width [CSS px]. */
export function drawStrip(pen: CanvasRenderingContext2D, width: number, told: ReturnType<typeof stripWords>): void {
  const [ink, muted, edge] = [colour('--ink'), colour('--muted'), 10];
  pen.textBaseline = 'alphabetic';
  pen.fillStyle = ink;
  pen.fillRect(0, STRIP - 1.5, width, 1.5);
  pen.textAlign = 'left';
  pen.font = `700 15px ${FONT}`;
  pen.fillText(told.name, edge, 19, 0.56 * width);
  pen.font = `12px ${FONT}`;
  pen.textAlign = 'right';
  pen.fillText(told.level, width - edge, 19, 0.38 * width);
  pen.textAlign = 'left';
  pen.fillStyle = muted;
  pen.fillText(told.run, edge, 37, width - 2 * edge);
}
