// A trial on the board, in its own time: the same inputs at the same times, given by the acts that
// a visitor has too. What the board has no input for cannot be tried there.

import type { Actions } from '../../actions';
import type { NumberRow } from '../../core/lab.types';
import { FRONT, LOCKED, OFF, SIDE, STEADIED, type Level, type Plane } from '../../core/types';
import type { Loop } from '../../loop';

/** Time at a speed or a lean before what is tested begins [s], as in a trial. */
const SETTLE_BEFORE = 3;

interface Step {
  /** Since the start of the run [s]. */
  readonly at: number;
  readonly act: () => void;
}

export interface LiveAsk {
  readonly trial: string;
  readonly view: 'side' | 'front';
  readonly software: 'off' | 'locked' | 'on';
  /** [SI], by key. */
  readonly numbers: ReadonlyMap<string, number>;
}

const LEVELS: Readonly<Record<LiveAsk['software'], Level>> = { off: OFF, locked: LOCKED, on: STEADIED };

/** The levers need the software. */
const DRIVEN = ['start', 'lean-step', 'stop', 'lean-release', 'reverse', 'emergency-stop', 'motors-cut', 'radio-lost'];
const PUSHED = ['kick', 'double-kick', 'bump'];

/** Whether the board has the inputs for it. */
export function isLive(trial: string, software: LiveAsk['software']): boolean {
  if (PUSHED.includes(trial)) return true;
  return software === 'on' && DRIVEN.includes(trial);
}

/** SI numbers of the rows, with what was typed read by the core already. */
export const numbersOf = (rows: readonly NumberRow[]): Map<string, number> =>
  new Map(rows.map((row) => [row.key, row.value]));

export class LiveRun {
  #steps: Step[] = [];
  #from = 0;
  #ends = 0;
  #running = false;
  #done: () => void = () => undefined;

  constructor(
    private readonly actions: Actions,
    loop: Loop,
  ) {
    loop.read(({ frame, layout }) => {
      if (!this.#running) return;
      const now = frame[layout.header.time] ?? 0;
      // The visitor began anew.
      if (now < this.#from) {
        this.cancel();
        return;
      }
      while (this.#steps[0] !== undefined && now - this.#from >= this.#steps[0].at) this.#steps.shift()?.act();
      if (this.#steps.length === 0 && now - this.#from >= this.#ends) this.#finish();
    });
  }

  get running(): boolean {
    return this.#running;
  }

  begin(ask: LiveAsk, done: () => void): void {
    const { actions } = this;
    this.#finish();
    actions.show(ask.view);
    actions.resetRun();
    actions.level(LEVELS[ask.software]);
    this.#steps = this.#plan(ask);
    const last = this.#steps.at(-1)?.at ?? 0;
    this.#ends = last + (ask.numbers.get('seconds') ?? 8);
    this.#from = 0;
    this.#done = done;
    this.#running = true;
  }

  cancel(): void {
    if (!this.#running) return;
    for (const plane of [SIDE, FRONT] as const) this.actions.lever(plane, 0);
    this.#finish();
  }

  #finish(): void {
    if (!this.#running) return;
    this.#running = false;
    this.#steps = [];
    this.#done();
  }

  #plan({ trial, view, numbers }: LiveAsk): Step[] {
    const { actions } = this;
    const plane: Plane = view === 'front' ? FRONT : SIDE;
    const number = (key: string, otherwise: number): number => numbers.get(key) ?? otherwise;
    const impulse = number('impulse', 0);
    const kick = (at: number): Step => ({
      at,
      act: () => {
        actions.kick(plane, { impulse, height: number('height', actions.store.state.robot.radius) });
      },
    });
    const lever = (at: number, share: number): Step => ({
      at,
      act: () => {
        actions.lever(plane, share);
      },
    });
    const most = actions.value(plane === SIDE ? 'travel.lever_speed' : 'lean.lever_lean')?.value ?? 0;
    const wanted = number(plane === SIDE ? 'speed' : 'lean', most);
    const share = most > 0 ? Math.min(Math.max(wanted / most, -1), 1) : 0;
    const ramp = actions.value('travel.acceleration')?.value ?? 1;
    const moving = SETTLE_BEFORE + (plane === SIDE ? Math.abs(wanted) / ramp : 0);
    switch (trial) {
      case 'kick':
        return [kick(0)];
      case 'double-kick':
        return [kick(0), kick(number('pause', 1))];
      case 'bump':
        return [{ at: 0, act: () => { actions.bump(plane, impulse); } }];
      case 'start':
      case 'lean-step':
        return [lever(0, share)];
      case 'reverse':
        return [lever(0, share), lever(moving, -share)];
      case 'radio-lost':
        return [lever(0, share), lever(moving + number('pause', 0.5), 0)];
      case 'motors-cut':
        return [lever(0, share), { at: moving, act: () => { actions.level(OFF); } }];
      case 'emergency-stop':
        return [lever(0, share), { at: moving, act: () => { actions.emergencyStop(); } }];
      default:
        return [lever(0, share), lever(moving, 0)];
    }
  }
}
