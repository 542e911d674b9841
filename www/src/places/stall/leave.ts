// The way out, for the demonstrator: a ring in the corner held for a while, then a press held for a
// while. Two different places, one after the other within a few seconds, are no child's accident.

import { button, el } from '../../dom';
import { stallWords as words } from '../../words/stall';
import { makePress } from './press';

/** How long each is held [s]. */
const HOLD = 3;
/** How long the second press waits for a hand [s]. */
const WAITS = 8;

class Held {
  readonly element: HTMLButtonElement;
  #for: number | undefined;

  constructor(
    attributes: Readonly<Record<string, string>>,
    private readonly done: () => void,
  ) {
    const { element } = makePress(
      attributes,
      () => {
        this.#for = 0;
      },
      () => {
        this.letGo();
      },
    );
    this.element = element;
  }

  get held(): boolean {
    return this.#for !== undefined;
  }

  letGo(): void {
    this.#for = undefined;
    this.element.style.removeProperty('--held');
  }

  pass(seconds: number): void {
    if (this.#for === undefined) return;
    this.#for += seconds;
    this.element.style.setProperty('--held', Math.min(this.#for / HOLD, 1).toFixed(3));
    if (this.#for < HOLD) return;
    this.letGo();
    this.done();
  }
}

export class Leave {
  readonly corner: HTMLElement;
  readonly panel: HTMLElement;
  readonly #ring: Held;
  readonly #second: Held;
  #waited = 0;

  constructor(left: () => void) {
    this.#ring = new Held({ class: 'corner', 'aria-label': words.leave.corner }, () => {
      this.#waited = 0;
      this.panel.hidden = false;
    });
    this.#second = new Held({ class: 'act' }, left);
    this.#second.element.textContent = words.leave.hold;
    const stay = button(words.leave.stay, { class: 'act' }, () => {
      this.#close();
    });
    this.corner = this.#ring.element;
    this.panel = el(
      'div',
      { class: 'leave', role: 'group', 'aria-label': words.leave.title, hidden: true },
      el('p', {}, words.leave.title),
      stay,
      this.#second.element,
    );
  }

  pass(seconds: number): void {
    this.#ring.pass(seconds);
    if (this.panel.hidden) return;
    this.#second.pass(seconds);
    this.#waited = this.#second.held ? 0 : this.#waited + seconds;
    if (this.#waited > WAITS) this.#close();
  }

  letGo(): void {
    this.#ring.letGo();
    this.#second.letGo();
  }

  #close(): void {
    this.#second.letGo();
    this.panel.hidden = true;
  }
}
