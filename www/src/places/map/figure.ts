// A map as it is seen, touched, heard and used by keys. It draws what its model knows when the
// screen asks for a frame, and only what has changed; what it is of and what a press does is its
// owner's.

import type { AxisOut } from '../../core/lab.map';
import { el, say } from '../../dom';
import { mapWords as words } from '../../words/map';
import { drawBase, isOutcome, placeOf, Raster, scaleOf, spotAt, type Drawn, type Spot } from './draw';
import { makeProbe, readInks, type Inks } from './ink';
import { Key } from './key';
import { layOut, type MapLayout } from './layout';
import { drawCross, drawCursor } from './marks';
import { cellOf, SETTLED, titleOf, valueOf, type MapModel } from './model';
import { drawProfile } from './profile';
import { amount } from './scale';

/** A press longer than this plays [ms]. */
const HOLD = 380;
/** A finger that moves farther is not holding still [px]. */
const STILL = 8;
/** Least time between two drawings of a map that is still being run [ms]. */
const PERIOD = 50;
/** Rest of the pointer or the keys before a cell is told to those who do not see it [ms]. */
const TELL_REST = 250;

export interface FigureHands {
  /** The robot's own knobs [SI]; nothing if the board's robot has no such knobs. */
  readonly robot: (x: string, y: string) => readonly [number, number] | undefined;
  /** The robot is to become this cell. */
  readonly become: (spot: Spot) => void;
  /** This cell is to be played, until `still`; it lies at this height of the window [px]. Told is what plays. */
  readonly play: (spot: Spot, height: number, told: (text: string) => void) => void;
  readonly still: () => void;
  /** Tells those who do not see it. */
  readonly tell: (text: string) => void;
}

/** Value on an axis in the unit shown, with the axis' name. */
export const onAxis = (axis: AxisOut, value: number): string => `${axis.label} ${amount(value * axis.scale, axis.unit === '1' ? '' : axis.unit)}`;

export class MapFigure {
  readonly element: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  readonly #readout = el('p', { class: 'readout' });
  readonly #summary = el('p', { class: 'note' });
  readonly #key = new Key();
  readonly #probe = makeProbe();
  readonly #raster = new Raster();
  readonly #base = document.createElement('canvas');
  #inks: Inks | undefined;
  #model: MapModel | undefined;
  #limit: number | undefined;
  #drawn: Drawn = { limit: undefined, scale: [0, 1] };
  #layout: MapLayout | undefined;
  #width = 0;
  #most = 440;
  #cursor: Spot | undefined;
  #asked = false;
  #baseStale = true;
  #basedAt = -Infinity;
  #playing = false;
  #telling: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly hands: FigureHands,
    id: string,
  ) {
    const describedBy = `${id}-summary`;
    this.#summary.id = describedBy;
    this.canvas = el('canvas', {
      class: 'mapcanvas',
      tabindex: 0,
      role: 'application',
      'aria-roledescription': words.role,
      'aria-describedby': `${describedBy} ${id}-keys`,
    });
    const box = el('div', { class: 'mapbox' }, this.canvas, this.#probe);
    this.element = el(
      'figure',
      { class: 'mapfigure' },
      this.#readout,
      box,
      el('figcaption', {}, this.#key.element, this.#summary, el('p', { class: 'note keys', id: `${id}-keys` }, words.keys)),
    );
    new ResizeObserver(([entry]) => {
      const width = Math.floor(entry?.contentRect.width ?? 0);
      if (width < 160 || width === this.#width) return;
      this.#width = width;
      this.#fit();
    }).observe(box);
    this.#listen();
  }

  get model(): MapModel | undefined {
    return this.#model;
  }

  get drawn(): Drawn {
    return this.#drawn;
  }

  get inks(): Inks {
    this.#inks ??= readInks(this.#probe);
    return this.#inks;
  }

  get cursor(): Spot | undefined {
    return this.#cursor;
  }

  /** Another map. */
  show(model: MapModel): void {
    const old = this.#model;
    this.#model = model;
    // The cursor stays where it means the same.
    if (old === undefined || old.nx !== model.nx || old.ny !== model.ny) this.#cursor = undefined;
    this.canvas.setAttribute('aria-label', words.canvas(titleOf(model.plan)));
    // Outcomes alone have no profiles.
    if (old === undefined || isOutcome(old) !== isOutcome(model)) this.#fit();
    this.update();
  }

  limit(limit: number | undefined): void {
    if (limit === this.#limit) return;
    this.#limit = limit;
    this.update();
  }

  /** Greatest height of the cells [px]. */
  room(most: number): void {
    if (Math.abs(most - this.#most) < 12) return;
    this.#most = most;
    this.#fit();
  }

  /** The model knows more, or is drawn otherwise. */
  update(): void {
    this.#baseStale = true;
    this.touch();
  }

  /** The robot's knobs have moved. */
  touch(): void {
    if (this.#asked) return;
    this.#asked = true;
    requestAnimationFrame((now) => {
      this.#asked = false;
      this.#draw(now);
    });
  }

  /** Takes the colours of day or night. */
  forgetInks(): void {
    this.#inks = undefined;
    this.update();
  }

  /** Where the robot stands [cells]. */
  robotSpot(): Spot | undefined {
    const model = this.#model;
    if (model === undefined) return undefined;
    const { x, y } = model.plan;
    const at = this.hands.robot(x.key, y.key);
    return at === undefined ? undefined : { x: cellOf(x, at[0]), y: cellOf(y, at[1]) };
  }

  /** A cell in words. */
  words(spot: Spot): string {
    const model = this.#model;
    if (model === undefined) return '';
    const { x, y } = model.plan;
    return words.cell(onAxis(x, valueOf(x, spot.x)), onAxis(y, valueOf(y, spot.y)), this.found(spot));
  }

  /** What a cell gave, in words. */
  found(spot: Spot): string {
    const model = this.#model;
    const cell = model?.cell(Math.round(spot.x), Math.round(spot.y));
    if (model === undefined || cell === undefined) return words.notRun;
    const { measure, classes, runs } = model.plan;
    const outcome = classes[cell.class]?.label ?? '';
    const value = isOutcome(model) ? '' : Number.isFinite(cell.value) ? amount(cell.value * measure.scale, measure.unit) : '';
    return `${runs > 1 ? words.worst : ''}${words.found(measure.label, value, outcome)}`;
  }

  /** Share of the cells run that settled. */
  settled(): string {
    const model = this.#model;
    if (model === undefined || model.known === 0) return '';
    return `${Math.round((100 * (model.counts()[SETTLED] ?? 0)) / model.known)} %`;
  }

  #inside(spot: Spot | undefined): spot is Spot {
    const model = this.#model;
    return model !== undefined && spot !== undefined && spot.x >= -0.5 && spot.y >= -0.5 && spot.x <= model.nx - 0.5 && spot.y <= model.ny - 0.5;
  }

  #fit(): void {
    if (this.#width === 0) return;
    const layout = layOut(this.#width, this.#most, this.#model === undefined || !isOutcome(this.#model));
    this.#layout = layout;
    const sharp = devicePixelRatio;
    for (const canvas of [this.canvas, this.#base]) {
      canvas.width = Math.round(layout.width * sharp);
      canvas.height = Math.round(layout.height * sharp);
    }
    this.canvas.style.height = `${layout.height}px`;
    this.update();
  }

  #draw(now: number): void {
    const [model, layout] = [this.#model, this.#layout];
    const pen = this.canvas.getContext('2d');
    if (model === undefined || layout === undefined || pen === null || !this.canvas.isConnected) return;
    const { inks } = this;
    const sharp = this.canvas.width / layout.width;
    if (Math.abs(sharp - devicePixelRatio) > 0.02) {
      this.#inks = undefined;
      this.#fit();
      return;
    }
    const begun = performance.now();
    if (this.#baseStale) {
      if (!model.whole && now - this.#basedAt < PERIOD) {
        this.touch();
        return;
      }
      this.#basedAt = now;
      this.#baseStale = false;
      const old = this.#drawn;
      this.#drawn = { limit: isOutcome(model) ? undefined : this.#limit, scale: scaleOf(model) };
      const paper = this.#base.getContext('2d');
      if (paper !== null) {
        paper.setTransform(sharp, 0, 0, sharp, 0, 0);
        paper.clearRect(0, 0, layout.width, layout.height);
        drawBase(paper, model, layout, inks, this.#raster, this.#drawn);
      }
      this.#key.show(model, inks, this.#drawn, this.#drawn.scale[1] !== old.scale[1] || this.#drawn.scale[0] !== old.scale[0] || this.#keyInks !== inks);
      this.#keyInks = inks;
    }
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, this.canvas.width, this.canvas.height);
    pen.drawImage(this.#base, 0, 0);
    pen.setTransform(sharp, 0, 0, sharp, 0, 0);
    const robot = this.robotSpot();
    const through = this.#through(robot);
    if (!isOutcome(model)) {
      const { x, y } = model.plan;
      drawProfile(pen, model, layout, 'x', through, inks, this.#drawn, words.profileX(onAxis(y, valueOf(y, through.y))));
      drawProfile(pen, model, layout, 'y', through, inks, this.#drawn, words.profileY(onAxis(x, valueOf(x, through.x))));
    }
    if (robot !== undefined) drawCross(pen, model, layout.map, inks, robot);
    if (this.#cursor !== undefined) drawCursor(pen, model, layout.map, inks, this.#cursor);
    this.#tell(robot);
    this.spent.push(performance.now() - begun);
    if (this.spent.length > 600) this.spent.splice(0, 300);
  }
  #keyInks: Inks | undefined;
  /** Times of drawing [ms], for measurement. */
  readonly spent: number[] = [];

  /** What the profiles run through: the robot, or the nearest the map has. */
  #through(robot: Spot | undefined): Spot {
    const model = this.#model;
    if (model === undefined) return { x: 0, y: 0 };
    return robot ?? { x: (model.nx - 1) / 2, y: (model.ny - 1) / 2 };
  }

  #tell(robot: Spot | undefined): void {
    const model = this.#model;
    if (model === undefined) return;
    if (!this.#playing) {
      const looked = this.#cursor ?? (this.#inside(robot) ? { x: Math.round(robot.x), y: Math.round(robot.y) } : undefined);
      say(this.#readout, looked === undefined ? words.outside : this.words(looked));
    }
    const { x, y, measure } = model.plan;
    const parts = [words.summary(model.nx, model.ny, model.plan.runs * model.known)];
    if (model.whole) {
      parts.push(words.share(this.settled()));
      const best = isOutcome(model) ? undefined : model.leastSettled();
      if (best !== undefined) {
        parts.push(words.least(measure.label, amount(best.value * measure.scale, measure.unit), onAxis(x, valueOf(x, best.x)), onAxis(y, valueOf(y, best.y))));
      }
      parts.push(this.#inside(robot) ? words.stands(this.words({ x: Math.round(robot.x), y: Math.round(robot.y) })) : words.outside);
    }
    say(this.#summary, parts.join(' '));
  }

  /** What plays now, in the readout; nothing gives it back to the cell. */
  #says(text: string | undefined): void {
    this.#playing = text !== undefined;
    if (text !== undefined) say(this.#readout, text);
    this.element.classList.toggle('playing', this.#playing);
    this.touch();
  }

  // Hands.

  #spot(event: PointerEvent, beyond = false): Spot | undefined {
    const [model, layout] = [this.#model, this.#layout];
    if (model === undefined || layout === undefined) return undefined;
    const box = this.canvas.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const { map } = layout;
    if (!beyond && (x < map.x || y < map.y || x > map.x + map.width || y > map.y + map.height)) return undefined;
    return spotAt(map, model, x, y);
  }

  #listen(): void {
    const { canvas } = this;
    let held: { readonly id: number; x: number; y: number; timer: ReturnType<typeof setTimeout>; plays: boolean; spot: Spot } | undefined;
    const play = (): void => {
      if (held === undefined) return;
      held.plays = true;
      this.#play(held.spot);
    };
    const end = (): void => {
      if (held === undefined) return;
      clearTimeout(held.timer);
      if (held.plays) this.#still();
      held = undefined;
    };
    canvas.addEventListener('pointerdown', (event) => {
      if (event.button !== 0 || held !== undefined) return;
      const spot = this.#spot(event);
      if (spot === undefined) return;
      canvas.setPointerCapture(event.pointerId);
      this.#cursor = spot;
      this.touch();
      held = { id: event.pointerId, x: event.clientX, y: event.clientY, timer: setTimeout(play, HOLD), plays: false, spot };
    });
    canvas.addEventListener('pointermove', (event) => {
      if (held?.id === event.pointerId) {
        const spot = this.#spot(event, true) ?? held.spot;
        const moved = Math.hypot(event.clientX - held.x, event.clientY - held.y) > STILL;
        if (!moved || (spot.x === held.spot.x && spot.y === held.spot.y)) return;
        // Another cell: it is played once the hand rests there.
        Object.assign(held, { x: event.clientX, y: event.clientY, spot });
        this.#cursor = spot;
        this.touch();
        clearTimeout(held.timer);
        held.timer = setTimeout(play, HOLD);
        return;
      }
      if (event.pointerType === 'touch') return;
      const spot = this.#spot(event);
      if (spot?.x === this.#cursor?.x && spot?.y === this.#cursor?.y) return;
      this.#cursor = spot;
      this.touch();
    });
    canvas.addEventListener('pointerup', (event) => {
      if (held?.id !== event.pointerId) return;
      const { plays, spot } = held;
      end();
      if (!plays) this.hands.become(spot);
    });
    canvas.addEventListener('pointercancel', (event) => {
      if (held?.id === event.pointerId) end();
    });
    canvas.addEventListener('lostpointercapture', end);
    canvas.addEventListener('pointerleave', (event) => {
      if (held !== undefined || event.pointerType === 'touch' || document.activeElement === canvas) return;
      this.#cursor = undefined;
      this.touch();
    });
    // A long press is held here, it opens no menu; while a cell plays the page does not scroll.
    canvas.addEventListener('contextmenu', (event) => {
      if (held !== undefined || (event as PointerEvent).pointerType === 'touch') event.preventDefault();
    });
    canvas.addEventListener(
      'touchmove',
      (event) => {
        if (held?.plays === true && event.cancelable) event.preventDefault();
      },
      { passive: false },
    );
    canvas.addEventListener('keydown', (event) => {
      this.#keyed(event);
    });
    canvas.addEventListener('keyup', (event) => {
      if (event.key.toLowerCase() === 'p') this.#letGo();
    });
    canvas.addEventListener('blur', () => {
      this.#letGo();
      this.#cursor = undefined;
      this.touch();
    });
    window.addEventListener('blur', () => {
      end();
      this.#letGo();
    });
  }
  #byKey = false;

  #letGo(): void {
    if (!this.#byKey) return;
    this.#byKey = false;
    this.#still();
  }

  #keyed(event: KeyboardEvent): void {
    const model = this.#model;
    if (model === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    const robot = this.#through(this.robotSpot());
    const within = (value: number, count: number): number => Math.min(Math.max(Math.round(value), 0), count - 1);
    const from = this.#cursor ?? { x: within(robot.x, model.nx), y: within(robot.y, model.ny) };
    const leap = event.shiftKey ? 8 : 1;
    const ways: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-leap, 0],
      ArrowRight: [leap, 0],
      ArrowUp: [0, leap],
      ArrowDown: [0, -leap],
      PageUp: [0, 8],
      PageDown: [0, -8],
      Home: [-model.nx, 0],
      End: [model.nx, 0],
    };
    const way = ways[event.key];
    if (way !== undefined) {
      this.#cursor = { x: within(from.x + way[0], model.nx), y: within(from.y + way[1], model.ny) };
      this.touch();
      this.#tellSoon();
    } else if (event.key === 'Enter' || event.key === ' ') {
      if (!event.repeat) this.hands.become(from);
    } else if (event.key.toLowerCase() === 'p') {
      if (!event.repeat && !this.#byKey) {
        this.#byKey = true;
        this.#cursor = from;
        this.#play(from);
      }
    } else if (event.key === 'Escape' && (this.#cursor !== undefined || this.#byKey)) {
      this.#letGo();
      this.#cursor = undefined;
      this.touch();
    } else {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  }

  #play(spot: Spot): void {
    const [model, layout] = [this.#model, this.#layout];
    if (model === undefined || layout === undefined) return;
    this.hands.play(spot, this.canvas.getBoundingClientRect().top + placeOf(layout.map, model, spot)[1], (text) => {
      this.#says(text);
    });
  }

  #still(): void {
    this.hands.still();
    this.#says(undefined);
  }

  #tellSoon(): void {
    clearTimeout(this.#telling);
    this.#telling = setTimeout(() => {
      if (this.#cursor !== undefined) this.hands.tell(this.words(this.#cursor));
    }, TELL_REST);
  }
}
