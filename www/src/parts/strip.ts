// A strip chart: one column of one plane against the time since the push, with the run before
// faint behind it. Its ranges grow by whole steps and never jump back within a run. Pulling
// along it looks back, as the slider under the drawing does.

import type { Actions } from '../actions';
import { OFF, type Plane } from '../core/types';
import { clamp, el, say } from '../dom';
import type { Loop, Seen } from '../loop';
import { words } from '../words';
import { Plot } from './plot';

/** Half heights of the strip [°]: the next step is taken when one is passed. Its width [s]. */
const HEIGHTS = [5, 10, 20, 30, 45, 60, 90, 180, 360, 720, 1440, 2880, 5760];
const WIDTH = 10;
/** Farthest look back [s]. */
const BACK = 20;
/** Between two drawings of the strip [ms]. */
const PERIOD = 33;

export class Strip {
  readonly element: HTMLElement;
  readonly #title = el('span', { class: 'title' });
  readonly #range = el('span', { class: 'range' });
  readonly #plot: Plot;
  #drawn = -Infinity;
  #run = -1;
  #half = HEIGHTS[0] ?? 5;
  #from = 0;
  /** How long the run lasts [s]. */
  #seconds = 0;

  constructor(
    private readonly actions: Actions,
    private readonly loop: Loop,
    private plane: Plane,
    private column: string,
  ) {
    const box = el('div', { class: 'plot', 'aria-hidden': 'true' });
    this.element = el('figure', { class: 'strip' }, el('figcaption', {}, this.#title, this.#range), box);
    this.#plot = new Plot(box, words.strip.angle, () => {
      this.#anew();
    });
    this.#retitle();
    this.#listen(this.#plot.area);
    loop.readLate((seen, now) => {
      const run = this.#of(seen, seen.layout.run.number);
      if (run === this.#run && now - this.#drawn < PERIOD && !actions.store.state.paused) return;
      this.#drawn = now;
      this.#seconds = this.#of(seen, seen.layout.run.seconds);
      this.#draw(run);
    });
  }

  /** Shows another plane or column. */
  choose(plane: Plane, column: string): void {
    if (plane === this.plane && column === this.column) return;
    this.plane = plane;
    this.column = column;
    this.#run = -1;
    this.#anew();
    this.#retitle();
  }

  /** Takes the colours of day or night. */
  repaint(): void {
    this.#plot.forgetColors();
    this.#anew();
  }

  #anew(): void {
    this.#drawn = -Infinity;
    this.loop.touch();
  }

  #of({ frame, layout }: Seen, place: number): number {
    return frame[layout.planes[this.plane] + place] ?? 0;
  }

  #retitle(): void {
    const name = words.strip.names[this.column] ?? this.column;
    say(this.#title, name);
    this.element.setAttribute('aria-label', words.strip.label(name, this.plane));
  }

  #draw(run: number): void {
    const { board, store } = this.actions;
    const flat = board.strip(this.plane, this.column);
    const count = flat[0] ?? 0;
    const times = flat.subarray(1, 1 + count);
    const values = flat.subarray(1 + count, 1 + 2 * count);
    const rest = flat.subarray(1 + 2 * count);
    const before = rest[0] ?? 0;
    const beforeTimes = rest.subarray(1, 1 + before);
    const beforeValues = rest.subarray(1 + before, 1 + 2 * before);
    if (run !== this.#run) {
      this.#run = run;
      this.#half = HEIGHTS[0] ?? 5;
      this.#grow(beforeValues);
    }
    this.#grow(values);
    const last = times[count - 1] ?? 0;
    // Past its width the strip runs under the pen, second by second.
    this.#from = last <= WIDTH ? 0 : Math.ceil(last - WIDTH);
    say(this.#range, `± ${this.#half}°`);
    const { back, level } = store.state;
    const now = this.#plot.color(level === OFF ? '--without-software' : '--with-software');
    this.#plot.draw({
      from: this.#from,
      to: this.#from + WIDTH,
      half: this.#half,
      curves: [
        { times: beforeTimes, values: beforeValues, color: this.#plot.color('--before'), width: 1.5, dash: [3, 3] },
        { times, values, color: now, width: 2, dash: [] },
      ],
      cursor: back > 0 ? this.#seconds - back : undefined,
    });
  }

  #grow(values: Float64Array): void {
    let most = 0;
    for (const value of values) most = Math.max(most, Math.abs(value));
    if (most > this.#half) this.#half = HEIGHTS.find((height) => height >= most) ?? most;
  }

  #listen(area: HTMLElement): void {
    let held = false;
    const look = (event: PointerEvent): void => {
      const time = this.#plot.timeAt(event.clientX);
      this.actions.scrub(clamp(this.#seconds - time, 0, BACK));
    };
    area.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      held = true;
      area.setPointerCapture(event.pointerId);
      look(event);
    });
    area.addEventListener('pointermove', (event) => {
      if (held) look(event);
    });
    for (const end of ['pointerup', 'pointercancel'] as const) {
      area.addEventListener(end, () => {
        held = false;
      });
    }
  }
}
