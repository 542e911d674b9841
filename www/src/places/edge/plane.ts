// Poles on the plane of growth and frequency, with the root track of one knob: a drawing with equal
// scales both ways, so that lines of equal damping ratio stand at their true angles. Only the upper
// half is drawn; what swings has its mirror image below.

import type { EdgeOut, PoleRow, TrackOut } from '../../core/lab.edge';
import { button, clamp, el, say, svg } from '../../dom';
import { edgeWords } from '../../words/edge';
import { fitted, through } from '../power/scales';

const words = edgeWords.poles;

const HEIGHT = 290;
const MARGIN = { left: 44, right: 10, top: 8, bottom: 34 };
/** Ranges of growth to the left that can be chosen [1/s]. */
const WIDTHS = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
/** How much of that there is to the right. */
const RIGHT = 0.3;
/** At first so many of the slowest motions are on the paper. */
const SHOWN = 4;
const RATIOS = [0.1, 0.2, 0.4, 0.7];
/** A pointer takes the nearest mark within this [px], and drags it from this on. */
const NEAR = 16;
const TAP = 4;
/** Slower than this it stands still, for the choice of a range [1/s]. */
const STILL = 1e-3;

interface Point {
  readonly x: number;
  readonly y: number;
}

export interface PlaneHands {
  /** A motion was pressed. */
  readonly pressed: (index: number) => void;
  /** The knob of the track is put to a value [SI]. */
  readonly turned: (key: string, value: number) => void;
}

/** 1, 2 or 5 of a decade, some five of them in `span`. */
function stride(span: number): number {
  const rough = span / 5;
  const decade = 10 ** Math.floor(Math.log10(rough));
  return decade * ([1, 2, 5].find((part) => part * decade >= rough) ?? 10);
}

export class PolePlane {
  readonly element: HTMLElement;
  readonly #box = el('div', { class: 'drawingbox' });
  readonly #grip = el('div', { class: 'grip', role: 'slider', tabindex: 0, hidden: true });
  readonly #key = el('p', { class: 'note' });
  readonly #redraw: () => void;
  #out: EdgeOut | undefined;
  #of = '';
  #width = WIDTHS.length - 1;
  #shown = -1;
  /** Where things lie on the drawing: poles, and the branches of the track. */
  #marks: (Point | undefined)[] = [];
  #branches: (Point | undefined)[][] = [];
  readonly #closer: HTMLButtonElement;
  readonly #wider: HTMLButtonElement;

  constructor(private readonly hands: PlaneHands) {
    this.#closer = button(words.closer, { class: 'link' }, () => {
      this.#zoom(-1);
    });
    this.#wider = button(words.wider, { class: 'link' }, () => {
      this.#zoom(1);
    });
    const stage = el('div', { class: 'stage' }, this.#box, this.#grip);
    this.element = el('figure', {}, stage, el('figcaption', {}, this.#key, el('span', { class: 'rowof' }, this.#closer, this.#wider)));
    this.#redraw = fitted(this.#box, (width) => (this.#out === undefined ? undefined : this.#draw(this.#out, width)));
    this.#listen(stage);
  }

  show(out: EdgeOut): void {
    const of = JSON.stringify([out.robot, out.view]);
    this.#out = out;
    // The paper's ranges stay while knobs move.
    if (of !== this.#of && out.poles.length > 0) {
      this.#of = of;
      this.#fit(out.poles);
    }
    this.#redraw();
    this.#tell(out);
  }

  /** Which motion is shown on the board; −1 none. */
  mark(index: number): void {
    if (index === this.#shown) return;
    this.#shown = index;
    this.#redraw();
  }

  #fit(poles: readonly PoleRow[]): void {
    const need = poles
      .map(({ growth, frequency }) => Math.max(-growth, growth / RIGHT, frequency * 2 * Math.PI * 1.5))
      .filter((size) => size > STILL)
      .sort((a, b) => a - b);
    const most = 1.15 * (need[Math.min(SHOWN, need.length) - 1] ?? 5);
    const at = WIDTHS.findIndex((width) => width >= most);
    this.#width = at < 0 ? WIDTHS.length - 1 : at;
  }

  #zoom(step: number): void {
    this.#width = clamp(this.#width + step, 0, WIDTHS.length - 1);
    this.#redraw();
    if (this.#out !== undefined) this.#tell(this.#out);
  }

  #tell(out: EdgeOut): void {
    this.#closer.disabled = this.#width === 0;
    this.#wider.disabled = this.#width === WIDTHS.length - 1;
    const beyond = this.#marks.filter((mark) => mark === undefined).length;
    const { track } = out;
    const parts = [
      ...(track === undefined ? [] : [words.trackKey(...track.texts)]),
      ...(beyond > 0 ? [words.beyond(beyond)] : []),
    ];
    say(this.#key, parts.join(' · '));
  }

  #draw(out: EdgeOut, width: number): SVGElement {
    const [left, right, top, bottom] = [MARGIN.left, width - MARGIN.right, MARGIN.top, HEIGHT - MARGIN.bottom];
    const reach = WIDTHS[this.#width] ?? 1;
    // Growth and 2π·frequency by the same scale.
    const scale = (right - left) / (reach * (1 + RIGHT));
    const zero = left + reach * scale;
    const at = (growth: number, hertz: number): Point => ({ x: zero + growth * scale, y: bottom - 2 * Math.PI * hertz * scale });
    const inside = ({ x, y }: Point): boolean => x >= left && x <= right && y >= top && y <= bottom + 0.5;
    const most = (bottom - top) / scale / (2 * Math.PI);
    const drawing = svg('svg', { width, height: HEIGHT, viewBox: `0 0 ${width} ${HEIGHT}`, role: 'img', 'aria-label': this.#describe(out) });
    drawing.append(
      svg(
        'defs',
        {},
        svg(
          'pattern',
          { id: 'edge-hatch', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(25)' },
          svg('line', { x1: 0, y1: 0, x2: 0, y2: 7, class: 'hatch' }),
        ),
        svg('clipPath', { id: 'edge-clip' }, svg('rect', { x: left, y: top, width: right - left, height: bottom - top + 1 })),
      ),
      svg('rect', { x: zero, y: top, width: right - zero, height: bottom - top, class: 'unsteady' }),
    );
    this.#grid(drawing, { left, right, top, bottom, zero, scale, reach, most });
    const clipped = svg('g', { 'clip-path': 'url(#edge-clip)' });
    drawing.append(clipped);
    this.#branches = out.track === undefined ? [] : this.#track(clipped, out.track, out.step, at, inside);
    this.#marks = out.poles.map(({ growth, frequency }) => {
      const point = at(growth, frequency);
      return inside(point) ? point : undefined;
    });
    for (const [index, mark] of this.#marks.entries()) {
      if (mark === undefined) continue;
      const { x, y } = mark;
      if (index === this.#shown) drawing.append(svg('circle', { cx: x, cy: y, r: 10, class: 'lit' }));
      const grows = (out.poles[index]?.growth ?? 0) >= 0;
      drawing.append(
        svg('path', { d: `M${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x + 5} ${y - 5}L${x - 5} ${y + 5}`, class: grows ? 'pole grows' : 'pole' }),
        svg('text', { x: x + 8, y: y < top + 16 ? y + 14 : y - 6, class: 'polename' }, String(index + 1)),
      );
    }
    this.#placeGrip(out.track);
    return drawing;
  }

  #grid(
    drawing: SVGElement,
    { left, right, top, bottom, zero, scale, reach, most }: Record<'left' | 'right' | 'top' | 'bottom' | 'zero' | 'scale' | 'reach' | 'most', number>,
  ): void {
    const across = stride(reach * (1 + RIGHT));
    for (let value = -Math.floor(reach / across) * across; value <= reach * RIGHT; value += across) {
      const x = zero + value * scale;
      drawing.append(
        svg('line', { x1: x, x2: x, y1: top, y2: bottom, class: 'grid' }),
        svg('text', { x, y: bottom + 14, class: 'tick middle' }, String(Number(value.toPrecision(6))).replace('-', '−')),
      );
    }
    const up = stride(most);
    for (let value = 0; value <= most; value += up) {
      const y = bottom - 2 * Math.PI * value * scale;
      drawing.append(
        svg('line', { x1: left, x2: right, y1: y, y2: y, class: 'grid' }),
        svg('text', { x: left - 5, y: y + 4, class: 'tick end' }, String(Number(value.toPrecision(6)))),
      );
    }
    for (const [index, ratio] of RATIOS.entries()) {
      const [dx, dy] = [-ratio, Math.sqrt(1 - ratio * ratio)];
      const way = Math.min((zero - left) / ratio, (bottom - top) / dy);
      const [x, y] = [zero + dx * way, bottom - dy * way];
      // Steep lines stand close together: every other word hangs lower.
      const near = (index % 2 === 0 ? 0.82 : 0.93) * way;
      drawing.append(
        svg('line', { x1: zero, y1: bottom, x2: x, y2: y, class: 'ratio' }),
        svg('text', { x: zero + dx * near, y: bottom - dy * near + 4, class: 'rationame middle' }, words.equal(ratio)),
      );
    }
    const middle = (top + bottom) / 2;
    drawing.append(
      svg('rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'frame' }),
      svg('line', { x1: zero, x2: zero, y1: top, y2: bottom, class: 'border' }),
      svg('text', { x: left + 7, y: top + 15, class: 'side' }, words.dies),
      svg('text', { x: right - 7, y: top + 15, class: 'side end' }, words.grows),
      svg('text', { x: right, y: bottom + 29, class: 'tick end' }, words.growth),
      svg('text', { x: 11, y: middle, class: 'tick middle', transform: `rotate(-90 11 ${middle})` }, words.frequency),
    );
  }

  /** Branches of the track: s = ln z/h of every point. */
  #track(
    drawing: SVGElement,
    track: TrackOut,
    step: number,
    at: (growth: number, hertz: number) => Point,
    inside: (point: Point) => boolean,
  ): (Point | undefined)[][] {
    return track.branches.map((branch) => {
      const points: (Point | undefined)[] = [];
      for (let i = 0; i + 1 < branch.length; i += 2) {
        const [re, im] = [branch[i] ?? NaN, branch[i + 1] ?? NaN];
        const size = Math.hypot(re, im);
        points.push(size > 0 ? at(Math.log(size) / step, Math.abs(Math.atan2(im, re)) / (2 * Math.PI * step)) : undefined);
      }
      let run: [number, number][] = [];
      const end = (): void => {
        if (run.length > 1) drawing.append(svg('path', { d: through(run), class: 'track' }));
        run = [];
      };
      for (const point of points) {
        if (point === undefined) end();
        else run.push([point.x, point.y]);
      }
      end();
      const first = points.find((point) => point !== undefined);
      const last = points.findLast((point) => point !== undefined);
      if (first !== undefined && inside(first)) drawing.append(svg('rect', { x: first.x - 3.5, y: first.y - 3.5, width: 7, height: 7, class: 'start' }));
      if (last !== undefined && inside(last)) {
        drawing.append(svg('path', { d: `M${last.x} ${last.y - 5}l5 8.5h-10z`, class: 'finish' }));
      }
      return points.map((point) => (point !== undefined && inside(point) ? point : undefined));
    });
  }

  #describe(out: EdgeOut): string {
    const poles = out.poles.slice(0, 8).map(({ growth, frequency }, index) => `${index + 1}: ${words.point(growth, frequency)}`);
    return words.describe(`${poles.join('; ')}.`, out.track?.label ?? '');
  }

  // Hands.

  /** The branch that moves farthest on the paper carries the knob's grip. */
  #placeGrip(track: TrackOut | undefined): void {
    let best: { readonly point: Point; readonly way: number } | undefined;
    if (track !== undefined) {
      for (const branch of this.#branches) {
        const point = branch[track.now];
        if (point === undefined) continue;
        let way = 0;
        for (let i = 1; i < branch.length; i++) {
          const [a, b] = [branch[i - 1], branch[i]];
          if (a !== undefined && b !== undefined) way += Math.hypot(b.x - a.x, b.y - a.y);
        }
        if (best === undefined || way > best.way) best = { point, way };
      }
    }
    const grip = this.#grip;
    grip.hidden = best === undefined || track === undefined;
    if (best === undefined || track === undefined) return;
    grip.style.transform = `translate(${best.point.x.toFixed(1)}px, ${best.point.y.toFixed(1)}px)`;
    grip.setAttribute('aria-label', words.grip(track.label));
    grip.setAttribute('aria-valuemin', '0');
    grip.setAttribute('aria-valuemax', String(track.values.length - 1));
    grip.setAttribute('aria-valuenow', String(track.now));
  }

  /** What the grip says: the knob as it stands. */
  say(text: string): void {
    this.#grip.setAttribute('aria-valuetext', text);
  }

  #listen(stage: HTMLElement): void {
    let drag: { readonly id: number; readonly x: number; readonly y: number; readonly pole: number; moved: boolean } | undefined;
    const local = (event: PointerEvent): Point => {
      const box = this.#box.getBoundingClientRect();
      return { x: event.clientX - box.left, y: event.clientY - box.top };
    };
    const nearest = (to: Point): number => {
      let [found, least] = [-1, NEAR];
      for (const [index, mark] of this.#marks.entries()) {
        const way = mark === undefined ? Infinity : Math.hypot(mark.x - to.x, mark.y - to.y);
        if (way < least) [found, least] = [index, way];
      }
      return found;
    };
    stage.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      const from = local(event);
      const pole = nearest(from);
      const grip = event.target === this.#grip;
      if (pole < 0 && !grip) return;
      drag = { id: event.pointerId, ...from, pole, moved: false };
      stage.setPointerCapture(event.pointerId);
      if (grip) this.#grip.focus({ preventScroll: true });
    });
    stage.addEventListener('pointermove', (event) => {
      if (drag?.id !== event.pointerId) {
        stage.classList.toggle('over', nearest(local(event)) >= 0);
        return;
      }
      const to = local(event);
      if (!drag.moved && Math.hypot(to.x - drag.x, to.y - drag.y) < TAP) return;
      drag.moved = true;
      this.#along(to);
    });
    stage.addEventListener('pointerup', (event) => {
      if (drag?.id !== event.pointerId) return;
      if (!drag.moved && drag.pole >= 0) this.hands.pressed(drag.pole);
      drag = undefined;
    });
    stage.addEventListener('pointercancel', () => {
      drag = undefined;
    });
    this.#grip.addEventListener('keydown', (event) => {
      const track = this.#out?.track;
      if (track === undefined) return;
      const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
      const last = track.values.length - 1;
      if (step !== undefined) this.#turn(clamp(track.now + step, 0, last));
      else if (event.key === 'Home') this.#turn(0);
      else if (event.key === 'End') this.#turn(last);
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
  }

  /** The knob goes where its track comes nearest to the pointer. */
  #along(to: Point): void {
    let [found, least] = [-1, Infinity];
    for (const branch of this.#branches) {
      for (const [index, point] of branch.entries()) {
        const way = point === undefined ? Infinity : Math.hypot(point.x - to.x, point.y - to.y);
        if (way < least) [found, least] = [index, way];
      }
    }
    if (found >= 0) this.#turn(found);
  }

  #turn(index: number): void {
    const track = this.#out?.track;
    const value = track?.values[index];
    if (track !== undefined && value !== undefined) this.hands.turned(track.key, value);
  }
}
