// Maps over several workers, each with its own instance of the core: coarse to fine, in tiles
// small enough that a map given up stops at once. A worker stays from map to map; one that breaks
// is replaced and its tile run again.

import { toldByJob } from '../words/core';
import { words } from '../words/work';
import { GivenUp } from './lab';
import type { MapAsk, MapDone, MapOptions, MapPlan, MapTile, RunMap } from './lab.map';
import { labCore } from './labcore';
import MapWorker from './map.worker?worker';
import type { Problem, Refused } from './types';

/** What a tile brings besides what the page shows. */
type RunTile = MapTile & { readonly simulated: number; readonly run: number };

export type ToMapWorker =
  | { readonly kind: 'core'; readonly module: WebAssembly.Module }
  | { readonly kind: 'open'; readonly generation: number; readonly ask: MapAsk }
  | { readonly kind: 'edge'; readonly generation: number }
  | { readonly kind: 'cells'; readonly generation: number; readonly cells: Uint32Array }
  | { readonly kind: 'digest'; readonly generation: number; readonly classes: Uint8Array; readonly values: Float64Array };

export type FromMapWorker =
  | { readonly kind: 'opened'; readonly generation: number; readonly plan: MapPlan }
  | { readonly kind: 'refused'; readonly generation: number; readonly answer: Refused }
  | { readonly kind: 'edge'; readonly generation: number; readonly edge: readonly Float64Array[] }
  | { readonly kind: 'tile'; readonly generation: number; readonly tile: RunTile; readonly spent: number }
  | { readonly kind: 'digest'; readonly generation: number; readonly digest: string }
  | { readonly kind: 'failed'; readonly generation: number; readonly reason: string };

/** Most workers: beyond, memory and heat grow faster than speed. */
const MOST_WORKERS = 8;
/** Spacings of the cells, coarse to fine. */
const SPACINGS = [16, 8, 4, 2, 1] as const;
/** What a tile should take [ms]: short enough to be given up soon, long enough for little talk. */
const TILE_MS = 25;
const FIRST_TILE = 8;
const MOST_TILE = 512;
/** Times that a map's tiles may break their worker before it is given up. */
const MOST_BREAKS = 3;

const problem = (expected: string, value: string): Refused => {
  const one: Problem = {
    path: '',
    value,
    expected,
    hint: words.again,
    kept: words.noMap,
    severity: 'error',
  };
  return { problems: [one] };
};

/** Cells not run yet, coarse ones first. */
class Queue {
  readonly #cells: Uint32Array;
  /** Where each spacing's cells end. */
  readonly #ends: number[] = [];
  readonly #back: Uint32Array[] = [];
  #next = 0;

  constructor(nx: number, ny: number) {
    this.#cells = new Uint32Array(nx * ny);
    let count = 0;
    const taken = new Uint8Array(nx * ny);
    for (const spacing of SPACINGS) {
      // A short axis has all its cells from the beginning.
      const [stepX, stepY] = [Math.min(spacing, stepFor(nx)), Math.min(spacing, stepFor(ny))];
      for (let y = 0; y < ny; y += stepY) {
        for (let x = 0; x < nx; x += stepX) {
          const cell = y * nx + x;
          if (taken[cell] === 1) continue;
          taken[cell] = 1;
          this.#cells[count] = cell;
          count += 1;
        }
      }
      this.#ends.push(count);
    }
  }

  get size(): number {
    return this.#cells.length;
  }

  /** How many cells belong to a spacing and those before it. */
  upTo(spacing: number): number {
    return this.#ends[SPACINGS.indexOf(spacing as (typeof SPACINGS)[number])] ?? 0;
  }

  take(most: number): Uint32Array | undefined {
    const back = this.#back.pop();
    if (back !== undefined) return back;
    if (this.#next >= this.#cells.length) return undefined;
    // A tile does not reach into the next spacing, so that each picture is whole as soon as it can be.
    const end = this.#ends.find((at) => at > this.#next) ?? this.#cells.length;
    const tile = this.#cells.slice(this.#next, Math.min(this.#next + most, end));
    this.#next += tile.length;
    return tile;
  }

  giveBack(tile: Uint32Array): void {
    this.#back.push(tile);
  }
}

/** Axes of few cells are not thinned out to one. */
const stepFor = (count: number): number => (count >= 32 ? 16 : count >= 16 ? 4 : 1);

class PoolWorker {
  readonly worker: Worker;
  /** What it is doing; undefined: nothing. */
  busy: { readonly kind: 'open' | 'edge' | 'digest' } | { readonly kind: 'cells'; readonly cells: Uint32Array } | undefined;
  /** Map that is open in it. */
  opened = -1;
  tileSize = FIRST_TILE;

  constructor(module: WebAssembly.Module) {
    this.worker = new MapWorker();
    this.worker.postMessage({ kind: 'core', module } satisfies ToMapWorker);
  }

  post(message: ToMapWorker): void {
    this.worker.postMessage(message);
  }
}

class Job {
  queue: Queue | undefined;
  plan: MapPlan | undefined;
  values = new Float64Array(0);
  classes = new Uint8Array(0);
  done = 0;
  simulated = 0;
  run = 0;
  first = 0;
  breaks = 0;
  edge: 'wanted' | 'asked' | 'had' = 'wanted';
  digest = false;
  ended = false;
  readonly start = performance.now();

  constructor(
    readonly generation: number,
    readonly ask: MapAsk,
    readonly options: MapOptions,
    readonly resolve: (done: MapDone | Refused) => void,
    readonly reject: (reason: GivenUp) => void,
  ) {}
}

export class MapPool {
  readonly #count: number;
  readonly #workers: PoolWorker[] = [];
  #generation = 0;
  #job: Job | undefined;

  constructor(count = Math.min(Math.max(navigator.hardwareConcurrency || 2, 1), MOST_WORKERS)) {
    this.#count = count;
  }

  /** Compiles the core and starts the workers ahead of the first map. */
  warm(): void {
    this.#ready().catch(() => {
      // The first map will tell.
    });
  }

  readonly run: RunMap = (ask, options) =>
    new Promise((resolve, reject) => {
      if (options.signal?.aborted === true) {
        reject(new GivenUp());
        return;
      }
      // One map at a time: a new one is what is wanted now.
      this.#giveUp(this.#job);
      this.#generation += 1;
      const job = new Job(this.#generation, ask, options, resolve, reject);
      this.#job = job;
      options.signal?.addEventListener('abort', () => {
        this.#giveUp(job);
      });
      this.#ready().then(
        () => {
          this.#feedAll();
        },
        (cause: unknown) => {
          this.#end(job, problem(words.mapMaker, String(cause)));
        },
      );
    });

  async #ready(): Promise<void> {
    const module = await labCore();
    while (this.#workers.length < this.#count) this.#workers.push(this.#make(module));
  }

  #make(module: WebAssembly.Module): PoolWorker {
    const one = new PoolWorker(module);
    one.worker.addEventListener('message', ({ data }: MessageEvent<FromMapWorker>) => {
      this.#heard(one, data);
    });
    const broken = (reason: string): void => {
      this.#broken(one, module, reason);
    };
    one.worker.addEventListener('error', (event) => {
      event.preventDefault();
      broken(event.message);
    });
    one.worker.addEventListener('messageerror', () => {
      broken(words.unreadable);
    });
    return one;
  }

  #feedAll(): void {
    for (const one of this.#workers) this.#feed(one);
  }

  /** Gives a worker that has nothing to do what comes next. */
  #feed(one: PoolWorker): void {
    const job = this.#job;
    if (job === undefined || one.busy !== undefined) return;
    const { generation } = job;
    if (one.opened !== generation) {
      one.busy = { kind: 'open' };
      one.post({ kind: 'open', generation, ask: job.ask });
      return;
    }
    const { queue } = job;
    if (queue === undefined) return;
    // The linear edge comes when the first coarse picture stands, by one worker, while the others go on.
    if (job.edge === 'wanted' && job.first > 0) {
      job.edge = 'asked';
      one.busy = { kind: 'edge' };
      one.post({ kind: 'edge', generation });
      return;
    }
    const cells = queue.take(one.tileSize);
    if (cells !== undefined) {
      one.busy = { kind: 'cells', cells };
      one.post({ kind: 'cells', generation, cells });
      return;
    }
    if (job.done === queue.size && job.edge === 'had' && !job.digest) {
      job.digest = true;
      one.busy = { kind: 'digest' };
      one.post({ kind: 'digest', generation, classes: job.classes, values: job.values });
    }
  }

  #heard(one: PoolWorker, message: FromMapWorker): void {
    if (!this.#workers.includes(one)) return;
    const { busy } = one;
    one.busy = undefined;
    if (message.kind === 'opened') one.opened = message.generation;
    const job = this.#job;
    // What belongs to a map given up is dropped.
    if (job !== undefined && message.generation === job.generation) this.#take(one, job, message, busy);
    this.#feed(one);
  }

  #take(one: PoolWorker, job: Job, message: FromMapWorker, busy: PoolWorker['busy']): void {
    switch (message.kind) {
      case 'opened':
        if (job.queue !== undefined) break;
        job.plan = toldByJob('map', message.plan);
        job.queue = new Queue(message.plan.x.values.length, message.plan.y.values.length);
        job.values = new Float64Array(job.queue.size).fill(Number.NaN);
        job.classes = new Uint8Array(job.queue.size);
        job.options.plan?.(job.plan);
        this.#feedAll();
        break;
      case 'refused':
        this.#end(job, toldByJob('map', message.answer));
        break;
      case 'edge':
        job.edge = 'had';
        if (job.plan === undefined) break;
        job.plan = { ...job.plan, edge: message.edge };
        job.options.plan?.(job.plan);
        break;
      case 'tile':
        one.tileSize = nextSize(one.tileSize, message.tile.cells.length, message.spent);
        this.#takeTile(job, message.tile);
        break;
      case 'digest':
        this.#end(job, {
          digest: message.digest,
          runs: job.values.length * (job.plan?.runs ?? 1),
          simulated: job.simulated,
          run: job.run,
          first: job.first,
          whole: performance.now() - job.start,
          workers: this.#workers.length,
        });
        break;
      case 'failed':
        if (busy?.kind === 'cells') job.queue?.giveBack(busy.cells);
        if (busy?.kind === 'edge') job.edge = 'had';
        job.breaks += 1;
        if (job.breaks > MOST_BREAKS) this.#end(job, problem(words.mapEnds, message.reason));
        break;
      default:
        this.#end(job, problem(words.mapEnds, words.notUnderstood));
    }
  }

  #takeTile(job: Job, tile: RunTile): void {
    const { queue } = job;
    if (queue === undefined) return;
    tile.cells.forEach((cell, i) => {
      job.values[cell] = tile.values[i] ?? Number.NaN;
      job.classes[cell] = tile.classes[i] ?? 0;
    });
    job.done += tile.cells.length;
    job.simulated += tile.simulated;
    job.run += tile.run;
    // The finest spacing at which every cell is done; cells are handed out in this order.
    const spacing = SPACINGS.filter((s) => job.done >= queue.upTo(s)).pop() ?? SPACINGS[0];
    if (job.first === 0 && job.done >= queue.upTo(SPACINGS[0])) job.first = performance.now() - job.start;
    job.options.tile?.(tile, spacing);
    job.options.progress?.(job.done, queue.size);
    if (job.done === queue.size) this.#feedAll();
  }

  /** The worker is not trusted any more: another takes its place, and its tile. */
  #broken(one: PoolWorker, module: WebAssembly.Module, reason: string): void {
    const at = this.#workers.indexOf(one);
    if (at < 0) return;
    one.worker.terminate();
    const job = this.#job;
    if (job !== undefined) {
      if (one.busy?.kind === 'cells' && one.opened === job.generation) job.queue?.giveBack(one.busy.cells);
      if (one.busy?.kind === 'edge') job.edge = 'had';
      if (one.busy?.kind === 'digest') job.digest = false;
      job.breaks += 1;
      if (job.breaks > MOST_BREAKS) this.#end(job, problem(words.mapEnds, reason || words.brokeOff));
    }
    this.#workers[at] = this.#make(module);
    this.#feedAll();
  }

  #giveUp(job: Job | undefined): void {
    if (job === undefined || job.ended) return;
    job.ended = true;
    if (this.#job === job) this.#job = undefined;
    job.reject(new GivenUp());
  }

  #end(job: Job, answer: MapDone | Refused): void {
    if (job.ended) return;
    job.ended = true;
    if (this.#job === job) this.#job = undefined;
    job.resolve(answer);
  }
}

/** Tiles that take about as long as they should, growing and shrinking by no more than half. */
function nextSize(size: number, cells: number, spent: number): number {
  const wanted = (cells * TILE_MS) / Math.max(spent, 0.5);
  return Math.round(Math.min(Math.max(wanted, size / 2, 1), 2 * size, MOST_TILE));
}

let only: MapPool | undefined;
const pool = (): MapPool => (only ??= new MapPool());

/** Makes a map; rejects with `GivenUp`, and with nothing else, when it is given up or another is begun. */
export const runMap: RunMap = (ask, options) => pool().run(ask, options);

/** Compiles the core and starts the workers ahead of the first map. */
export const warmMap = (): void => {
  pool().warm();
};
