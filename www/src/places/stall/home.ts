// What a visitor takes home: the link to the robot just played with, as a code for a phone, or in
// words where there is no address that a phone could open. It goes by itself.

import { button, el, say } from '../../dom';
import { stallWords as words } from '../../words/stall';
import { drawCode, MOST_CODED } from '../qr';
import { followable } from './choices';

/** How long it is shown [s]: a phone has to be found first. */
const SHOWN = 30;

/** Address of the page that a phone can open; `given` by the demonstrator, or the page's own. */
export const pageAddress = (given: string): string | undefined => followable(given) ?? followable(location.href);

export interface Taken {
  /** What comes after the address; asked for while the robot is as it was. */
  readonly fragment: Promise<string>;
  /** The same in words. */
  readonly told: readonly string[];
}

export class Home {
  readonly element: HTMLElement;
  readonly #inside = el('div', { class: 'taken' });
  readonly #back: HTMLButtonElement;
  #left = 0;
  #wish = 0;

  constructor(
    private readonly address: string,
    private readonly gone: () => void,
  ) {
    this.#back = button('', { class: 'back' }, () => {
      this.close();
      this.gone();
    });
    this.element = el('div', { class: 'stallhome', hidden: true }, el('h2', {}, words.home.title), this.#inside, this.#back);
  }

  get open(): boolean {
    return !this.element.hidden;
  }

  async show(taken: Taken): Promise<void> {
    this.#wish += 1;
    const wish = this.#wish;
    this.#left = SHOWN;
    this.#inside.replaceChildren();
    this.element.hidden = false;
    this.#count();
    const fragment = await taken.fragment;
    if (wish !== this.#wish) return;
    const page = pageAddress(this.address);
    const link = page === undefined ? '' : page + fragment;
    const list = (about: string): void => {
      const lines = el('ul', {});
      for (const line of taken.told) lines.append(el('li', {}, line));
      this.#inside.replaceChildren(el('p', {}, about), lines);
    };
    if (page === undefined) list(words.home.words);
    else if (link.length > MOST_CODED) list(words.home.tooLong);
    else this.#inside.replaceChildren(el('div', { class: 'code' }, drawCode(link, words.home.code)), el('p', {}, words.home.scan));
  }

  /** Time passes [s]. */
  pass(seconds: number): void {
    if (!this.open) return;
    this.#left -= seconds;
    if (this.#left > 0) {
      this.#count();
      return;
    }
    this.close();
    this.gone();
  }

  close(): void {
    this.#wish += 1;
    this.element.hidden = true;
    this.#inside.replaceChildren();
  }

  #count(): void {
    say(this.#back, words.home.back(Math.ceil(this.#left)));
  }
}
