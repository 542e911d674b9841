// A motion shown by itself on the board: the core paints its shape over the robot's pose, this says
// what is seen and how fast, follows the motion while knobs move, and ends it. Where motion is to be
// kept low it stands still at four places, one press after the other.

import type { PoleRow } from '../../core/lab.edge';
import { refused, type Plane } from '../../core/types';
import { button, el, say } from '../../dom';
import type { PlaceContext } from '../place';
import { edgeWords } from '../../words/edge';

const words = edgeWords.swing;

/** The largest angle is drawn with this [rad]. */
const AMPLITUDE = 0.21;
/** Motions are slowed down or sped up to swing between these [Hz]… */
const SLOWEST = 0.25;
const FASTEST = 0.9;
/** …and those that do not swing to fall e-fold in between these [s]. */
const SHORTEST = 0.6;
const LONGEST = 2.5;
/** From this damping ratio on a motion is over before one sees it swing. */
const STRONG = 0.6;
/** Stills of a motion. */
const STILLS = 4;

/** Where everything lies in one column and the page scrolls. */
const narrow = window.matchMedia('(max-width: 1099px)');
const reduced = window.matchMedia('(prefers-reduced-motion: reduce)');

/** The nearest of …, 1/5, 1/2, 1, 2, 5, … that is not beyond `rate` in the direction away from 1. */
function plain(rate: number): number {
  const decade = 10 ** Math.floor(Math.log10(rate));
  const steps = [1, 2, 5, 10].map((part) => part * decade);
  return rate < 1 ? (steps.findLast((step) => step <= rate * 1.0001) ?? decade) : (steps.find((step) => step >= rate * 0.9999) ?? decade);
}

/** How many seconds of the motion pass in a second. */
function rateOf({ frequency, growth, damping }: PoleRow): number {
  if (frequency > 0 && Math.abs(damping) < STRONG) {
    if (frequency > FASTEST) return plain(FASTEST / frequency);
    return frequency < SLOWEST ? plain(SLOWEST / frequency) : 1;
  }
  const fold = 1 / Math.abs(growth);
  if (!Number.isFinite(fold)) return 1;
  if (fold < SHORTEST) return plain(fold / SHORTEST);
  return fold > LONGEST ? plain(fold / LONGEST) : 1;
}

export class Swing {
  readonly #caption = el('div', { class: 'swung', hidden: true });
  readonly #text = el('p', {});
  readonly #rate = el('p', { class: 'note' });
  readonly #next: HTMLButtonElement;
  #pole: PoleRow | undefined;
  #plane: Plane = 0;
  #rateNow = 1;
  #seconds = 0;
  #last: number | undefined;
  #part = 0;

  constructor(
    private readonly context: PlaceContext,
    /** Called when it has ended, whoever ended it. */
    private readonly ended: () => void,
  ) {
    const { actions, loop } = context;
    this.#next = button(words.next, { class: 'act' }, () => {
      this.#part = (this.#part + 1) % STILLS;
      this.#still();
    });
    const stop = button(words.stop, { class: 'act' }, () => {
      this.end();
    });
    this.#caption.append(this.#text, this.#rate, el('span', { class: 'rowof' }, this.#next, stop));
    document.querySelector('.board')?.append(this.#caption);
    loop.paint(() => {
      this.#turn();
    });
    reduced.addEventListener('change', () => {
      if (this.#pole !== undefined) this.#begin(this.#pole);
    });
    // Whatever is done to the robot is to be seen undisturbed.
    actions.store.watch(['kick', 'bump', 'level', 'active'], () => {
      this.end();
    });
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.key !== 'Escape' || this.#pole === undefined || event.defaultPrevented) return;
        // It closes nothing else.
        event.preventDefault();
        event.stopPropagation();
        this.end();
      },
      { capture: true },
    );
    document.querySelector('.board .drawings')?.addEventListener('pointerdown', () => {
      this.end();
    });
  }

  get going(): boolean {
    return this.#pole !== undefined;
  }

  start(pole: PoleRow, plane: Plane): void {
    this.#plane = plane;
    this.#seconds = 0;
    this.#part = 0;
    if (!this.#begin(pole)) return;
    // The board may be out of sight, far above the table.
    if (narrow.matches) document.querySelector('.board')?.scrollIntoView({ block: 'start', behavior: reduced.matches ? 'auto' : 'smooth' });
    this.context.actions.tell(words.began(pole.name, pole.text));
  }

  /** The same motion as it has become. */
  follow(pole: PoleRow): void {
    if (this.going) this.#begin(pole);
  }

  end(): void {
    if (this.#pole === undefined) return;
    const inside = this.#caption.contains(document.activeElement);
    this.#pole = undefined;
    this.#last = undefined;
    this.#caption.hidden = true;
    this.context.actions.board.still();
    this.context.loop.touch();
    this.context.actions.tell(words.ended);
    this.ended();
    if (inside) document.querySelector<HTMLElement>('.poles button[aria-pressed]')?.focus({ preventScroll: true });
  }

  #begin(pole: PoleRow): boolean {
    const { shape, frequency, growth, name, text } = pole;
    if (shape === undefined) return false;
    // Stills show where bodies are to each other, at full size.
    const decay = reduced.matches && frequency > 0 ? 0 : growth;
    const answer = this.context.actions.board.swingMode(this.#plane, shape, frequency, decay, AMPLITUDE);
    if (refused(answer)) return false;
    this.#pole = pole;
    this.#rateNow = rateOf(pole);
    this.#caption.hidden = false;
    say(this.#text, words.caption(name, text));
    this.#next.hidden = !reduced.matches;
    if (reduced.matches) this.#still();
    else say(this.#rate, `${words.rate(this.#rateNow)}, ${words.amplitude(AMPLITUDE)}`);
    this.context.loop.touch();
    return true;
  }

  #still(): void {
    const pole = this.#pole;
    if (pole === undefined) return;
    const swings = pole.frequency > 0;
    // Half time constants apart where nothing swings.
    const apart = swings ? 1 / (STILLS * pole.frequency) : 0.5 / Math.max(Math.abs(pole.growth), 1e-6);
    this.context.actions.board.modeAt(this.#part * apart);
    say(this.#rate, `${swings ? words.phase(this.#part) : words.creep(this.#part)}, ${words.amplitude(AMPLITUDE)}`);
    this.context.loop.touch();
  }

  /** With every frame, also while the run is paused. */
  #turn(): void {
    if (this.#pole === undefined || reduced.matches) return;
    const now = performance.now();
    const passed = this.#last === undefined ? 0 : Math.min(now - this.#last, 100) / 1000;
    this.#last = now;
    this.#seconds += passed * this.#rateNow;
    this.context.actions.board.modeAt(this.#seconds);
    this.context.loop.touch();
  }
}
