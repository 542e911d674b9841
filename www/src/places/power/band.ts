// The fuse's time-current band as a drawing: two curves, the hatched band between them, this run's
// mark in it. Told apart by line, hatch and word; colour adds nothing.

import type { BandMark, FuseBand } from '../../core/lab.power';
import { el, svg } from '../../dom';
import { asTable } from '../../parts/astable';
import { powerWords } from '../../words/power';
import { three } from '../../words/numbers';
import { fitted, LogScale, short, through } from './scales';

const words = powerWords.band;

const HEIGHT = 300;
const MARGIN = { left: 46, right: 12, top: 10, bottom: 36 };
/** Ends of the scale of time [s]. */
const TIME = [0.01, 10_000] as const;
/** Ends of the scale of current, as multiples of the rating. */
const CURRENT = [0.3, 10] as const;

/** Whether a mark lies beyond the paper. */
const beyond = ({ rating }: FuseBand, { current, time }: BandMark): boolean =>
  current < CURRENT[0] * rating || current > CURRENT[1] * rating || time < TIME[0] || time > TIME[1];

/** Time [s] of a curve at a current [A], on the straight line between its points on these scales; none before it begins. */
function timeAt(points: FuseBand['quick'], current: number): number | undefined {
  const after = points.findIndex(([a]) => a >= current);
  const [a1, s1] = points[after] ?? [NaN, NaN];
  const [a0, s0] = points[after - 1] ?? [NaN, NaN];
  if (a1 === current) return s1;
  const time = s0 * (s1 / s0) ** (Math.log(current / a0) / Math.log(a1 / a0));
  return Number.isFinite(time) ? time : undefined;
}

/** The band at every current where one of its curves has a point. */
function rowsOf({ quick, slow }: FuseBand): readonly (readonly string[])[] {
  const currents = [...new Set([...quick, ...slow].map(([a]) => a))].sort((a, b) => a - b);
  return currents.map((current) => [current, timeAt(quick, current), timeAt(slow, current)].map((value) => (value === undefined ? '–' : three(value))));
}

export class Band {
  readonly element: HTMLElement;
  readonly #box = el('div', { class: 'drawingbox' });
  readonly #notes = el('ul', { class: 'marks' });
  readonly #redraw: () => void;
  #band: FuseBand | undefined;
  #verdict = '';
  readonly #table = asTable(
    () => words.title,
    [words.current, words.quickAt, words.slowAt],
    () => (this.#band === undefined ? [] : rowsOf(this.#band)),
  );

  constructor() {
    this.#redraw = fitted(this.#box, (width) => (this.#band === undefined ? undefined : this.#draw(this.#band, width)));
    this.element = el('figure', {}, this.#box, el('figcaption', {}, this.#notes, this.#table.element));
  }

  show(band: FuseBand, verdict: string): void {
    this.#band = band;
    this.#verdict = verdict;
    this.#redraw();
    const { mark, rms, effective, rating } = band;
    const notes = [
      mark === undefined ? words.none : words.cross(mark.text),
      words.ring(rms.text),
      ...([mark, rms].some((one) => one !== undefined && beyond(band, one)) ? [words.outside] : []),
      ...(Math.abs(effective / rating - 1) > 0.005 ? [words.warm(band.ratingText, `${short(effective)} A`)] : []),
      words.source(band.source),
    ];
    this.#table.renew();
    this.#notes.replaceChildren(...notes.map((text) => el('li', {}, text)));
  }

  #draw(band: FuseBand, width: number): SVGElement {
    const [left, right] = [MARGIN.left, width - MARGIN.right];
    const [top, bottom] = [MARGIN.top, HEIGHT - MARGIN.bottom];
    const x = new LogScale(CURRENT[0] * band.rating, CURRENT[1] * band.rating, left, right);
    const y = new LogScale(TIME[0], TIME[1], bottom, top);
    const placed = (points: FuseBand['quick']): [number, number][] => points.map(([a, s]) => [x.at(a), y.at(s)]);
    const quick = placed(band.quick);
    const slow = placed(band.slow);
    const label = words.describe(band.ratingText, band.mark?.text ?? '', band.rms.text, this.#verdict);
    const drawing = svg('svg', { class: 'band', width, height: HEIGHT, viewBox: `0 0 ${width} ${HEIGHT}`, role: 'img', 'aria-label': label });
    drawing.append(
      svg(
        'defs',
        {},
        svg(
          'pattern',
          { id: 'power-band-hatch', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
          svg('line', { x1: 0, y1: 0, x2: 0, y2: 7, class: 'hatch' }),
        ),
        svg('clipPath', { id: 'power-band-clip' }, svg('rect', { x: left, y: top, width: right - left, height: bottom - top })),
      ),
    );
    this.#grid(drawing, x, y);
    const clipped = svg('g', { 'clip-path': 'url(#power-band-clip)' });
    // From where the slow curve begins no fuse need ever open: the band goes on upwards.
    const open = slow[0];
    const outline = [...quick, ...slow.toReversed(), ...(open === undefined ? [] : [[open[0], top - 20] as [number, number]])];
    clipped.append(
      svg('path', { d: `${through(outline)}Z`, class: 'between' }),
      svg('path', { d: through(quick), class: 'quick' }),
      svg('path', { d: through(open === undefined ? slow : [[open[0], top - 20], ...slow]), class: 'slow' }),
      svg('line', { x1: x.at(band.rating), x2: x.at(band.rating), y1: top, y2: bottom, class: 'rating' }),
    );
    drawing.append(clipped);
    this.#words(drawing, band, x, y);
    this.#marks(drawing, band, x, y);
    return drawing;
  }

  #grid(drawing: SVGElement, x: LogScale, y: LogScale): void {
    const [left, right, top, bottom] = [x.from, x.to, y.to, y.from];
    const wide = right - left > 420;
    for (const value of x.ticks(wide ? [1, 2, 5] : [1, 3])) {
      const at = x.at(value);
      drawing.append(
        svg('line', { x1: at, x2: at, y1: top, y2: bottom, class: 'grid' }),
        svg('text', { x: at, y: bottom + 14, class: 'tick middle' }, short(value)),
      );
    }
    for (const value of y.ticks([1])) {
      const at = y.at(value);
      drawing.append(
        svg('line', { x1: left, x2: right, y1: at, y2: at, class: 'grid' }),
        svg('text', { x: left - 5, y: at + 4, class: 'tick end' }, short(value)),
      );
    }
    drawing.append(
      svg('rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'frame' }),
      svg('text', { x: right, y: bottom + 30, class: 'tick end' }, words.current),
      svg('text', { x: 11, y: (top + bottom) / 2, class: 'tick middle', transform: `rotate(-90 11 ${(top + bottom) / 2})` }, words.time),
    );
  }

  /** The words on the curves and of what lies between them. */
  #words(drawing: SVGElement, band: FuseBand, x: LogScale, y: LogScale): void {
    // From twice the rating on the curves are not steep, and words can stand on them.
    const along = (points: FuseBand['quick'], id: string, lift: number): SVGElement => {
      const from = points.filter(([a]) => a >= 1.9 * band.effective && x.holds(a));
      return svg('path', { id, d: through(from.map(([a, s]) => [x.at(a), y.at(s) + lift])), class: 'guide' });
    };
    const on = (id: string, text: string, offset: string, anchor: string): SVGElement =>
      svg('text', { class: `oncurve ${anchor}` }, svg('textPath', { href: `#${id}`, startOffset: offset }, text));
    drawing.append(
      along(band.quick, 'power-band-quick', 13),
      along(band.slow, 'power-band-slow', -5),
      on('power-band-quick', words.quick, '3%', 'start'),
      on('power-band-slow', words.slow, '98%', 'end'),
    );
    const e = band.effective;
    const zone = (text: string, current: number, time: number, anchor: string): SVGElement =>
      svg('text', { x: x.within(current), y: y.within(time), class: `zone ${anchor}` }, text);
    drawing.append(
      zone(words.bears, 0.55 * e, 0.1, 'middle'),
      zone(words.may, 1.75 * e, 1.3, 'middle'),
      zone(words.opens, 4.5 * e, 100, 'middle'),
    );
    const at = x.at(band.rating) - 5;
    drawing.append(svg('text', { x: at, y: y.to + 14, class: 'onrating end' }, words.rating(band.ratingText)));
  }

  #marks(drawing: SVGElement, band: FuseBand, x: LogScale, y: LogScale): void {
    const right = (x.from + x.to) / 2;
    const beside = (at: number, text: string, height: number): SVGElement =>
      at > right + 60
        ? svg('text', { x: at - 10, y: height, class: 'markword end' }, text)
        : svg('text', { x: at + 10, y: height, class: 'markword start' }, text);
    const ring = [x.within(band.rms.current), y.within(band.rms.time)] as const;
    drawing.append(svg('circle', { cx: ring[0], cy: ring[1], r: 5, class: 'ring' }), beside(ring[0], words.rms, ring[1] + 4));
    if (band.mark === undefined) return;
    const [a, s] = [x.within(band.mark.current), y.within(band.mark.time)];
    // Where both lie close together, the words part.
    const near = Math.abs(a - ring[0]) < 80 && Math.abs(s - ring[1]) < 14;
    drawing.append(
      svg('path', { d: `M${a - 6} ${s - 6}L${a + 6} ${s + 6}M${a + 6} ${s - 6}L${a - 6} ${s + 6}`, class: 'cross' }),
      beside(a, words.mark, near ? s + (s > ring[1] ? 16 : -9) : s + 4),
    );
  }
}
