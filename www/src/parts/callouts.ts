// The five knobs of the first minute, laid on the sheet as the drawing's own callouts, with
// leader lines to the part they belong to. On a narrow sheet, or with both views, they are a
// numbered list under the drawing, and the drawing carries the numbers.

import type { Plane } from '../core/types';
import type { Actions } from '../actions';
import { el, svg } from '../dom';
import type { Loop } from '../loop';
import { words } from '../words/page';
import type { Pane } from './board';
import { Knob } from './knob';

interface Place {
  readonly key: string;
  readonly side: 'left' | 'right';
  /** Anchor of the drawing that the leader ends on. */
  readonly anchor: string;
}

const BODIES: readonly Place[] = [
  { key: 'head.mass', side: 'right', anchor: 'head' },
  { key: 'carriage.mass', side: 'right', anchor: 'carriage' },
];

const places = (loop: 'travel' | 'lean'): readonly Place[] => [
  { key: `${loop}.correction`, side: 'left', anchor: 'controller' },
  { key: `${loop}.damping`, side: 'left', anchor: 'controller' },
  { key: `${loop}.dead_band`, side: 'left', anchor: 'controller' },
  ...BODIES,
];

/** The five of each plane, in the order of their numbers. */
const FIVE: readonly [readonly Place[], readonly Place[]] = [places('travel'), places('lean')];

const BALLOON = 11;

export class Callouts {
  readonly left = el('div', { class: 'callouts left' });
  readonly right = el('div', { class: 'callouts right' });
  readonly list = el('div', { class: 'callouts list' });
  readonly overlay: SVGSVGElement;
  #knobs: { readonly knob: Knob; readonly place: Place; readonly marks: SVGElement[] }[] = [];
  #listed = false;
  #plane: Plane | undefined;
  #both = false;

  constructor(
    private readonly actions: Actions,
    loop: Loop,
    private readonly panes: readonly Pane[],
    private readonly sheet: HTMLElement,
    private readonly more: readonly HTMLElement[],
  ) {
    this.overlay = svg('svg', { class: 'leaders', 'aria-hidden': 'true', focusable: 'false' });
    for (const group of [this.left, this.right, this.list]) {
      group.setAttribute('role', 'group');
      group.setAttribute('aria-label', words.knobs.five);
    }
    actions.store.watch(['knobs'], () => {
      for (const { knob } of this.#knobs) knob.refresh();
    });
    actions.store.watch(['spans', 'place'], () => {
      for (const { knob } of this.#knobs) knob.mark();
    });
    loop.read(() => {
      this.#draw();
    });
  }

  /** Lays the knobs out anew where that is needed. */
  arrange(listed: boolean): void {
    const { active, shown } = this.actions.store.state;
    const both = shown === 'both';
    if (listed === this.#listed && active === this.#plane && both === this.#both) return;
    this.#listed = listed;
    this.#plane = active;
    this.#both = both;
    for (const group of [this.left, this.right, this.list]) {
      group.replaceChildren();
      group.hidden = true;
    }
    this.overlay.replaceChildren();
    this.#knobs = FIVE[active].map((place, index) => {
      const knob = new Knob(place.key, this.actions, listed ? { balloon: index + 1 } : {});
      const group = listed ? this.list : place.side === 'left' ? this.left : this.right;
      group.append(knob.element);
      group.hidden = false;
      return { knob, place, marks: listed ? this.#balloon(index + 1) : this.#leader() };
    });
    (listed ? this.list : this.left).append(...this.more);
  }

  #leader(): SVGElement[] {
    const line = svg('line', { class: 'leader', hidden: true });
    const foot = svg('circle', { class: 'foot', r: 2.5, hidden: true });
    this.overlay.append(line, foot);
    return [line, foot];
  }

  #balloon(number: number): SVGElement[] {
    const line = svg('line', { class: 'leader', hidden: true });
    const foot = svg('circle', { class: 'foot', r: 2.5, hidden: true });
    const ring = svg('circle', { class: 'ring', r: BALLOON, hidden: true });
    const text = svg('text', { class: 'figure', hidden: true }, String(number));
    this.overlay.append(line, foot, ring, text);
    return [line, foot, ring, text];
  }

  #draw(): void {
    const pane = this.panes[this.actions.store.state.active];
    if (pane?.visible !== true || !Number.isFinite(pane.anchor('ball_radius'))) {
      // Nowhere to point to: a mark without a place would lie in the sheet's corner.
      for (const { marks } of this.#knobs) for (const mark of marks) mark.toggleAttribute('hidden', true);
      return;
    }
    const sheet = this.sheet.getBoundingClientRect();
    const box = pane.element.getBoundingClientRect();
    const dx = box.left - sheet.left;
    const dy = box.top - sheet.top;
    const radius = pane.anchor('ball_radius');
    const middle = pane.anchor('ball_x');
    const crown = pane.anchor('head_y');
    for (const [index, { knob, place, marks }] of this.#knobs.entries()) {
      const x = pane.anchor(`${place.anchor}_x`) + dx;
      const y = pane.anchor(`${place.anchor}_y`) + dy;
      // A head that has rolled away takes no line with it.
      const away = !(x >= dx && x <= dx + pane.width) || !Number.isFinite(y);
      for (const mark of marks) mark.toggleAttribute('hidden', away);
      if (away) continue;
      let from: readonly [number, number];
      if (this.#listed) {
        // Numbers stand beside the ball, on the side that their callout would be.
        const left = place.side === 'left';
        const row = left ? index : index - 3;
        const beside = Math.min(radius + 26, pane.width / 2 - BALLOON - 4);
        from = left
          ? [middle + dx - beside + 0.12 * radius * Math.max(0, 1 - row), pane.anchor('ball_y') + dy - 0.92 * radius + row * (2 * BALLOON + 6)]
          : [middle + dx + beside, row === 0 ? crown + dy - 8 : pane.anchor('ball_y') + dy + 0.35 * radius];
      } else {
        const at = knob.element.getBoundingClientRect();
        const inner = place.side === 'left' ? at.right : at.left;
        from = [inner - sheet.left, at.top + 22 - sheet.top];
      }
      this.#put(marks, from, [x, y]);
    }
  }

  #put(marks: SVGElement[], from: readonly [number, number], to: readonly [number, number]): void {
    const [line, foot, ring, text] = marks;
    const set = (element: SVGElement | undefined, name: string, value: number): void => {
      element?.setAttribute(name, value.toFixed(1));
    };
    set(line, 'x1', from[0]);
    set(line, 'y1', from[1]);
    set(line, 'x2', to[0]);
    set(line, 'y2', to[1]);
    set(foot, 'cx', to[0]);
    set(foot, 'cy', to[1]);
    set(ring, 'cx', from[0]);
    set(ring, 'cy', from[1]);
    set(text, 'x', from[0]);
    set(text, 'y', from[1]);
  }
}
