// One try: a countdown in the robot's own time, then kicks by plan, the lever's way as duty in every frame, and
// at its end the record from which the core scores it.

import type { Actions } from '../../actions';
import type { KicksOut } from '../../core/lab.types';
import { OFF, type LiveRecord, type Plane } from '../../core/types';
import type { Seen } from '../../loop';
import type { Rate } from '../../store';
import { handWords as words } from '../../words/hand';
import type { HandInput } from './inputs';

/** Countdown [s]. */
export const FROM = 3;
/** Length of a try [s]. */
export const SECONDS = 20;
/** A change of the duty below this is not worth a row of the log. */
const HAIR = 0.002;

export interface Setup {
  readonly plane: Plane;
  readonly input: HandInput;
  /** Duty of the lever's whole way. */
  readonly strength: number;
  /** Seed of the kicks. */
  readonly kicks: number;
  readonly rate: Rate;
  /** Whether the software's robot is shown beside. */
  readonly beside: boolean;
}

/** What a try shows of itself. */
export interface TryNews {
  /** Seconds since the try began, negative in the countdown; the angle judged and the head's [rad]; the input's way. */
  readonly frame: (seconds: number, angle: number, head: number, share: number) => void;
  /** Something to be said while it goes on. */
  readonly say: (text: string) => void;
  readonly done: (record: LiveRecord, early: boolean) => void;
  readonly stopped: (why: string) => void;
}

export class Try {
  #over = false;
  #duty = 0;
  #last = 0;
  #silent = '';
  /** Changes of the page that it was begun with. */
  readonly #knobs: number;
  readonly #rests: number;

  constructor(
    private readonly actions: Actions,
    readonly setup: Setup,
    readonly plan: KicksOut,
    private readonly news: TryNews,
  ) {
    const { board, store } = actions;
    const { plane, rate, beside, input } = setup;
    actions.undouble();
    actions.show(plane === 0 ? 'side' : 'front');
    actions.level(OFF);
    if (beside) actions.doubleOn(words.contest.software);
    // Who steadies it must see it move, also where stills are asked for.
    store.set({ rate, motion: true });
    actions.resetRun();
    board.plan(
      plane,
      plan.plan.map((number, index) => (index % 3 === 0 ? number + FROM : number)),
    );
    actions.hand(plane, 0);
    input.zero();
    this.#knobs = store.state.knobs;
    this.#rests = actions.rests;
    document.addEventListener('visibilitychange', this.#hidden);
  }

  /** Looks at a frame; the duty it sets is that of the next ticks. */
  look({ frame, layout }: Seen, now: number): void {
    if (this.#over) return;
    const { plane, input, strength } = this.setup;
    const at = (name: string): number => frame[layout.planes[plane] + (layout.columns[name] ?? 0)] ?? 0;
    const time = at('time');
    const ended = (frame[layout.planes[plane] + layout.run.ended] ?? 0) !== 0;
    const why = this.#broken(time);
    this.#last = time;
    if (why !== '') {
      this.stop(why);
      return;
    }
    const silent = input.silent(now);
    if (silent !== this.#silent) {
      this.#silent = silent;
      this.news.say(silent === '' ? words.contest.backAgain : silent);
      if (silent === '') input.zero();
    }
    const share = silent === '' ? input.share(now) : 0;
    // In the countdown the robot stands still, and the lever can be found.
    this.#put(time < FROM ? 0 : share * strength);
    this.news.frame(time - FROM, at(plane === 0 ? 'swing' : 'roll'), plane === 0 ? at('tilt') : 0, share);
    if (!ended && time < FROM + SECONDS) return;
    this.#end();
    const record = this.actions.board.record(plane);
    this.#letGo();
    this.news.done(record, ended);
  }

  stop(why: string): void {
    if (this.#over) return;
    this.#end();
    this.#put(0);
    this.#letGo();
    this.news.stopped(why);
  }

  /** What makes it no try any more. */
  #broken(time: number): string {
    const { actions } = this;
    const { paused, rate, knobs, back, shown } = actions.store.state;
    // A try may be so young that its time tells nothing.
    if (actions.rests !== this.#rests || time < this.#last) return words.stopped.anew;
    if (actions.byHand === undefined) return words.stopped.switched;
    if (paused || back > 0) return words.stopped.paused;
    if (rate !== this.setup.rate) return words.stopped.rate;
    if (knobs !== this.#knobs) return words.stopped.knob;
    if (shown !== 'both' && (shown === 'side') !== (this.setup.plane === 0)) return words.stopped.turned;
    return '';
  }

  #put(duty: number): void {
    if (Math.abs(duty - this.#duty) < HAIR && (duty === 0) === (this.#duty === 0)) return;
    this.#duty = duty;
    if (this.actions.byHand !== undefined) this.actions.hand(this.setup.plane, duty);
  }

  #end(): void {
    this.#over = true;
    document.removeEventListener('visibilitychange', this.#hidden);
    this.setup.input.stop();
  }

  /** The motors off, and nobody at the lever. */
  #letGo(): void {
    if (this.actions.byHand !== undefined) this.actions.level(OFF);
  }

  readonly #hidden = (): void => {
    if (document.hidden) this.stop(words.stopped.hidden);
  };
}
