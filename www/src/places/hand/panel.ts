// What is looked at while one plays: time left, the angle between the marks of the band, and the lever.

import type { KicksOut } from '../../core/lab.types';
import { button, el, say } from '../../dom';
import { handWords as words } from '../../words/hand';
import { SECONDS } from './try';

/** The scale shows so many half widths of the band to either side. */
const SHOWN = 6;

export class Panel {
  readonly element: HTMLElement;
  readonly #clock = el('p', { class: 'handclock' });
  readonly #said = el('p', { class: 'note', role: 'status' });
  readonly #band = el('span', { class: 'band' });
  readonly #angle = el('span', { class: 'mark' });
  readonly #head = el('span', { class: 'mark head' });
  readonly #scale = el('div', { class: 'handscale', 'aria-hidden': 'true' }, this.#band, this.#head, this.#angle);
  readonly #word = el('p', { class: 'handword' });
  #plan: KicksOut | undefined;

  /** Where the lever lies meanwhile. */
  readonly leverPlace = el('div', { class: 'handleverplace' });

  constructor(stop: () => void) {
    const press = button(words.contest.stop, { class: 'act stop' }, stop);
    this.element = el(
      'div',
      { class: 'handpanel', hidden: true },
      el('div', { class: 'handtop' }, this.#clock, this.#word, press),
      this.#scale,
      this.leverPlace,
      this.#said,
    );
  }

  begin(plan: KicksOut, side: boolean): void {
    this.#plan = plan;
    this.#band.style.left = `${50 - 50 / SHOWN}%`;
    this.#band.style.width = `${100 / SHOWN}%`;
    this.#head.hidden = !side;
    say(this.#said, words.contest.bandIs(plan.bandText, side));
  }

  say(text: string): void {
    say(this.#said, text);
  }

  frame(seconds: number, angle: number, head: number): void {
    const plan = this.#plan;
    if (plan === undefined) return;
    const counting = seconds < 0;
    say(this.#clock, counting ? words.contest.countdown(Math.ceil(-seconds)) : words.contest.left(Math.max(0, Math.ceil(SECONDS - seconds))));
    const of = (value: number): number => value / plan.band;
    const place = (mark: HTMLElement, share: number): void => {
      const at = Math.min(Math.max(share / SHOWN, -1), 1);
      mark.style.left = `${50 + 50 * at}%`;
    };
    const [swing, dip] = [of(angle - plan.centre), of(head)];
    place(this.#angle, swing);
    place(this.#head, dip);
    const inside = Math.abs(swing) <= 1 && Math.abs(dip) <= 1;
    this.#scale.dataset['inside'] = String(inside);
    say(this.#word, counting ? words.contest.find : inside ? words.contest.inside : words.contest.outside);
  }
}
