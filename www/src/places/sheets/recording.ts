// A recording of the board: its views drawn on a canvas of their own, whose stream the browser's recorder
// takes. Bounded in time and in bytes; nothing of it stays.

import type { Actions } from '../../actions';
import { colour, copyShots, drawStrip, extent, shots, STRIP, stripWords } from './compose';

/** Greatest picture; larger boards are scaled down [px]. */
const MOST = { width: 1920, height: 1080 };
/** Greatest clip; a recorder that gives more is stopped [bytes]. */
const MOST_BYTES = 100e6;
/** How often the recorder hands over what it has [ms]. */
const SLICE = 500;
/** How often the strip's words are read anew [ms]. */
const REREAD = 250;
/** Line drawings are plain: this keeps their edges clean [bits/s]. */
const BITS = 6e6;

/** Kinds of film, the lightest to make first: the board must stay at full rate meanwhile. */
const KINDS = {
  webm: ['video/webm;codecs=vp8', 'video/webm;codecs=vp9', 'video/webm'],
  mp4: ['video/mp4;codecs=avc1.42E01F', 'video/mp4;codecs=avc1', 'video/mp4'],
} as const;
export type Kind = keyof typeof KINDS;

/** What this browser can record, by kind; empty where it cannot. */
export function recordable(): ReadonlyMap<Kind, string> {
  const found = new Map<Kind, string>();
  if (typeof MediaRecorder !== 'function') return found;
  if (!('captureStream' in HTMLCanvasElement.prototype)) return found;
  for (const kind of Object.keys(KINDS) as Kind[]) {
    const type = KINDS[kind].find((mime) => MediaRecorder.isTypeSupported(mime));
    if (type !== undefined) found.set(kind, type);
  }
  return found;
}

export interface Wish {
  readonly kind: Kind;
  readonly mime: string;
  /** Pictures a second. */
  readonly rate: number;
  /** Longest time [s]. */
  readonly seconds: number;
  readonly strip: boolean;
}

export interface Taken {
  readonly blob: Blob;
  readonly kind: Kind;
  /** Without the time that it waited [s]. */
  readonly seconds: number;
  /** Whether it was stopped for its size. */
  readonly full: boolean;
}

export class Recording {
  readonly #canvas = document.createElement('canvas');
  readonly #pen: CanvasRenderingContext2D;
  readonly #recorder: MediaRecorder;
  readonly #stream: MediaStream;
  #chunks: Blob[] = [];
  #bytes = 0;
  #full = false;
  #dropped = false;
  #frame = 0;
  /** Time recorded before the present stretch, and when that began [ms]. */
  #before = 0;
  #since: number | undefined;
  #drawn = -Infinity;
  #told: ReturnType<typeof stripWords> | undefined;
  #read = -Infinity;
  readonly #width: number;
  readonly #height: number;

  /** Ends with what was taken, or with nothing if it was dropped; rejects if the browser fails. */
  readonly ended: Promise<Taken | undefined>;

  constructor(
    private readonly actions: Actions,
    private readonly wish: Wish,
    /** Called about four times a second with the seconds recorded and whether it waits. */
    private readonly tick: (seconds: number, waits: boolean) => void,
  ) {
    const pen = this.#canvas.getContext('2d', { alpha: false });
    if (pen === null) throw new Error('no canvas');
    this.#pen = pen;
    const size = extent(shots());
    this.#width = Math.max(size.width, 64);
    this.#height = Math.max(size.height, 64) + (wish.strip ? STRIP : 0);
    const fine = Math.min(window.devicePixelRatio, 2, MOST.width / this.#width, MOST.height / this.#height);
    // Film wants even numbers of pixels.
    this.#canvas.width = 2 * Math.round((fine * this.#width) / 2);
    this.#canvas.height = 2 * Math.round((fine * this.#height) / 2);
    this.#draw(performance.now());
    this.#stream = this.#canvas.captureStream(wish.rate);
    this.#recorder = new MediaRecorder(this.#stream, { mimeType: wish.mime, videoBitsPerSecond: BITS });
    this.ended = this.#follow();
    this.#recorder.addEventListener(
      'start',
      () => {
        this.#since = performance.now();
      },
      { once: true },
    );
    this.#recorder.start(SLICE);
    this.#frame = requestAnimationFrame(this.#step);
  }

  /** Stops and hands over what was taken. */
  stop(): void {
    if (this.#recorder.state !== 'inactive') this.#recorder.stop();
  }

  /** Stops and keeps nothing. */
  drop(): void {
    this.#dropped = true;
    this.stop();
  }

  get seconds(): number {
    return (this.#before + (this.#since === undefined ? 0 : performance.now() - this.#since)) / 1000;
  }

  #follow(): Promise<Taken | undefined> {
    const recorder = this.#recorder;
    const timer = setInterval(() => {
      this.tick(Math.min(this.seconds, this.wish.seconds), recorder.state === 'paused');
      if (this.seconds >= this.wish.seconds) this.stop();
    }, REREAD);
    // A hidden page draws nothing: the clip waits with it.
    const hidden = (): void => {
      if (recorder.state === 'inactive') return;
      if (document.hidden && this.#since !== undefined) {
        this.#before += performance.now() - this.#since;
        this.#since = undefined;
        recorder.pause();
      } else if (!document.hidden && recorder.state === 'paused') {
        this.#since = performance.now();
        recorder.resume();
      }
    };
    document.addEventListener('visibilitychange', hidden);
    recorder.addEventListener('dataavailable', ({ data }) => {
      if (data.size === 0 || this.#dropped) return;
      this.#chunks.push(data);
      this.#bytes += data.size;
      if (this.#bytes < MOST_BYTES || this.#full) return;
      this.#full = true;
      this.stop();
    });
    return new Promise<Taken | undefined>((resolve, reject) => {
      recorder.addEventListener('stop', () => {
        const { seconds } = this;
        const blob = new Blob(this.#chunks, { type: recorder.mimeType });
        resolve(this.#dropped ? undefined : { blob, kind: this.wish.kind, seconds: Math.min(seconds, this.wish.seconds), full: this.#full });
      });
      recorder.addEventListener('error', (event) => {
        reject(new Error(String((event as Event & { error?: unknown }).error ?? event.type)));
      });
    }).finally(() => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', hidden);
      cancelAnimationFrame(this.#frame);
      for (const track of this.#stream.getTracks()) track.stop();
      this.#chunks = [];
      this.#since = undefined;
      // A canvas lives until it is swept up; one without pixels costs nothing till then.
      this.#canvas.width = 0;
      this.#canvas.height = 0;
    });
  }

  readonly #step = (now: number): void => {
    this.#frame = requestAnimationFrame(this.#step);
    // Half a screen's frame of slack, so that 30 of 60 are every second one.
    if (now - this.#drawn < 1000 / this.wish.rate - 8) return;
    this.#draw(now);
  };

  #draw(now: number): void {
    this.#drawn = now;
    const pen = this.#pen;
    const { width: across, height: high } = this.#canvas;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.fillStyle = colour('--paper');
    pen.fillRect(0, 0, across, high);
    const scale = across / this.#width;
    pen.scale(scale, scale);
    const top = this.wish.strip ? STRIP : 0;
    if (this.wish.strip) {
      if (this.#told === undefined || now - this.#read > REREAD) {
        this.#told = stripWords(this.actions);
        this.#read = now;
      }
      drawStrip(pen, this.#width, this.#told);
    }
    // The board may have another size by now, and may show another view.
    const views = shots();
    const size = extent(views);
    if (size.width < 1 || size.height < 1) return;
    const fit = Math.min(this.#width / size.width, (this.#height - top) / size.height);
    pen.translate((this.#width - fit * size.width) / 2, top + (this.#height - top - fit * size.height) / 2);
    pen.scale(fit, fit);
    copyShots(pen, views);
  }
}
