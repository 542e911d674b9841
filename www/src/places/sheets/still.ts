// Pictures of the board: PNG painted anew at the size wished for, SVG by the core's own writer.

import { lab } from '../../core/lab';
import type { LayerWord, PictureAsk } from '../../core/lab.sheets';
import { VIEW_WORDS } from '../../core/lab.types';
import { LAYER, refused, type Plane } from '../../core/types';
import { button, el, say } from '../../dom';
import type { Seen } from '../../loop';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { Choice } from '../trials/fields';
import { extent, paintShots, shots } from './compose';
import { fileName, save } from './names';

const SCALES = [1, 2, 3, 4];
/** More than this many pixels some browsers refuse. */
const MOST_PIXELS = 64e6;
/** Size of a drawing of the whole robot: the command line's usual one [px]. */
const WHOLE = { width: 1200, height: 900 };
/** How far the trail reaches back [s], and its points. */
const TRAIL_TIME = 4;
const TRAIL_POINTS = 240;
/** How long the arrow of a push stays [s], as on the board. */
const ARROW = 0.9;

const LAYER_WORDS: readonly (readonly [number, LayerWord])[] = [
  [LAYER.forces, 'forces'],
  [LAYER.centres, 'centres'],
  [LAYER.trail, 'trail'],
  [LAYER.grid, 'grid'],
];

export class StillPart {
  readonly element: HTMLElement;
  readonly #scale = new Choice(words.still.scale, () => undefined);
  readonly #colours = new Choice(words.colours, () => undefined);
  readonly #frame = new Choice(words.still.frame, () => undefined);
  readonly #status = el('p', { class: 'note', role: 'status' });
  #seen: Seen | undefined;

  constructor(private readonly context: PlaceContext) {
    context.loop.read((seen) => {
      this.#seen = seen;
    });
    this.#colours.offer([
      ['page', words.colourNames.page],
      ['day', words.colourNames.day],
      ['night', words.colourNames.night],
    ]);
    this.#frame.offer([
      ['seen', words.still.frames.seen],
      ['whole', words.still.frames.whole],
    ]);
    this.sizes();
    this.element = el(
      'section',
      { class: 'part stillpart', 'aria-label': words.still.title },
      el('h2', {}, words.still.title),
      el('p', { class: 'note' }, words.still.about),
      el('div', { class: 'fields' }, this.#scale.element, this.#colours.element, this.#frame.element),
      el(
        'div',
        { class: 'rowof' },
        button(words.still.png, { class: 'act', 'data-act': 'png' }, () => void this.#png()),
        button(words.still.svg, { class: 'act', 'data-act': 'svg' }, () => void this.#svg()),
      ),
      el('p', { class: 'note' }, words.still.svgNote),
      this.#status,
    );
  }

  /** The sizes that the board as it lies now can be saved in. */
  sizes(): void {
    const { width, height } = extent(shots());
    const fit = SCALES.filter((scale) => scale === 1 || scale * scale * width * height <= MOST_PIXELS);
    const wanted = this.#scale.value || '2';
    this.#scale.offer(fit.map((scale) => [String(scale), words.still.scales(scale, Math.round(width * scale), Math.round(height * scale))]), wanted);
  }

  get #night(): boolean {
    const { value } = this.#colours;
    return value === 'page' ? this.context.theme.night() : value === 'night';
  }

  async #png(): Promise<void> {
    this.sizes();
    const { actions, loop } = this.context;
    const canvas = paintShots(actions, shots(), Number(this.#scale.value), this.#night);
    // The board's own painting remembers by what it was last painted.
    loop.touch();
    const blob = canvas === undefined || canvas.width === 0 ? null : await new Promise<Blob | null>((resolve) => {
      canvas.toBlob(resolve, 'image/png');
    });
    this.#give(blob, fileName(actions.store.state.robot.name, words.files.picture, 'png'));
  }

  async #svg(): Promise<void> {
    const { actions } = this.context;
    for (const { plane, width, height } of shots()) {
      const ask = this.#ask(plane, width, height);
      if (ask === undefined) continue;
      const answer = await lab().run('picture', ask);
      if (refused(answer)) {
        say(this.#status, `${words.still.failed} ${answer.problems[0]?.expected ?? ''}`);
        return;
      }
      const { svg } = answer as { svg: string };
      const name = fileName(actions.store.state.robot.name, `${words.files.picture} ${VIEW_WORDS[plane] ?? ''}`, 'svg');
      this.#give(new Blob([svg], { type: 'image/svg+xml' }), name);
    }
  }

  #give(blob: Blob | null, name: string): void {
    if (blob === null) {
      say(this.#status, words.still.failed);
      return;
    }
    save(this.context.actions, blob, name);
    say(this.#status, words.saved(name, words.size(blob.size)));
  }

  /** The pose that the board shows now. */
  #ask(plane: Plane, width: number, height: number): PictureAsk | undefined {
    const seen = this.#seen;
    const view = VIEW_WORDS[plane];
    if (seen === undefined || view === undefined) return undefined;
    const { board, store } = this.context.actions;
    const { state } = store;
    const whole = this.#frame.value === 'whole';
    const start = seen.layout.planes[plane];
    const at = (places: Readonly<Record<string, number>>, key: string, from: number): number =>
      seen.frame[from + (places[key] ?? Number.NaN)] ?? 0;
    const columns = (from: number): Record<string, number> =>
      Object.fromEntries(Object.keys(seen.layout.columns).map((key) => [key, at(seen.layout.columns, key, from)]));
    const anchor = (key: string): number => at(seen.layout.anchors, key, start);
    const double = board.doubleFile();
    const results = board.results(plane);
    const push = results.trial === 'kick' || results.trial === 'bump' ? results.trial : undefined;
    const layers = LAYER_WORDS.filter(([bit]) => (state.layers & bit) !== 0).map(([, word]) => word);
    return {
      robot: board.robotFile(),
      inches: state.units === 'inch',
      view,
      colours: this.#night ? 'night' : 'day',
      ...(whole ? WHOLE : { width: Math.round(width), height: Math.round(height) }),
      layers: ['angles', ...layers],
      sample: columns(start),
      ...(whole
        ? {}
        : {
            seen: { ballX: anchor('ball_x'), ballY: anchor('ball_y'), scale: anchor('scale'), floorY: anchor('floor_y') },
            ...(push !== undefined && results.seconds < ARROW && state.back === 0
              ? { arrow: { push, impulse: results.impulse, height: state.kick[plane].height } }
              : {}),
          }),
      ...((state.layers & LAYER.trail) === 0 ? {} : { trail: this.#trail(plane, at(seen.layout.columns, 'time', start)) }),
      ...(double === undefined
        ? {}
        : { beside: double, besideSample: columns(seen.layout.doubles[plane]), besideLabel: state.double?.label ?? '' }),
    };
  }

  /** The head's way before this time, from the strips' history of the run. */
  #trail(plane: Plane, time: number): [number, number][] {
    const { board } = this.context.actions;
    const read = (column: string): { times: Float64Array; values: Float64Array } => {
      const flat = board.strip(plane, column);
      const count = flat[0] ?? 0;
      return { times: flat.subarray(1, 1 + count), values: flat.subarray(1 + count, 1 + 2 * count) };
    };
    const [times, travel, tilt] = [read('time').values, read('travel').values, read('tilt').values];
    const points: [number, number][] = [];
    let next = -Infinity;
    times.forEach((when, index) => {
      if (when < time - TRAIL_TIME || when > time || when < next) return;
      points.push([travel[index] ?? 0, tilt[index] ?? 0]);
      next = when + TRAIL_TIME / TRAIL_POINTS;
    });
    return points;
  }
}
