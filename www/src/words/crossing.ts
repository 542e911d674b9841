// Which fields of what crosses the core's boundary hold words. Keys, files, digests, words of choices
// and what the visitor typed are none; a field that is not named here stays as it is.

import type { JobName } from '../core/lab.types';
import type { Board } from '../core/types';
import { Teller } from './teller';

/** Of every answer: a refused one tells problems. */
const PROBLEMS = ['expected', 'hint', 'kept'];
/** Words where the core knows them, else the visitor's: looked up, never missed. */
const PERHAPS = new Set(['value', 'path']);

const MEASURES = ['label', 'text', 'outcome'];

const OF_JOB: Readonly<Record<JobName | 'map', readonly string[]>> = {
  trials: ['about', 'label', 'text', 'range', 'word', 'note', 'now', 'dip', 'settling', 'place'],
  run: [...MEASURES, 'title', 'range'],
  set: [...MEASURES, 'title', 'limit', 'found', 'summary'],
  limits: ['title', 'label', 'text', 'min', 'max'],
  budget: ['label', 'text', 'words', 'rows'],
  compare: ['change'],
  replay: ['label', 'is'],
  kicks: ['bandText'],
  contest: [...MEASURES],
  start: ['label', 'help', 'usual', 'text'],
  spread: ['title', 'limit', 'label', 'texts', 'nominalText', 'limitText', 'value', 'share', 'how', 'help', 'low', 'high', 'spreads'],
  ledger: ['dip', 'side', 'front', 'margin', 'refused', 'title', 'limit', 'holds', 'breaks', 'left'],
  power: [
    ...MEASURES, 'onePlane', 'ratingText', 'source', 'fuse', 'peak', 'fromText', 'toText', 'larger', 'axle', 'rim',
    'swing', 'speed', 'ownSwing', 'ownSpeed', 'torque', 'share', 'voltage', 'full', 'floor', 'charged', 'resistance', 'charge',
    'name', 'see',
  ],
  edge: ['text', 'label', 'name', 'doubts', 'texts'],
  hunt: ['text', 'outcome'],
  both_sides: ['text'],
  hand: ['text', 'rule', 'source', 'label', 'outcome', 'settling'],
  matters: [...MEASURES, 'now', 'measureText', 'changeText', 'effectText', 'step', 'idle', 'remark'],
  head_story: ['text', 'dip', 'settling', 'margin', 'outcome', 'dipText', 'settlingText', 'massText', 'loops', 'words'],
  suggest: ['label', 'fromText', 'toText', 'raw', 'before', 'after', 'limit', 'text', 'explained'],
  gains: ['label', 'help', 'text', 'rawUnit', 'title'],
  lid: ['title', 'label', 'text', 'rawUnit', 'limit', 'cautions', 'drawings'],
  card: ['title', 'what', 'label', 'text', 'help', 'spread', 'limit', 'cautions'],
  picture: ['svg'],
  map: ['title', 'label', 'texts'],
};

/** Of the board, whose other answers are numbers, files and what the page itself gave. */
const OF_BOARD = {
  catalogue: ['label', 'help'],
  values: ['text', 'openedText', 'rawUnit'],
  setKnob: ['text', 'openedText', 'rawUnit'],
  typeKnob: ['text', 'openedText', 'rawUnit'],
  typeRaw: ['text', 'openedText', 'rawUnit'],
  results: [...MEASURES, 'outcomeWas', 'note', 'was'],
  doubleResults: [...MEASURES, 'outcomeWas', 'note', 'was'],
  facts: [],
  parts: [],
  demos: [],
  doubleOff: [],
  doubleOn: [],
  kick: [],
  bump: [],
  level: [],
  speed: [],
  lean: [],
  swingMode: [],
  doubleRobot: [],
  swap: [],
  becomeDouble: [],
  putPart: [],
  switchPart: [],
  removePart: [],
  setMark: [],
  openRobot: [],
  restore: [],
} satisfies Partial<Record<keyof Board, readonly string[]>>;

/** Of these the visitor may have written some, or they were told before; the demos' are known. */
const VISITORS: Partial<Record<keyof Board | JobName | 'map', readonly string[]>> = {
  facts: ['summary', 'name'],
  parts: ['name'],
  power: ['title'],
  compare: ['was'],
  replay: ['was'],
  lid: ['summary'],
};

const LABELLED: ReadonlySet<string> = new Set<keyof Board>(['doubleOff', 'doubleOn', 'doubleRobot', 'swap']);

interface Fields {
  readonly words: ReadonlySet<string>;
  readonly perhaps: ReadonlySet<string>;
}

const fields = (words: readonly string[], perhaps: readonly string[] = []): Fields => ({
  words: new Set([...PROBLEMS, ...words]),
  perhaps: new Set([...PERHAPS, ...perhaps]),
});

type Tree = Record<string, unknown>;

/** Where tests find what was not told: only in a browser that has been asked to keep it. */
const KEPT_FOR_TESTS = 'kickstill-untold';

export class Crossing {
  readonly #teller: Teller;
  readonly #lettered = new WeakSet<CanvasRenderingContext2D>();

  constructor(catalogue: Readonly<Record<string, string>>) {
    this.#teller = new Teller(catalogue);
    try {
      if (localStorage.getItem(KEPT_FOR_TESTS) !== null) Object.assign(window, { kickstillUntold: this.#teller.untold });
    } catch {
      // Nothing is kept here: it is no test.
    }
  }

  /** What was not understood so far. */
  get untold(): ReadonlySet<string> {
    return this.#teller.untold;
  }

  said(text: string): string {
    return this.#teller.say(text);
  }

  byJob<T>(job: JobName | 'map', answer: T): T {
    this.#named(answer);
    return this.#told(fields(OF_JOB[job], VISITORS[job]), answer, undefined) as T;
  }

  /** Those of every frame stay the board's own. */
  board(board: Board): Board {
    for (const [name, words] of Object.entries(OF_BOARD) as [keyof typeof OF_BOARD, readonly string[]][]) {
      const of = fields(words, VISITORS[name]);
      const plain = (board[name] as (...given: unknown[]) => unknown).bind(board);
      const value = (...given: unknown[]): unknown => {
        // What a double is called comes from the page, and is lettered beside it.
        if (LABELLED.has(name)) for (const label of given) this.#own(label);
        const answer = plain(...given);
        this.#named(answer);
        return this.#told(of, answer, undefined);
      };
      Object.defineProperty(board, name, { value });
    }
    const paint = board.paint.bind(board);
    const value: Board['paint'] = (context, ...how) => {
      this.#letter(context);
      paint(context, ...how);
    };
    Object.defineProperty(board, 'paint', { value });
    return board;
  }

  /** What is lettered on the drawing comes as text to be drawn, each frame. */
  #letter(context: CanvasRenderingContext2D): void {
    if (this.#lettered.has(context)) return;
    this.#lettered.add(context);
    for (const name of ['fillText', 'strokeText'] as const) {
      const plain = context[name].bind(context);
      context[name] = (text, ...where) => {
        plain(this.#teller.say(text), ...where);
      };
    }
  }

  /** A drawing with its lettering told. */
  #drawn(svg: string): string {
    const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml');
    if (drawing.querySelector('parsererror') !== null) return svg;
    for (const text of drawing.querySelectorAll('text, title, desc')) text.textContent = this.#teller.sayIfKnown(text.textContent ?? '');
    return new XMLSerializer().serializeToString(drawing);
  }

  /** Robots' names stay as they are wherever they stand in a sentence. */
  #named(answer: unknown): void {
    if (typeof answer !== 'object' || answer === null) return;
    if ('robot' in answer) this.#own(answer.robot);
    if ('name' in answer) this.#own(answer.name);
  }

  #own(name: unknown): void {
    if (typeof name === 'string') this.#teller.own(name);
  }

  /** The same answer in the page's language, as a new object; arrays of numbers are not copied. */
  #told(of: Fields, value: unknown, field: 'words' | 'perhaps' | undefined): unknown {
    if (typeof value === 'string') {
      if (field === 'words') return value.startsWith('<svg') ? this.#drawn(value) : this.#teller.say(value);
      // A key has no blank: it must stay one.
      return field === 'perhaps' && value.includes(' ') ? this.#teller.sayIfKnown(value) : value;
    }
    if (Array.isArray(value)) return value.map((one) => this.#told(of, one, field));
    if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return value;
    const out: Tree = {};
    for (const [name, inner] of Object.entries(value as Tree)) {
      // Words of a choice are what files call them, whoever shows them.
      const files = name === 'words' && 'kind' in value;
      const here = files ? undefined : of.words.has(name) ? 'words' : of.perhaps.has(name) ? 'perhaps' : undefined;
      out[name] = this.#told(of, inner, here);
    }
    return out;
  }
}
