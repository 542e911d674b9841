// Keeps the screen awake while the stall is open. The browser takes the lock back whenever the
// page is hidden, so that it is asked for again.

export type Awake = 'cannot' | 'asked' | 'held' | 'refused';

export const canStayAwake = (): boolean => 'wakeLock' in navigator;

export class Waker {
  #wanted = false;
  #lock: WakeLockSentinel | undefined;
  #state: Awake = canStayAwake() ? 'asked' : 'cannot';

  constructor(private readonly told: (state: Awake) => void) {}

  get state(): Awake {
    return this.#state;
  }

  start(): void {
    this.#wanted = true;
    document.addEventListener('visibilitychange', this.#again);
    void this.#ask();
  }

  stop(): void {
    this.#wanted = false;
    document.removeEventListener('visibilitychange', this.#again);
    const lock = this.#lock;
    this.#lock = undefined;
    lock?.release().catch(() => undefined);
  }

  /** A touch is a good moment where the browser refused before. */
  nudge(): void {
    if (this.#wanted && this.#lock === undefined && this.#state === 'refused') void this.#ask();
  }

  readonly #again = (): void => {
    if (document.visibilityState === 'visible' && this.#lock === undefined) void this.#ask();
  };

  async #ask(): Promise<void> {
    if (!canStayAwake() || document.visibilityState !== 'visible') return;
    this.#say('asked');
    try {
      const lock = await navigator.wakeLock.request('screen');
      if (!this.#wanted || this.#lock !== undefined) {
        await lock.release();
        return;
      }
      this.#lock = lock;
      lock.addEventListener(
        'release',
        () => {
          if (this.#lock !== lock) return;
          this.#lock = undefined;
          this.#say('refused');
          this.#again();
        },
        { once: true },
      );
      this.#say('held');
    } catch {
      this.#say('refused');
    }
  }

  #say(state: Awake): void {
    this.#state = state;
    this.told(state);
  }
}
