// The story of grams on the head: dip, settling and margin over added mass, one above the other on one
// scale, with their limits, and hatched where it fails. A press on a point puts that mass on.

import '../trials.css';
import './matters.css';
import { refused } from '../../core/types';
import type { HeadStoryOut } from '../../core/lab.matters';
import { button, clamp, el, say, svg } from '../../dom';
import type { Place, PlaceContext } from '../place';
import { fitted, short, through } from '../power/scales';
import { trialWords } from '../../words/trials';
import { Bench } from '../trials/bench';
import { Field } from '../trials/fields';
import { headWords as words } from '../../words/head';
import { Rested } from './rested';

const MARGIN = { left: 46, right: 14, top: 6, bottom: 38 };
/** Height of a panel, and of the words above it [px]. */
const PANEL = 80;
const ABOVE = 18;
const HEIGHT = MARGIN.top + 3 * (PANEL + ABOVE) + MARGIN.bottom;
/** Points that a Page key moves. */
const LEAP = 5;

/** One of the three curves. */
interface Panel {
  readonly name: string;
  readonly values: Float64Array;
  readonly scale: number;
  readonly limit: { readonly value: number; readonly word: string; readonly kind: 'limit' | 'usual' } | undefined;
  /** Where the limit is passed [kg], and its word. */
  readonly passes: { readonly added: number; readonly at: number; readonly word: string } | undefined;
}

export function makeHeadStory(context: PlaceContext): Place {
  const part = new HeadPart(context);
  return {
    element: part.element,
    opened: () => {
      part.opened();
    },
    closed: () => {
      part.closed();
    },
  };
}

class HeadPart {
  readonly element: HTMLElement;
  readonly #bench: Bench;
  readonly #dip = new Field('dip', words.dip);
  readonly #settling = new Field('settling', words.settling);
  readonly #rested: Rested<'head_story'>;
  readonly #told = el('p', { class: 'told' });
  readonly #stale = el('p', { class: 'stale', hidden: true }, words.stale);
  readonly #readout = el('p', { class: 'readout', 'aria-hidden': 'true' });
  readonly #box = el('div', { class: 'storybox', role: 'slider', tabindex: 0 });
  readonly #figure: HTMLElement;
  readonly #put: HTMLButtonElement;
  readonly #table = el('div', { class: 'tablebox' });
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #redraw: () => void;
  #out: HeadStoryOut | undefined;
  /** Where the drawing's scale of mass lies [px]. */
  #left = MARGIN.left;
  #right = MARGIN.left + 1;
  /** The point looked at, and where the keys left it. */
  #at = 0;
  #kept = 0;
  #mark: SVGElement | undefined;
  #panels: readonly Panel[] = [];
  #tops: number[] = [];

  constructor(private readonly context: PlaceContext) {
    const { actions } = context;
    this.#bench = new Bench(actions, ([first]) => {
      say(this.#status, first === undefined ? '' : `${trialWords.wrong} ${trialWords.expected(first.expected, first.hint)}`);
    });
    this.#rested = new Rested('head_story', words.what, {
      ask: () => {
        const [dip, settling] = [this.#dip.typed, this.#settling.typed];
        return { ...this.#bench.robot(), ...(dip === undefined ? {} : { dip }), ...(settling === undefined ? {} : { settling }) };
      },
      show: (out) => {
        this.#show(out);
        actions.tell(out.text);
      },
      stale: (stale) => {
        this.#stale.hidden = !stale || this.#out === undefined;
      },
      cancelled: () => {
        actions.tell(trialWords.cancelled);
      },
    });
    this.#redraw = fitted(this.#box, (width) => (this.#out === undefined ? undefined : this.#draw(this.#out, width)));
    this.#put = button('', { class: 'act' }, () => {
      this.#become(this.#at);
    });
    const table = el('details', {}, el('summary', {}, words.table), this.#table);
    this.#figure = el(
      'figure',
      { class: 'storyfigure', hidden: true },
      this.#readout,
      this.#box,
      el('figcaption', {}, el('div', { class: 'rowof' }, this.#put), el('p', { class: 'note' }, words.keys), table),
    );
    const fields = el('div', { class: 'fields' }, this.#dip.element, this.#settling.element);
    fields.addEventListener('change', () => {
      this.#rested.soon(0);
    });
    this.element = el(
      'div',
      { class: 'trials headstory' },
      el('p', { class: 'note' }, words.about),
      fields,
      this.#status,
      el('div', { class: 'headline' }, this.#rested.element),
      this.#told,
      this.#stale,
      this.#figure,
    );
    this.#rested.watch(this.element);
    this.#bench.onChange(() => {
      this.#rested.soon();
    });
    this.#listen();
  }

  opened(): void {
    this.#rested.opened();
  }

  closed(): void {
    this.#rested.closed();
  }

  #show(out: HeadStoryOut): void {
    this.#out = out;
    const { limits } = out;
    if (this.#dip.typed === undefined) this.#dip.usual(limits.dipText, words.usual(limits.dipText));
    if (this.#settling.typed === undefined) this.#settling.usual(limits.settlingText, words.usual(limits.settlingText));
    say(this.#told, out.text);
    this.#figure.hidden = false;
    this.#panels = panels(out);
    this.#at = this.#kept = Math.max(
      out.added.findIndex((added) => Math.abs(added) < 1e-9),
      0,
    );
    this.#redraw();
    this.#look(this.#at);
    this.#fill(out);
  }

  #fill(out: HeadStoryOut): void {
    const head = el('tr', {}, ...words.columns.map((text) => (text === '' ? el('td', {}) : el('th', { scope: 'col' }, text))));
    const rows = (out.words ?? []).map(([added, dip, settling, margin, outcome], index) =>
      el(
        'tr',
        {},
        el('th', { scope: 'row' }, added),
        ...[dip, settling, margin, out.loops?.[index] ?? '', outcome].map((text) => el('td', {}, text)),
        el(
          'td',
          {},
          button(this.#putWord(index), { class: 'link' }, () => {
            this.#become(index);
          }),
        ),
      ),
    );
    this.#table.replaceChildren(el('table', {}, el('caption', {}, words.caption), el('thead', {}, head), el('tbody', {}, ...rows)));
  }

  #word(index: number, column: 0 | 1 | 2 | 3 | 4): string {
    return this.#out?.words?.[index]?.[column] ?? '';
  }

  #putWord(index: number): string {
    return this.#out?.added[index] === 0 ? words.putNothing : words.put(this.#word(index, 0));
  }

  // The drawing.

  #draw(out: HeadStoryOut, width: number): SVGElement {
    this.#left = MARGIN.left;
    this.#right = width - MARGIN.right;
    const bottom = HEIGHT - MARGIN.bottom;
    const drawing = svg('svg', { width, height: HEIGHT, viewBox: `0 0 ${width} ${HEIGHT}`, 'aria-hidden': 'true' });
    drawing.append(
      svg(
        'defs',
        {},
        svg(
          'pattern',
          { id: 'head-story-hatch', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
          svg('line', { x1: 0, y1: 0, x2: 0, y2: 7, class: 'hatch' }),
        ),
      ),
    );
    this.#tops = this.#panels.map((_, index) => MARGIN.top + index * (PANEL + ABOVE) + ABOVE);
    const ticks = this.#ticks(out, width);
    const failing = stretches(out);
    this.#panels.forEach((panel, index) => {
      const top = this.#tops[index] ?? 0;
      const foot = top + PANEL;
      for (const [from, to] of failing) {
        drawing.append(svg('rect', { x: this.#x(out, from), y: top, width: Math.max(this.#x(out, to) - this.#x(out, from), 1), height: PANEL, class: 'fails' }));
      }
      for (const tick of ticks) {
        const x = this.#x(out, tick / out.scale);
        drawing.append(svg('line', { x1: x, x2: x, y1: top, y2: foot, class: 'grid' }));
      }
      this.#panel(drawing, out, panel, top);
    });
    for (const tick of ticks) {
      drawing.append(svg('text', { x: this.#x(out, tick / out.scale), y: bottom + 15, class: 'tick middle' }, `${tick > 0 ? '+' : ''}${short(tick)}`));
    }
    drawing.append(svg('text', { x: this.#right, y: bottom + 31, class: 'tick end' }, words.axis(out.unit)));
    const here = this.#x(out, 0);
    const first = this.#tops[0] ?? 0;
    drawing.append(svg('line', { x1: here, x2: here, y1: first, y2: bottom, class: 'stands' }), svg('text', { x: here, y: bottom + 31, class: 'middle' }, words.stands));
    for (const [from] of failing) {
      const x = this.#x(out, from);
      const index = out.added.findIndex((added) => added >= from - 1e-12 && added > from);
      const text = words.fails(this.#word(Math.max(index, 0), 4));
      drawing.append(
        svg('line', { x1: x, x2: x, y1: first, y2: bottom, class: 'failedge' }),
        svg('text', { x: x - 5, y: first + 13, class: 'end onpaper limitword' }, text),
      );
    }
    this.#mark = svg('g', {});
    drawing.append(this.#mark);
    this.#cursor();
    return drawing;
  }

  #panel(drawing: SVGElement, out: HeadStoryOut, panel: Panel, top: number): void {
    const foot = top + PANEL;
    const most = highest(panel);
    const y = (value: number): number => foot - (PANEL * value * panel.scale) / most;
    for (const value of [0, most / 2, most]) {
      const at = foot - (PANEL * value) / most;
      drawing.append(
        svg('line', { x1: this.#left, x2: this.#right, y1: at, y2: at, class: 'grid' }),
        svg('text', { x: this.#left - 5, y: at + 4, class: 'tick end' }, short(value)),
      );
    }
    const { limit, passes } = panel;
    if (limit !== undefined) {
      const at = y(limit.value);
      drawing.append(svg('line', { x1: this.#left, x2: this.#right, y1: at, y2: at, class: limit.kind }));
    }
    // Pieces between points without a value; those are crosses at the top.
    let piece: [number, number][] = [];
    const flush = (): void => {
      if (piece.length === 1 && piece[0] !== undefined) drawing.append(svg('circle', { cx: piece[0][0], cy: piece[0][1], r: 2, class: 'curve' }));
      else if (piece.length > 1) drawing.append(svg('path', { d: through(piece), class: 'curve' }));
      piece = [];
    };
    panel.values.forEach((value, index) => {
      const x = this.#x(out, out.added[index] ?? 0);
      if (Number.isFinite(value)) {
        piece.push([x, Math.max(y(value), top)]);
        return;
      }
      flush();
      drawing.append(svg('path', { d: `M${x - 3} ${top + 5}l6 6m0 -6l-6 6`, class: 'missing' }));
    });
    flush();
    drawing.append(
      svg('rect', { x: this.#left, y: top, width: this.#right - this.#left, height: PANEL, class: 'frame' }),
      svg('text', { x: this.#left, y: top - 5, class: 'name' }, panel.name),
    );
    if (limit !== undefined) {
      drawing.append(svg('text', { x: this.#right, y: top - 5, class: limit.kind === 'limit' ? 'end limitword' : 'end muted' }, limit.word));
    }
    if (passes === undefined) return;
    const x = this.#x(out, passes.added);
    const at = y(passes.at);
    const leftwards = x > (this.#left + this.#right) / 2;
    drawing.append(
      svg('circle', { cx: x, cy: at, r: 4.5, class: 'passes' }),
      svg('text', { x: leftwards ? x - 9 : x + 9, y: clamp(at - 7, top + 12, foot - 6), class: leftwards ? 'end onpaper name' : 'onpaper name' }, passes.word),
    );
  }

  #x(out: HeadStoryOut, added: number): number {
    const [first, last] = [out.added[0] ?? 0, out.added[out.added.length - 1] ?? 1];
    return this.#left + ((this.#right - this.#left) * (added - first)) / (last - first);
  }

  #ticks(out: HeadStoryOut, width: number): number[] {
    const [first, last] = [(out.added[0] ?? 0) * out.scale, (out.added[out.added.length - 1] ?? 0) * out.scale];
    const rough = (last - first) / clamp(Math.floor(width / 90), 3, 10);
    const decade = 10 ** Math.floor(Math.log10(rough));
    const step = decade * ([1, 2, 5, 10].find((part) => part * decade >= rough) ?? 10);
    const list: number[] = [];
    for (let at = Math.ceil(first / step); at * step <= last * (1 + 1e-12); at++) list.push(at * step);
    return list;
  }

  /** The line through all panels with its dots. */
  #cursor(): void {
    const [out, mark] = [this.#out, this.#mark];
    if (out === undefined || mark === undefined) return;
    const x = this.#x(out, out.added[this.#at] ?? 0);
    const dots = this.#panels.flatMap((panel, index) => {
      const value = panel.values[this.#at] ?? Number.NaN;
      if (!Number.isFinite(value)) return [];
      const top = this.#tops[index] ?? 0;
      return [svg('circle', { cx: x, cy: Math.max(top + PANEL - (PANEL * value * panel.scale) / highest(panel), top), r: 3.5, class: 'dot' })];
    });
    mark.replaceChildren(svg('line', { x1: x, x2: x, y1: this.#tops[0] ?? 0, y2: HEIGHT - MARGIN.bottom, class: 'cursor' }), ...dots);
  }

  // Hands.

  #look(index: number): void {
    const out = this.#out;
    if (out === undefined) return;
    this.#at = clamp(index, 0, out.added.length - 1);
    const w = (column: 0 | 1 | 2 | 3 | 4): string => this.#word(this.#at, column);
    const text = words.readout(w(0), w(1), w(2), w(3), out.loops?.[this.#at] ?? '', w(4));
    say(this.#readout, text);
    say(this.#put, this.#putWord(this.#at));
    this.#put.disabled = out.added[this.#at] === 0;
    const box = this.#box;
    box.setAttribute('aria-label', words.describe);
    box.setAttribute('aria-valuemin', '0');
    box.setAttribute('aria-valuemax', String(out.added.length - 1));
    box.setAttribute('aria-valuenow', String(this.#at));
    box.setAttribute('aria-valuetext', text);
    this.#cursor();
  }

  #nearest(clientX: number): number {
    const out = this.#out;
    if (out === undefined) return 0;
    const place = clientX - this.#box.getBoundingClientRect().left;
    const share = clamp((place - this.#left) / (this.#right - this.#left), 0, 1);
    return Math.round(share * (out.added.length - 1));
  }

  #listen(): void {
    const box = this.#box;
    box.addEventListener('pointermove', (event) => {
      if (event.pointerType === 'mouse') this.#look(this.#nearest(event.clientX));
    });
    box.addEventListener('pointerleave', () => {
      this.#look(this.#kept);
    });
    box.addEventListener('click', (event) => {
      const index = this.#nearest(event.clientX);
      this.#kept = index;
      this.#look(index);
      this.#become(index);
    });
    box.addEventListener('keydown', (event) => {
      const out = this.#out;
      if (out === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === 'Enter' || event.key === ' ') {
        event.preventDefault();
        event.stopPropagation();
        this.#become(this.#at);
        return;
      }
      const step = event.shiftKey ? LEAP : 1;
      const to = {
        ArrowLeft: this.#at - step,
        ArrowDown: this.#at - step,
        ArrowRight: this.#at + step,
        ArrowUp: this.#at + step,
        PageDown: this.#at - LEAP,
        PageUp: this.#at + LEAP,
        Home: 0,
        End: out.added.length - 1,
      }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      event.stopPropagation();
      this.#look(to);
      this.#kept = this.#at;
    });
  }

  /** Puts a point's mass on the head of the robot that the picture is of. */
  #become(index: number): void {
    const out = this.#out;
    const added = out?.added[index];
    if (out?.mass === undefined || added === undefined) return;
    const { actions } = this.context;
    const mass = out.mass + added;
    if (Math.abs((actions.value('head.mass')?.value ?? Number.NaN) - mass) < 1e-12) return;
    actions.revisions.history.close();
    actions.because = words.because(this.#word(index, 0));
    const answer = actions.setKnob('head.mass', mass);
    actions.because = '';
    actions.revisions.history.close();
    if (refused(answer)) actions.notice(words.refused(answer.problems[0]?.expected ?? ''));
    else actions.notice(words.set(actions.value('head.mass')?.text ?? ''));
  }
}

function panels(out: HeadStoryOut): readonly Panel[] {
  const { limits, passes, passesText, shown } = out;
  const passed = (added: number | undefined, text: string | undefined, at: number, word: (text: string) => string): Panel['passes'] =>
    added === undefined || added <= (out.added[0] ?? 0) ? undefined : { added, at, word: word(text ?? '') };
  const margin = limits.margin;
  return [
    {
      name: words.panels.dip(shown?.dip.unit ?? ''),
      values: out.dip,
      scale: shown?.dip.scale ?? 1,
      limit: { value: limits.dip, word: words.limit(limits.dipText), kind: 'limit' },
      passes: passed(passes.dip, passesText?.dip, limits.dip, words.passed),
    },
    {
      name: words.panels.settling(shown?.settling.unit ?? ''),
      values: out.settling,
      scale: shown?.settling.scale ?? 1,
      limit: { value: limits.settling, word: words.limit(limits.settlingText), kind: 'limit' },
      passes: passed(passes.settling, passesText?.settling, limits.settling, words.passed),
    },
    {
      name: words.panels.margin,
      values: out.margin,
      scale: 1,
      limit: margin === undefined ? undefined : { value: margin, word: words.usualMargin(short(margin)), kind: 'usual' },
      passes: passed(passes.margin, passesText?.margin, 0, words.edge),
    },
  ];
}

/** Top of a panel's scale: a round number above all that is drawn, the limit among it. */
function highest({ values, scale, limit }: Panel): number {
  let most = (limit?.value ?? 0) * scale * 1.15;
  for (const value of values) if (Number.isFinite(value)) most = Math.max(most, value * scale * 1.05);
  if (!(most > 0)) return 1;
  const decade = 10 ** Math.floor(Math.log10(most));
  return decade * ([1, 1.2, 1.6, 2, 2.4, 3, 4, 5, 6, 8, 10].find((part) => part * decade >= most) ?? 10);
}

/** Stretches of mass that fail, by first and last [kg]; the first edge as the core narrowed it down. */
function stretches(out: HeadStoryOut): (readonly [number, number])[] {
  const list: [number, number][] = [];
  const last = out.added.length - 1;
  let from: number | undefined;
  out.added.forEach((added, index) => {
    const fails = out.fails?.[index] === true;
    if (fails && from === undefined) from = index === 0 ? added : (added + (out.added[index - 1] ?? added)) / 2;
    if ((!fails || index === last) && from !== undefined) {
      list.push([from, fails ? added : (added + (out.added[index - 1] ?? added)) / 2]);
      from = undefined;
    }
  });
  const edge = out.passes.outcome;
  if (edge !== undefined) {
    const near = list.find(([a, b]) => edge <= b && Math.abs(a - edge) <= (out.added[1] ?? 0) - (out.added[0] ?? 0));
    if (near !== undefined) near[0] = edge;
  }
  return list;
}
