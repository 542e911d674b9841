// The stall itself: a layer over the whole page, full screen where the browser allows it, with one
// robot or two. One clock drives all: the frames of the screen.

import type { Actions } from '../../actions';
import { boardMaker } from '../../core/open';
import { el, say } from '../../dom';
import type { Theme } from '../../theme';
import { stallWords as words } from '../../words/stall';
import { setStallStands } from './asked';
import { Waker, type Awake } from './awake';
import type { Choices } from './choices';
import { Guard } from './guard';
import { Half } from './half';
import { Leave } from './leave';
import { Pads } from './pads';
import { Sound } from './sound';

/** Longest piece of time made up for in one frame [ms]; more is let go. */
const CATCH_UP = 250;
/** Keys of the presses, by child. */
export const KEYS: readonly (readonly string[])[] = [
  ['1', '2', '3', '4'],
  ['7', '8', '9', '0'],
];

export interface Opening {
  readonly actions: Actions;
  readonly theme: Theme;
  readonly choices: Choices;
  readonly awake: (state: Awake) => void;
  /** Called once, when it is closed. */
  readonly closed: () => void;
}

export class Layer {
  readonly #element: HTMLElement;
  readonly #news = el('p', { class: 'unseen', 'aria-live': 'polite' });
  readonly #halves: Half[];
  readonly #leave: Leave;
  readonly #guard: Guard;
  readonly #waker: Waker;
  readonly #sound: Sound;
  readonly #pads: Pads;
  readonly #covered: HTMLElement[] = [];
  readonly #paused: boolean;
  #last: number | undefined;
  #open = true;

  /** Opens it; to be called from a press, so that the browser allows the full screen. */
  static async open(opening: Opening): Promise<Layer> {
    return new Layer(opening, await boardMaker());
  }

  private constructor(
    private readonly opening: Opening,
    make: ConstructorParameters<typeof Half>[0]['make'],
  ) {
    const { actions, theme, choices } = opening;
    const { board, store } = actions;
    this.#paused = store.state.paused;
    this.#sound = new Sound(choices.sound, choices.volume);
    const count = choices.two ? 2 : 1;
    const night = (): boolean => choices.contrast === 'dark' || (choices.contrast === 'page' && theme.night());
    // Another order each time it is opened, and another for each robot.
    const seed = Date.now() >>> 0;
    const ground = { make, opened: board.openedFile(), now: board.robotFile(), inches: store.state.units === 'inch', choices, night, sound: this.#sound, count };
    const tell = (text: string): void => {
      say(this.#news, this.#news.textContent === text ? `${text} ` : text);
    };
    this.#halves = Array.from({ length: count }, (_, index) => {
      const letter = count > 1 ? `${words.robot(words.letters[index] ?? '')}: ` : '';
      return new Half({
        ...ground,
        index,
        seed: seed + 7919 * index,
        tell: (text) => {
          tell(letter + text);
        },
      });
    });
    this.#leave = new Leave(() => {
      this.close();
    });
    this.#element = el(
      'div',
      { class: 'stalllayer', role: 'dialog', 'aria-modal': 'true', 'aria-label': words.layer, tabindex: -1, 'data-contrast': choices.contrast, 'data-count': count },
      el('div', { class: 'halves' }, ...this.#halves.map(({ element }) => element)),
      this.#leave.corner,
      this.#leave.panel,
      this.#news,
    );
    this.#waker = new Waker(opening.awake);
    this.#pads = new Pads((child, choice, down) => {
      this.#choose(child, choice, down);
    });
    this.#guard = new Guard(this.#element, words.leave.word, {
      key: (key, down) => {
        this.#key(key, down);
      },
      left: () => {
        this.close();
      },
    });
    this.#start();
  }

  get open(): boolean {
    return this.#open;
  }

  /** For measurement: boards made, notes begun and held. */
  get counts(): Readonly<Record<string, number>> {
    return { boards: this.#halves.reduce((sum, { boards }) => sum + boards, 0), ...this.#sound.notes };
  }

  close(): void {
    if (!this.#open) return;
    this.#open = false;
    setStallStands(false);
    this.#guard.stop();
    this.#waker.stop();
    this.#sound.stop();
    document.removeEventListener('visibilitychange', this.#seen);
    window.removeEventListener('blur', this.#blur);
    for (const half of this.#halves) half.free();
    if (document.fullscreenElement === this.#element) document.exitFullscreen().catch(() => undefined);
    this.#element.remove();
    for (const element of this.#covered) element.inert = false;
    this.opening.actions.store.set({ paused: this.#paused });
    this.opening.closed();
  }

  #start(): void {
    setStallStands(true);
    for (const element of document.body.children) {
      if (!(element instanceof HTMLElement) || element.inert) continue;
      element.inert = true;
      this.#covered.push(element);
    }
    document.body.append(this.#element);
    this.opening.actions.store.set({ paused: true });
    this.#fill();
    this.#guard.start();
    this.#waker.start();
    document.addEventListener('visibilitychange', this.#seen);
    window.addEventListener('blur', this.#blur);
    this.#element.addEventListener('pointerup', () => {
      this.#touched();
    });
    this.#element.focus({ preventScroll: true });
    requestAnimationFrame(this.#step);
  }

  /** What a browser allows only after a touch. */
  #touched(): void {
    this.#fill();
    this.#waker.nudge();
    this.#sound.touched();
  }

  #fill(): void {
    // Without a touch it is refused, and the browser complains.
    if (!document.fullscreenEnabled || document.fullscreenElement !== null || navigator.userActivation?.isActive === false) return;
    this.#element.requestFullscreen({ navigationUI: 'hide' }).then(
      () => {
        // Where a browser can, Escape is kept too. It is held then to leave full screen, as the browser says.
        const { keyboard } = navigator as { keyboard?: { lock?: (keys: readonly string[]) => Promise<void> } };
        keyboard?.lock?.(['Escape']).catch(() => undefined);
      },
      () => {
        // Refused without a touch: the layer covers the page all the same.
      },
    );
  }

  #choose(child: number, choice: number, down: boolean): void {
    this.#sound.touched();
    this.#halves[Math.min(child, this.#halves.length - 1)]?.choose(choice, down);
  }

  #key(key: string, down: boolean): void {
    KEYS.forEach((keys, child) => {
      const choice = keys.indexOf(key);
      if (choice >= 0) this.#choose(child, choice, down);
    });
  }

  readonly #seen = (): void => {
    this.#last = undefined;
    if (document.visibilityState === 'hidden') this.#sound.hidden();
    else this.#sound.touched();
  };

  readonly #blur = (): void => {
    this.#leave.letGo();
  };

  readonly #step = (now: number): void => {
    if (!this.#open) return;
    requestAnimationFrame(this.#step);
    const passed = this.#last === undefined ? 0 : Math.min(now - this.#last, CATCH_UP);
    this.#last = now;
    this.#pads.poll();
    this.#leave.pass(passed / 1000);
    for (const half of this.#halves) if (this.#open) half.frame(passed / 1000);
  };
}
