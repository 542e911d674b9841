// What keeps a visitor in the stall: no step back, no browser gesture, no key that leads away.
// Two things no page can hold: the browser's own Escape out of full screen, after which the stall
// still covers the page, and keys that the system keeps to itself. The place says so.

import { STALL_LINK } from './asked';

/** Keys that move or press within the stall; they are left to what has the focus. */
const OWN_KEYS = ['Tab', 'Enter', ' '];
/** Longest pause between two letters of the word that leaves [ms]. */
const TYPING = 3000;

export interface Keys {
  /** A key that is not the stall's own, pressed or let go. */
  readonly key: (key: string, down: boolean) => void;
  /** The word that leaves has been typed. */
  readonly left: () => void;
}

export class Guard {
  #typed = '';
  #typedAt = 0;

  constructor(
    private readonly layer: HTMLElement,
    private readonly word: string,
    private readonly keys: Keys,
  ) {}

  start(): void {
    history.pushState({ stall: true }, '', STALL_LINK);
    window.addEventListener('popstate', this.#back);
    window.addEventListener('beforeunload', this.#unload);
    window.addEventListener('keydown', this.#keydown, { capture: true });
    window.addEventListener('keyup', this.#keyup, { capture: true });
    for (const type of QUIET) window.addEventListener(type, this.#refuse, { capture: true, passive: false });
    window.addEventListener('wheel', this.#wheel, { capture: true, passive: false });
    window.addEventListener('touchmove', this.#move, { capture: true, passive: false });
  }

  /** Ends with the history as it was. */
  stop(): void {
    window.removeEventListener('popstate', this.#back);
    window.removeEventListener('beforeunload', this.#unload);
    window.removeEventListener('keydown', this.#keydown, { capture: true });
    window.removeEventListener('keyup', this.#keyup, { capture: true });
    for (const type of QUIET) window.removeEventListener(type, this.#refuse, { capture: true });
    window.removeEventListener('wheel', this.#wheel, { capture: true });
    window.removeEventListener('touchmove', this.#move, { capture: true });
    if ((history.state as { stall?: boolean } | null)?.stall === true) history.back();
  }

  readonly #back = (): void => {
    history.pushState({ stall: true }, '', STALL_LINK);
  };

  readonly #unload = (event: BeforeUnloadEvent): void => {
    event.preventDefault();
  };

  readonly #refuse = (event: Event): void => {
    event.preventDefault();
  };

  readonly #wheel = (event: WheelEvent): void => {
    event.preventDefault();
  };

  readonly #move = (event: TouchEvent): void => {
    if (event.cancelable) event.preventDefault();
  };

  readonly #keydown = (event: KeyboardEvent): void => {
    const plain = !event.ctrlKey && !event.metaKey && !event.altKey;
    if (plain && OWN_KEYS.includes(event.key) && this.layer.contains(event.target as Node | null)) return;
    if (plain && event.key === 'Tab') return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!plain || event.repeat) return;
    this.#type(event);
    this.keys.key(event.key, true);
  };

  readonly #keyup = (event: KeyboardEvent): void => {
    if (OWN_KEYS.includes(event.key) && this.layer.contains(event.target as Node | null)) return;
    event.stopImmediatePropagation();
    this.keys.key(event.key, false);
  };

  #type(event: KeyboardEvent): void {
    if (event.key.length !== 1) return;
    if (event.timeStamp - this.#typedAt > TYPING) this.#typed = '';
    this.#typedAt = event.timeStamp;
    this.#typed = (this.#typed + event.key.toLowerCase()).slice(-this.word.length);
    if (this.#typed === this.word) this.keys.left();
  }
}

/** Menus, selections, dragging, the pinch of one browser family, the double tap that zooms. */
const QUIET = ['contextmenu', 'selectstart', 'dragstart', 'gesturestart', 'dblclick', 'auxclick', 'drop', 'dragover'] as const;
