// The lever on the screen. It is held by pointer, finger or the arrow keys and springs back to the middle.

import { clamp, el, takesText } from '../../dom';
import { handWords as words } from '../../words/hand';

/** How far the handle's middle stays from the lever's ends [px]: half its width on a touch screen, and a little. */
const MARGIN = 28;
const WAYS: Readonly<Record<string, 1 | -1>> = { ArrowLeft: -1, ArrowRight: 1 };

export class Lever {
  readonly element: HTMLElement;
  readonly #handle = el('span', { class: 'handle', 'aria-hidden': 'true' });
  #share = 0;
  /** Pointer that holds it. */
  #pointer: number | undefined;
  readonly #keys = new Set<1 | -1>();
  #moved: ((time: number) => void) | undefined;

  constructor() {
    this.element = el(
      'div',
      {
        class: 'handlever',
        role: 'slider',
        tabindex: 0,
        'aria-label': words.lever.name,
        'aria-orientation': 'horizontal',
        'aria-valuemin': -100,
        'aria-valuemax': 100,
      },
      el('span', { class: 'way', 'aria-hidden': 'true' }),
      el('span', { class: 'end left', 'aria-hidden': 'true' }, '←'),
      el('span', { class: 'end right', 'aria-hidden': 'true' }, '→'),
      this.#handle,
    );
    this.#set(0, 0);
    this.element.addEventListener('pointerdown', (event) => {
      if (event.button !== 0 || this.#pointer !== undefined) return;
      this.#pointer = event.pointerId;
      this.element.setPointerCapture(event.pointerId);
      this.#follow(event);
    });
    this.element.addEventListener('pointermove', (event) => {
      if (event.pointerId === this.#pointer) this.#follow(event);
    });
    const letGo = (event: PointerEvent): void => {
      if (event.pointerId !== this.#pointer) return;
      this.#pointer = undefined;
      this.#byKeys(event.timeStamp);
    };
    for (const name of ['pointerup', 'pointercancel', 'lostpointercapture'] as const) this.element.addEventListener(name, letGo);
    // A long press would open a menu under the finger.
    this.element.addEventListener('contextmenu', (event) => {
      event.preventDefault();
    });
    window.addEventListener('blur', () => {
      this.release();
    });
  }

  get share(): number {
    return this.#share;
  }

  /** Whoever wants to know that it has moved, and when [ms]. */
  onMoved(moved: ((time: number) => void) | undefined): void {
    this.#moved = moved;
  }

  release(): void {
    this.#pointer = undefined;
    this.#keys.clear();
    this.#set(0, performance.now());
  }

  /** Takes the arrow keys wherever the focus is, but for where one types. */
  listen(): () => void {
    const down = (event: KeyboardEvent): void => {
      const way = WAYS[event.key];
      if (way === undefined || event.ctrlKey || event.metaKey || event.altKey || takesText(event.target)) return;
      event.preventDefault();
      event.stopPropagation();
      if (event.repeat) return;
      this.#keys.add(way);
      this.#byKeys(event.timeStamp);
    };
    const up = (event: KeyboardEvent): void => {
      const way = WAYS[event.key];
      if (way === undefined || !this.#keys.delete(way)) return;
      this.#byKeys(event.timeStamp);
    };
    // Before the page's own keys, which would drive.
    window.addEventListener('keydown', down, true);
    window.addEventListener('keyup', up, true);
    return () => {
      window.removeEventListener('keydown', down, true);
      window.removeEventListener('keyup', up, true);
      this.release();
    };
  }

  /** Shows what another input gives. */
  show(share: number): void {
    if (this.#pointer === undefined && this.#keys.size === 0) this.#paint(share);
  }

  #follow({ clientX, timeStamp }: PointerEvent): void {
    const { left, width } = this.element.getBoundingClientRect();
    this.#set(clamp((clientX - left - width / 2) / Math.max(width / 2 - MARGIN, 1), -1, 1), timeStamp);
  }

  #byKeys(time: number): void {
    if (this.#pointer !== undefined) return;
    this.#set([...this.#keys].reduce((sum: number, way) => sum + way, 0), time);
  }

  #set(share: number, time: number): void {
    this.#share = share;
    this.#paint(share);
    this.#moved?.(time);
  }

  #paint(share: number): void {
    this.#handle.style.left = `calc(50% + ${share} * (50% - ${MARGIN}px))`;
    const percent = Math.round(share * 100);
    this.element.setAttribute('aria-valuenow', String(percent));
    this.element.setAttribute('aria-valuetext', words.lever.value(percent));
  }
}
