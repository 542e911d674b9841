// One drawing of the robot: a canvas that the core paints, sharp on every screen, and the hands
// on it: kick by dragging from the ball, bump by dragging the head, slope by its handle.

import { LAYER, type Plane } from '../core/types';
import type { Actions } from '../actions';
import { clamp, el } from '../dom';
import type { Loop, Seen } from '../loop';
import { STILL_EVERY, stillsWanted } from '../stills';
import type { Push } from '../store';
import { words } from '../words/page';
import { Plumb } from './plumb';

/** A drag shorter than this is a tap [px]. */
const TAP = 6;
/** Greatest kick or bump by hand, in default ones. */
const STRONGEST = 5;
/** Steepest slope of the handle [rad], and its step by key. */
const SLOPE_MOST = 0.2;
const SLOPE_STEP = Math.PI / 360;
const SLOPE_KNOB = 'floor.slope';

const forced = window.matchMedia('(forced-colors: active)');

interface Drag {
  readonly id: number;
  readonly what: 'kick' | 'bump';
  readonly x: number;
  readonly height: number;
  impulse: number;
  moved: boolean;
}

export class Pane {
  readonly element: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  readonly #context: CanvasRenderingContext2D;
  readonly #slope: HTMLElement;
  readonly #plumb: Plumb;
  #width = 0;
  #height = 0;
  /** When it was last painted [ms], and the run that was shown. */
  #painted = -Infinity;
  #run = 0;
  #drag: Drag | undefined;
  #seen: Seen | undefined;

  constructor(
    readonly plane: Plane,
    private readonly actions: Actions,
    private readonly loop: Loop,
    private readonly night: () => boolean,
  ) {
    this.canvas = el('canvas', {
      class: 'drawing',
      role: 'img',
      'aria-label': words.board.label(plane),
      'aria-describedby': 'see',
    });
    const context = this.canvas.getContext('2d');
    if (context === null) throw new Error(words.noCanvas);
    this.#context = context;
    this.#slope = this.#slopeHandle();
    this.#plumb = new Plumb(plane, actions, this);
    this.element = el('div', { class: 'pane' }, this.canvas, this.#plumb.element, this.#slope);
    new ResizeObserver(() => {
      this.#fit();
    }).observe(this.element);
    this.#listen();
    loop.paint(() => {
      this.#paint();
    });
    loop.read((seen) => {
      this.#seen = seen;
      this.#place();
    });
    actions.store.watch(['knobs', 'robot'], () => {
      this.#tellSlope();
    });
  }

  get visible(): boolean {
    return !this.element.hidden;
  }

  get width(): number {
    return this.#width;
  }

  get height(): number {
    return this.#height;
  }

  /** Place of an anchor in CSS pixels; NaN before the first painting. */
  anchor(name: string): number {
    const seen = this.#seen;
    if (seen === undefined) return Number.NaN;
    const offset = seen.layout.anchors[name];
    if (offset === undefined) return Number.NaN;
    return seen.frame[seen.layout.planes[this.plane] + offset] ?? Number.NaN;
  }

  #fit(): void {
    const box = this.element.getBoundingClientRect();
    if (box.width < 1 || box.height < 1) return;
    this.#width = box.width;
    this.#height = box.height;
    const dpr = window.devicePixelRatio;
    this.canvas.width = Math.round(box.width * dpr);
    this.canvas.height = Math.round(box.height * dpr);
    this.loop.touch();
  }

  #paint(): void {
    if (!this.visible) return;
    if (this.#width === 0) this.#fit();
    if (this.#width === 0) return;
    const { layers } = this.actions.store.state;
    const dpr = this.canvas.width / this.#width;
    if (Math.abs(dpr - window.devicePixelRatio) > 0.01) this.#fit();
    const still = stillsWanted(this.actions.store.state);
    const now = performance.now();
    const run = this.#runNumber();
    // What a hand has done is shown at once; what the run does, from still to still.
    const waits = still && !this.loop.asked && run === this.#run && now - this.#painted < STILL_EVERY;
    if (waits) return;
    this.#painted = now;
    this.#run = run;
    const bits =
      layers |
      (this.night() ? LAYER.night : 0) |
      (forced.matches ? LAYER.forced : 0) |
      (still ? LAYER.still : 0);
    this.actions.board.paint(this.#context, this.plane, this.#width, this.#height, dpr, bits);
  }

  #runNumber(): number {
    const seen = this.#seen;
    return seen === undefined ? 0 : (seen.frame[seen.layout.planes[this.plane] + seen.layout.run.number] ?? 0);
  }

  #place(): void {
    if (!this.visible) return;
    this.#plumb.place(this.anchor('carriage_centre_x'), this.anchor('carriage_centre_y'));
    const x = this.anchor('slope_x');
    const y = this.anchor('slope_y');
    if (!Number.isFinite(x) || !Number.isFinite(y)) return;
    this.#slope.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
  }

  // Hands.

  #listen(): void {
    const { canvas } = this;
    canvas.addEventListener('pointerdown', (event) => {
      if (event.button !== 0 || this.#drag !== undefined) return;
      const begun = this.#grasp(event);
      if (begun === undefined) return;
      this.#drag = begun;
      canvas.setPointerCapture(event.pointerId);
    });
    canvas.addEventListener('pointermove', (event) => {
      if (this.#drag?.id === event.pointerId) this.#follow(event);
      else canvas.classList.toggle('grasp', this.#grasp(event) !== undefined);
    });
    canvas.addEventListener('pointerup', (event) => {
      const drag = this.#drag;
      if (drag?.id !== event.pointerId) return;
      this.#letGo();
      this.#push(drag);
    });
    canvas.addEventListener('pointercancel', (event) => {
      if (this.#drag?.id === event.pointerId) this.#letGo();
    });
    // A drag in hand can be called off.
    window.addEventListener('keydown', (event) => {
      if (event.key !== 'Escape' || this.#drag === undefined) return;
      this.#letGo();
      // It closes nothing else.
      event.preventDefault();
    });
  }

  /** Goes on with a drag that began on something lying on the ball. */
  aim(begun: PointerEvent): void {
    this.#drag = this.#grasp(begun);
    if (this.#drag !== undefined) this.canvas.setPointerCapture(begun.pointerId);
  }

  tap(begun: PointerEvent): void {
    const drag = this.#grasp(begun);
    if (drag !== undefined) this.#push(drag);
  }

  /** What lies under the pointer. */
  #grasp(event: PointerEvent): Drag | undefined {
    const box = this.canvas.getBoundingClientRect();
    const x = event.clientX - box.left;
    const slack = event.pointerType === 'touch' ? 14 : 3;
    const [found, height] = this.actions.board.touch(this.plane, x, event.clientY - box.top, slack);
    if (found !== 1 && found !== 2) return undefined;
    const what = found === 1 ? 'kick' : 'bump';
    return { id: event.pointerId, what, x, height: height ?? 0, impulse: 0, moved: false };
  }

  #follow(event: PointerEvent): void {
    const drag = this.#drag;
    if (drag === undefined) return;
    const way = event.clientX - this.canvas.getBoundingClientRect().left - drag.x;
    if (!drag.moved && Math.abs(way) < TAP) return;
    drag.moved = true;
    const { robot } = this.actions.store.state;
    const bump = drag.what === 'bump';
    const most = STRONGEST * (bump ? robot.bump : robot.kick)[this.plane];
    drag.impulse = clamp(this.actions.board.impulse(this.plane, bump, way), -most, most);
    this.actions.board.aim(this.plane, bump, drag.impulse, drag.height);
    this.loop.touch();
  }

  #letGo(): void {
    this.#drag = undefined;
    this.actions.board.aim(this.plane, false, Number.NaN, Number.NaN);
    this.loop.touch();
  }

  #push(drag: Drag): void {
    const { kick } = this.actions.store.state;
    if (drag.what === 'bump') {
      if (drag.moved) this.actions.bump(this.plane, drag.impulse);
      else this.actions.bump(this.plane);
      return;
    }
    const impulse = drag.moved ? drag.impulse : kick[this.plane].impulse;
    const push: Push = { impulse, height: drag.height };
    this.actions.kick(this.plane, push);
  }

  // Slope.

  #slopeHandle(): HTMLElement {
    const handle = el('div', {
      class: 'slope',
      role: 'slider',
      tabindex: 0,
      'aria-label': words.board.slope,
      title: `${words.board.slope}: ${words.board.slopeHelp}`,
      'aria-valuemin': -SLOPE_MOST * (180 / Math.PI),
      'aria-valuemax': SLOPE_MOST * (180 / Math.PI),
    });
    const now = (): number => this.actions.value(SLOPE_KNOB)?.value ?? 0;
    const set = (slope: number): void => {
      this.actions.setKnob(SLOPE_KNOB, clamp(slope, -SLOPE_MOST, SLOPE_MOST));
      this.loop.touch();
    };
    let from: { y: number; slope: number } | undefined;
    handle.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      from = { y: event.clientY, slope: now() };
      handle.setPointerCapture(event.pointerId);
    });
    handle.addEventListener('pointermove', (event) => {
      if (from === undefined) return;
      const lever = Math.max(this.#width / 2, 100);
      const slope = from.slope + Math.atan((from.y - event.clientY) / lever);
      set(Math.abs(slope) < SLOPE_STEP / 2 ? 0 : slope);
    });
    const end = (): void => {
      from = undefined;
    };
    handle.addEventListener('pointerup', end);
    handle.addEventListener('pointercancel', end);
    handle.addEventListener('dblclick', () => {
      set(0);
    });
    handle.addEventListener('keydown', (event) => {
      const step = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 }[event.key];
      if (step !== undefined) set(now() + step * SLOPE_STEP);
      else if (event.key === 'Delete' || event.key === 'Home') set(0);
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    return handle;
  }

  #tellSlope(): void {
    const slope = this.actions.value(SLOPE_KNOB)?.value ?? 0;
    const text = words.board.slopeText(slope);
    this.#slope.setAttribute('aria-valuenow', ((slope * 180) / Math.PI).toFixed(1));
    this.#slope.setAttribute('aria-valuetext', text);
    this.#slope.dataset['text'] = Math.abs(slope) < 1e-6 ? '' : text;
  }
}
