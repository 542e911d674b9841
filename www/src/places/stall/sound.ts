// Sound of the run, synthesised: a thump at a kick, the hum of the motors, a chime when steady.
// Nothing is made before it is wished for, and nothing goes on that has been heard.

/** Shortest time between two thumps, or two chimes, whoever makes them [ms]. */
const APART = 140;
/** How fast the hum follows [s]. */
const FOLLOW = 0.06;
/** Loudest of each, of the volume chosen: the hum goes on for long, and must not tire. */
const LOUD = { thump: 0.9, hum: 0.14, chime: 0.35 };
/** Motor current at which the hum is loudest [A]. */
const FULL_CURRENT = 12;
/** Pitch of the hum at rest [Hz], and its rise with the speed between carriage and shell [Hz per rad/s]. */
const PITCH = { rest: 70, rise: 24, most: 900 };

export const canSound = (): boolean => typeof AudioContext === 'function';

interface Hum {
  readonly source: OscillatorNode;
  readonly gain: GainNode;
}

export class Sound {
  #context: AudioContext | undefined;
  #out: GainNode | undefined;
  #hums: Hum[] = [];
  #last = { thump: -Infinity, chime: -Infinity };

  constructor(
    private readonly wished: boolean,
    private readonly volume: number,
  ) {}

  /** How many notes have been begun, and how many are still held. */
  readonly notes = { begun: 0, held: 0 };

  /** A browser lets a page sound only after a touch. */
  touched(): void {
    if (!this.wished || !canSound()) return;
    if (this.#context === undefined) {
      this.#context = new AudioContext();
      this.#out = this.#context.createGain();
      this.#out.gain.value = this.volume;
      this.#out.connect(this.#context.destination);
    }
    if (this.#context.state === 'suspended' && document.visibilityState === 'visible') this.#context.resume().catch(() => undefined);
  }

  /** While the page is hidden it is silent. */
  hidden(): void {
    this.#context?.suspend().catch(() => undefined);
  }

  stop(): void {
    for (const { source, gain } of this.#hums) {
      source.stop();
      source.disconnect();
      gain.disconnect();
    }
    this.#hums = [];
    this.#context?.close().catch(() => undefined);
    this.#context = undefined;
    this.#out = undefined;
  }

  /** `strength` in usual kicks. */
  thump(strength: number): void {
    if (!this.#may('thump')) return;
    const loud = LOUD.thump * Math.min(Math.max(Math.abs(strength), 0.2), 1);
    this.#note('sine', 120, 42, 0.16, loud);
    this.#note('triangle', 300, 90, 0.05, 0.4 * loud);
  }

  chime(): void {
    if (!this.#may('chime')) return;
    this.#note('sine', 660, 660, 0.5, LOUD.chime);
    this.#note('sine', 990, 990, 0.8, 0.6 * LOUD.chime, 0.12);
  }

  /** The motors of one robot: `current` of a motor [A], `rate` of the carriage against the shell [rad/s]. */
  hum(robot: number, current: number, rate: number): void {
    const context = this.#context;
    const out = this.#out;
    if (context === undefined || out === undefined || context.state !== 'running') return;
    let hum = this.#hums[robot];
    if (hum === undefined) {
      const source = context.createOscillator();
      const gain = context.createGain();
      source.type = 'sawtooth';
      gain.gain.value = 0;
      source.connect(gain).connect(out);
      source.start();
      hum = { source, gain };
      this.#hums[robot] = hum;
    }
    const loud = LOUD.hum * Math.min(Math.abs(current) / FULL_CURRENT, 1);
    const pitch = Math.min(PITCH.rest + PITCH.rise * Math.abs(rate), PITCH.most);
    hum.gain.gain.setTargetAtTime(Number.isFinite(loud) ? loud : 0, context.currentTime, FOLLOW);
    hum.source.frequency.setTargetAtTime(Number.isFinite(pitch) ? pitch : PITCH.rest, context.currentTime, FOLLOW);
  }

  #may(what: 'thump' | 'chime'): boolean {
    if (this.#context?.state !== 'running') return false;
    const now = performance.now();
    if (now - this.#last[what] < APART) return false;
    this.#last[what] = now;
    return true;
  }

  #note(type: OscillatorType, from: number, to: number, seconds: number, loud: number, after = 0): void {
    const context = this.#context;
    const out = this.#out;
    if (context === undefined || out === undefined) return;
    const begin = context.currentTime + after;
    const source = context.createOscillator();
    const gain = context.createGain();
    source.type = type;
    source.frequency.setValueAtTime(from, begin);
    source.frequency.exponentialRampToValueAtTime(to, begin + seconds);
    gain.gain.setValueAtTime(loud, begin);
    gain.gain.exponentialRampToValueAtTime(0.001, begin + seconds);
    source.connect(gain).connect(out);
    this.notes.begun += 1;
    this.notes.held += 1;
    source.addEventListener(
      'ended',
      () => {
        source.disconnect();
        gain.disconnect();
        this.notes.held -= 1;
      },
      { once: true },
    );
    source.start(begin);
    source.stop(begin + seconds);
  }
}
