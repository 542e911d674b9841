// The plumb-bob on the drawing: the carriage's centre of mass, pulled up and down where it
// hangs. The knob "hangs below centre" does the same by press.

import type { Plane } from '../core/types';
import type { Actions } from '../actions';
import { clamp, el } from '../dom';
import { words } from '../words/page';

const KNOB = 'carriage.below_centre';
/** A pull shorter than this is a tap [px]. */
const TAP = 6;

/** The ball around the bob: what does not pull the bob up or down belongs to it. */
export interface Ball {
  readonly canvas: HTMLCanvasElement;
  /** Takes over a pull across: it aims a kick. */
  aim(begun: PointerEvent): void;
  /** Takes over a tap. */
  tap(begun: PointerEvent): void;
}

export class Plumb {
  readonly element: HTMLElement;
  #at: readonly [number, number] = [Number.NaN, Number.NaN];

  constructor(
    private readonly plane: Plane,
    private readonly actions: Actions,
    private readonly ball: Ball,
  ) {
    const info = actions.knobs.get(KNOB);
    this.element = el('div', {
      class: 'plumb',
      role: 'slider',
      tabindex: 0,
      'aria-label': info?.label ?? KNOB,
      'aria-orientation': 'vertical',
      title: words.board.plumbHelp,
    });
    this.#pull();
    this.element.addEventListener('keydown', (event) => {
      this.#step(event);
    });
    this.element.addEventListener('dblclick', () => {
      this.#putBack();
    });
    actions.store.watch(['knobs', 'robot'], () => {
      this.#tell();
    });
  }

  /** Where the bob hangs now [CSS px of the drawing]. */
  place(x: number, y: number): void {
    if (!Number.isFinite(x) || !Number.isFinite(y)) return;
    this.#at = [x, y];
    this.element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
  }

  #tell(): void {
    const value = this.actions.value(KNOB);
    const info = this.actions.knobs.get(KNOB);
    if (value === undefined || info === undefined) return;
    this.element.setAttribute('aria-valuemin', String(info.min * 1000));
    this.element.setAttribute('aria-valuemax', String(info.max * 1000));
    this.element.setAttribute('aria-valuenow', String(Math.round(value.value * 1000)));
    this.element.setAttribute('aria-valuetext', value.text);
    this.element.dataset['text'] = words.board.plumbText(value.text);
  }

  #set(value: number): void {
    this.actions.setKnob(KNOB, value);
  }

  #putBack(): void {
    const value = this.actions.value(KNOB);
    if (value !== undefined) this.#set(value.opened);
  }

  #step(event: KeyboardEvent): void {
    const value = this.actions.value(KNOB);
    const info = this.actions.knobs.get(KNOB);
    // Down on the drawing is farther below the centre.
    const steps = { ArrowDown: 1, ArrowUp: -1, PageDown: 10, PageUp: -10 }[event.key];
    if (value === undefined || info === undefined) return;
    if (steps !== undefined) this.#set(clamp(value.value + steps * info.step, info.min, info.max));
    else if (event.key === 'Delete') this.#putBack();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #pull(): void {
    const { element, ball } = this;
    let begun: PointerEvent | undefined;
    /** From the pointer to the bob's middle [px]. */
    let off: readonly [number, number] = [0, 0];
    let pulls = false;
    const place = (event: PointerEvent): readonly [number, number] => {
      const box = ball.canvas.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    };
    element.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      begun = event;
      pulls = false;
      const [x, y] = place(event);
      off = [this.#at[0] - x, this.#at[1] - y];
      element.setPointerCapture(event.pointerId);
    });
    element.addEventListener('pointermove', (event) => {
      if (begun?.pointerId !== event.pointerId) return;
      const [x, y] = place(event);
      if (!pulls) {
        const across = Math.abs(event.clientX - begun.clientX);
        const down = Math.abs(event.clientY - begun.clientY);
        if (Math.max(across, down) < TAP) return;
        if (across > down) {
          ball.aim(begun);
          begun = undefined;
          return;
        }
        pulls = true;
        element.classList.add('held');
      }
      const below = this.actions.board.hang(this.plane, x + off[0], y + off[1]);
      if (Number.isFinite(below)) this.#set(below);
    });
    const end = (tapped: boolean): void => {
      if (tapped && !pulls && begun !== undefined) ball.tap(begun);
      begun = undefined;
      element.classList.remove('held');
    };
    element.addEventListener('pointerup', () => {
      end(true);
    });
    element.addEventListener('pointercancel', () => {
      end(false);
    });
  }
}
