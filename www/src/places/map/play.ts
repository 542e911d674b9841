// Playing a cell for as long as it is held: a board of its own, laid over the page's, runs the
// robot with the cell's two knobs under the trial's push. The page's own run stands still meanwhile
// and then goes on from the very tick where it was.

import type { Actions } from '../../actions';
import { lab } from '../../core/lab';
import type { RunOut, SoftwareWord, TrialAsk } from '../../core/lab.types';
import { openBoard } from '../../core/open';
import { setAll } from '../../core/setall';
import { FRONT, LAYER, LOCKED, OFF, refused, SIDE, STEADIED, type Board, type Level, type Plane, type Problem } from '../../core/types';
import { el, say } from '../../dom';
import type { Theme } from '../../theme';
import { isLive, numbersOf } from '../trials/live';

const LEVELS: Readonly<Record<SoftwareWord, Level>> = { off: OFF, locked: LOCKED, on: STEADIED };
/** Longest piece of true time made up for in one frame [ms]. */
const CATCH_UP = 100;
/** Time at a speed or a lean before what is tested begins [s], as in a trial. */
const SETTLE_BEFORE = 3;
/** The board must be seen at least this high to be played on [px]. */
const SEEN = 160;

const forced = window.matchMedia('(forced-colors: active)');
const still = window.matchMedia('(prefers-reduced-motion: reduce)');

export interface Played {
  readonly opened: string;
  readonly robot: string;
  readonly inches: boolean;
  /** Knobs of the cell [SI]. */
  readonly knobs: readonly (readonly [key: string, value: number])[];
  readonly trial: TrialAsk;
}

export interface PlayNews {
  /** What the same cell gives as a trial. */
  readonly told: (out: RunOut) => void;
  readonly failed: (problems: readonly Problem[]) => void;
  /** The board has no inputs for the trial. */
  readonly stands: () => void;
}

/** Sets knobs. Answers what was refused. */
export const turn = (board: Board, knobs: Played['knobs']): readonly Problem[] =>
  setAll(knobs, ([key, value]) => board.setKnob(key, value)).flatMap(({ problems }) => problems);

interface Act {
  readonly at: number;
  readonly act: (board: Board) => void;
}

export class Player {
  readonly #canvas = el('canvas', {});
  readonly #word = el('p', {});
  readonly #over = el('div', { class: 'mapplay', 'aria-hidden': 'true' }, this.#canvas, this.#word);
  /** Counts what was asked for: what is still on its way when it is let go is dropped. */
  #wish = 0;
  #board: Board | undefined;
  #paused: boolean | undefined;
  #acts: Act[] = [];
  #time = 0;

  constructor(
    private readonly actions: Actions,
    private readonly theme: Theme,
  ) {}

  /** `height` is where the hand is in the window, which is not to be covered [px]. */
  async play(played: Played, text: string, height: number, news: PlayNews): Promise<void> {
    this.#drop();
    const wish = this.#wish;
    const { store } = this.actions;
    this.#paused ??= store.state.paused;
    store.set({ paused: true });
    say(this.#word, text);
    let board: Board;
    try {
      board = await openBoard();
    } catch (cause) {
      if (wish === this.#wish) this.still();
      throw cause;
    }
    if (wish !== this.#wish) {
      board.free();
      return;
    }
    this.#board = board;
    board.inches(played.inches);
    const answer = board.restore(played.opened, played.robot);
    const problems = [...answer.problems.filter(({ severity }) => severity === 'error'), ...turn(board, played.knobs)];
    if (problems.length > 0) {
      this.still();
      news.failed(problems);
      return;
    }
    const { trial } = played;
    const plane = trial.view === 'front' ? FRONT : SIDE;
    board.level(LEVELS[trial.software]);
    this.#lay(height);
    this.#time = 0;
    this.#acts = [];
    this.#run(wish, board, plane);
    // The numbers as the core reads them, and what the trial comes to.
    const out = await lab().run('run', { robot: board.robotFile(), opened: played.opened, inches: played.inches, ...trial, columns: [] });
    if (wish !== this.#wish) return;
    if (refused(out)) {
      news.failed(out.problems);
      return;
    }
    const run = out as RunOut;
    if (!isLive(trial.trial, trial.software)) news.stands();
    this.#acts = plan(board, trial, plane, numbersOf(run.numbers), this.#time);
    news.told(run);
  }

  /** Lets go: the page's run goes on as if nothing had been. */
  still(): void {
    this.#drop();
    this.#over.remove();
    if (this.#paused === undefined) return;
    const paused = this.#paused;
    this.#paused = undefined;
    this.actions.store.set({ paused });
  }

  #drop(): void {
    this.#wish += 1;
    this.#board?.free();
    this.#board = undefined;
    this.#acts = [];
  }

  /** Over the board where that is in sight, else at the end of the window that is farther from the hand. */
  #lay(hand: number): void {
    const seen = document.querySelector('.board')?.getBoundingClientRect();
    const { style } = this.#over;
    if (seen !== undefined && Math.min(seen.bottom, innerHeight) - Math.max(seen.top, 0) > SEEN) {
      const top = Math.max(seen.top, 0);
      Object.assign(style, {
        left: `${seen.left}px`,
        top: `${top}px`,
        width: `${seen.width}px`,
        height: `${Math.min(seen.bottom, innerHeight) - top}px`,
      });
    } else {
      const height = Math.round(innerHeight * 0.34);
      Object.assign(style, { left: '0', top: hand > innerHeight / 2 ? '0' : `${innerHeight - height}px`, width: '100%', height: `${height}px` });
    }
    document.body.append(this.#over);
  }

  #run(wish: number, board: Board, plane: Plane): void {
    const pen = this.#canvas.getContext('2d');
    let last: number | undefined;
    const step = (now: number): void => {
      if (wish !== this.#wish || pen === null) return;
      const passed = last === undefined ? 0 : Math.min(now - last, CATCH_UP);
      last = now;
      while (this.#acts[0] !== undefined && this.#time >= this.#acts[0].at) this.#acts.shift()?.act(board);
      board.advance(Math.round(passed * 1000));
      this.#time += passed / 1000;
      const { clientWidth: width, clientHeight: height } = this.#canvas;
      const sharp = devicePixelRatio;
      const [wide, high] = [Math.round(width * sharp), Math.round(height * sharp)];
      if (this.#canvas.width !== wide || this.#canvas.height !== high) {
        this.#canvas.width = wide;
        this.#canvas.height = high;
      }
      const bits = (this.theme.night() ? LAYER.night : 0) | (forced.matches ? LAYER.forced : 0) | (still.matches ? LAYER.still : 0);
      board.paint(pen, plane, width, height, sharp, bits | this.actions.store.state.layers);
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }
}

/** The inputs of a trial as a visitor would give them; what has none is kicked. */
function plan(board: Board, trial: TrialAsk, plane: Plane, numbers: ReadonlyMap<string, number>, from: number): Act[] {
  const number = (key: string, otherwise: number): number => numbers.get(key) ?? otherwise;
  const facts = board.facts();
  const impulse = number('impulse', facts.kick[plane]);
  const height = number('height', facts.radius);
  const kick = (at: number): Act => ({ at: from + at, act: (it) => it.kick(plane, impulse, height) });
  if (!isLive(trial.trial, trial.software)) return [kick(0)];
  const value = (key: string): number | undefined => board.values().find((one) => one.key === key)?.value;
  const lever = (at: number, share: number): Act => ({ at: from + at, act: (it) => (plane === SIDE ? it.speed(share) : it.lean(share)) });
  const most = value(plane === SIDE ? 'travel.lever_speed' : 'lean.lever_lean') ?? 0;
  const wanted = number(plane === SIDE ? 'speed' : 'lean', most);
  const share = most > 0 ? Math.min(Math.max(wanted / most, -1), 1) : 0;
  const moving = SETTLE_BEFORE + (plane === SIDE ? Math.abs(wanted) / (value('travel.acceleration') ?? 1) : 0);
  switch (trial.trial) {
    case 'kick':
      return [kick(0)];
    case 'double-kick':
      return [kick(0), kick(number('pause', 1))];
    case 'bump':
      return [{ at: from, act: (it) => it.bump(plane, number('impulse', facts.bump[plane])) }];
    case 'start':
    case 'lean-step':
      return [lever(0, share)];
    case 'reverse':
      return [lever(0, share), lever(moving, -share)];
    case 'motors-cut':
      return [lever(0, share), { at: from + moving, act: (it) => it.level(OFF) }];
    case 'emergency-stop':
      return [lever(0, share), { at: from + moving, act: (it) => { it.emergencyStop(); } }];
    case 'radio-lost':
      return [lever(0, share), lever(moving + number('pause', 0.5), 0)];
    default:
      return [lever(0, share), lever(moving, 0)];
  }
}
