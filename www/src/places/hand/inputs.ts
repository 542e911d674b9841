// Where the duty of a try comes from: the lever on the screen with its keys, the tilt of the phone, the stick of
// a game pad. Each gives a share of its way, −1 … 1, to the right positive, and says when it has fallen silent.

import { clamp } from '../../dom';
import { handWords as words } from '../../words/hand';
import type { Lever } from './lever';

export type InputName = 'lever' | 'tilt' | 'pad';

export interface HandInput {
  readonly name: InputName;
  /** Makes ready, on a press; answers with why it cannot be had, in words, or an empty text. */
  start(): Promise<string>;
  /** Where it stands now counts as the middle. */
  zero(): void;
  /** Share of its way, −1 … 1. */
  share(now: number): number;
  /** Why it gives nothing now, in words; an empty text while it does. */
  silent(now: number): string;
  stop(): void;
}

/** The lever on the screen: it is always there. */
export function leverInput(lever: Lever): HandInput {
  return {
    name: 'lever',
    start: () => Promise.resolve(''),
    zero: () => {
      lever.release();
    },
    share: () => lever.share,
    silent: () => '',
    stop: () => {
      lever.release();
    },
  };
}

/** Tilt of the whole way [°]: as far as one still reads the screen. */
const TILT_WAY = 25;
/** A sensor that says nothing for so long is silent [ms]; they speak 50 times a second and more. */
const TILT_SILENCE = 1000;
/** The first word of a sensor is waited for so long [ms]. */
const TILT_PATIENCE = 2000;

interface AskedFirst {
  requestPermission?: () => Promise<string>;
}

export class TiltInput implements HandInput {
  readonly name = 'tilt';
  #angle: number | undefined;
  #heard = -Infinity;
  #middle = 0;
  #waiting: (() => void) | undefined;

  async start(): Promise<string> {
    // Some browsers hide the sensor where the page has not come over a safe way.
    const { isSecureContext: safe } = window;
    if (!('DeviceOrientationEvent' in window)) return safe ? words.tilt.none : words.tilt.insecure;
    const asked = (window.DeviceOrientationEvent as unknown as AskedFirst).requestPermission;
    if (asked !== undefined) {
      try {
        if ((await asked.call(window.DeviceOrientationEvent)) !== 'granted') return words.tilt.denied;
      } catch {
        // It is refused at once outside of a press, and on pages that are not safe.
        return safe ? words.tilt.denied : words.tilt.insecure;
      }
    }
    this.stop();
    window.addEventListener('deviceorientation', this.#hear);
    await new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, TILT_PATIENCE);
      this.#waiting = () => {
        clearTimeout(timer);
        resolve();
      };
    });
    this.#waiting = undefined;
    if (this.#angle !== undefined) return '';
    this.stop();
    if (location.protocol === 'file:') return words.tilt.file;
    return safe ? words.tilt.silent : words.tilt.insecure;
  }

  zero(): void {
    this.#middle = this.#angle ?? 0;
  }

  share(now: number): number {
    if (this.#angle === undefined || this.silent(now) !== '') return 0;
    return clamp((this.#angle - this.#middle) / TILT_WAY, -1, 1);
  }

  silent(now: number): string {
    return now - this.#heard > TILT_SILENCE ? words.tilt.fellSilent : '';
  }

  stop(): void {
    window.removeEventListener('deviceorientation', this.#hear);
    this.#angle = undefined;
  }

  readonly #hear = ({ beta, gamma }: DeviceOrientationEvent): void => {
    if (beta === null || gamma === null || !Number.isFinite(beta) || !Number.isFinite(gamma)) return;
    // About the axis that points away from whoever holds it, whichever way the screen is turned.
    const turned = screen.orientation?.angle ?? 0;
    this.#angle = turned === 90 ? beta : turned === 270 ? -beta : turned === 180 ? -gamma : gamma;
    this.#heard = performance.now();
    this.#waiting?.();
  };
}

/** A stick seldom rests at zero. */
const PAD_REST = 0.08;
/** Axes that point to the right on the usual pads: those of the left and of the right stick. */
const PAD_AXES = [0, 2];

export class PadInput implements HandInput {
  readonly name = 'pad';

  start(): Promise<string> {
    return Promise.resolve(this.#pad === undefined ? words.pad.none : '');
  }

  zero(): void {
    // A stick has its own middle.
  }

  share(): number {
    const axes = this.#pad?.axes ?? [];
    const ways = PAD_AXES.map((axis) => axes[axis] ?? 0).filter(Number.isFinite);
    const way = ways.reduce((most, one) => (Math.abs(one) > Math.abs(most) ? one : most), 0);
    const size = clamp((Math.abs(way) - PAD_REST) / (1 - PAD_REST), 0, 1);
    return way < 0 ? -size : size;
  }

  silent(): string {
    return this.#pad === undefined ? words.pad.gone : '';
  }

  stop(): void {
    // Nothing is held.
  }

  /** Whether any of its buttons is down. */
  static pressed(): boolean {
    return pads().some((pad) => pad.buttons.some(({ pressed }) => pressed));
  }

  get #pad(): Gamepad | undefined {
    return pads()[0];
  }
}

function pads(): readonly Gamepad[] {
  try {
    return navigator.getGamepads().filter((pad): pad is Gamepad => pad?.connected === true);
  } catch {
    // A page within another may be refused it.
    return [];
  }
}
