// On a knob's track: where the robot stays steady, where it does not, and where only dry friction
// holds it. Line, hatch and finer hatch; in words for those who do not see them.

import type { KnobSpans } from '../core/lab.edge';
import { el } from '../dom';

export class Pieces {
  readonly element = el('span', { class: 'pieces', 'aria-hidden': 'true' });
  #told = '';

  constructor(private readonly track: HTMLInputElement) {}

  /** `place` gives where a value lies on the track, 0 … 1. */
  show(spans: KnobSpans | undefined, place: (value: number) => number): void {
    const pieces = (spans?.pieces ?? []).flatMap(({ from, to, state }) => {
      const [left, right] = [place(from), place(to)];
      return right > left ? [{ state, left: `${(100 * left).toFixed(1)}%`, width: `${(100 * (right - left)).toFixed(1)}%` }] : [];
    });
    const told = JSON.stringify([pieces, spans?.text]);
    if (told === this.#told) return;
    this.#told = told;
    this.element.replaceChildren(
      ...pieces.map(({ state, left, width }) => {
        const piece = el('i', { class: state });
        piece.style.left = left;
        piece.style.width = width;
        return piece;
      }),
    );
    const { track } = this;
    track.classList.toggle('spanned', pieces.length > 0);
    if (spans === undefined) {
      track.removeAttribute('aria-description');
      track.removeAttribute('title');
    } else {
      track.setAttribute('aria-description', spans.text);
      track.title = spans.text;
    }
  }
}
