// The strips under the board: two at first, four on one press. They share one cursor with the
// slider that looks back. Their ranges grow by whole steps and shrink only with a new run.

import type { Actions } from '../actions';
import { FRONT, OFF, SIDE, type Plane } from '../core/types';
import { button, clamp } from '../dom';
import type { Loop, Seen } from '../loop';
import { STILL_EVERY, stillsWanted } from '../stills';
import type { Theme } from '../theme';
import { FOOT } from '../words/numbers';
import { words } from '../words/page';
import { StripView, type Kind, type Shown, type Trace } from './stripview';

/** A strip shows at least this long a time [s]. */
const WIDTH = 10;
/** Farthest look back [s]. */
const BACK = 20;
/** Between two drawings of a strip [ms]. */
const PERIOD = 33;
/** A current below this share of the scale is a ripple, not a current that flows back. */
const RIPPLE = 0.04;
const FUSE = 'fuse.rating';

/** Greatest values of a scale, by the unit shown: the next is taken when one is passed. */
const HEIGHTS: Readonly<Record<string, readonly number[]>> = {
  '°': [5, 10, 20, 30, 45, 60, 90, 180, 360, 720, 1440, 2880, 5760],
  'm/s': [0.5, 1, 2, 3, 5, 10, 20, 50, 100],
  'ft/s': [2, 5, 10, 20, 50, 100, 200, 400],
  A: [2, 5, 10, 20, 30, 50, 100, 200, 300, 500, 1000, 2000],
};
const DIGITS: Readonly<Record<string, number>> = { '°': 1, 'm/s': 2, 'ft/s': 2, A: 1 };

function unitOf(column: string, inches: boolean): string {
  if (column === 'supply_current') return 'A';
  return column !== 'speed' ? '°' : inches ? 'ft/s' : 'm/s';
}

interface Choice {
  readonly plane: Plane;
  readonly column: string;
}

/** What the four strips show; the first two are always there. */
function choices(shown: 'one' | 'both', active: Plane): readonly Choice[] {
  if (shown === 'both') {
    return [
      { plane: SIDE, column: 'swing' },
      { plane: FRONT, column: 'roll' },
      { plane: SIDE, column: 'speed' },
      { plane: SIDE, column: 'supply_current' },
    ];
  }
  const columns = [active === FRONT ? 'roll' : 'swing', 'tilt', 'speed', 'supply_current'];
  return columns.map((column) => ({ plane: active, column }));
}

function kindOf({ plane, column }: Choice, inches: boolean): Kind {
  const name = words.strip.names[column] ?? column;
  const unit = unitOf(column, inches);
  return { name, label: words.strip.of(name, plane), unit, digits: DIGITS[unit] ?? 1 };
}

/** One strip with what it was last drawn for. */
class Live {
  readonly view: StripView;
  drawn = -Infinity;
  /** Since the push [s]. */
  seconds = 0;
  #run = -1;
  #half = 0;
  #flows = false;

  constructor(
    private readonly actions: Actions,
    public choice: Choice,
    look: (live: Live, time: number) => void,
    hover: (live: Live, time: number | undefined) => void,
    changed: () => void,
  ) {
    this.view = new StripView(
      kindOf(choice, actions.store.state.units === 'inch'),
      {
        look: (time) => {
          look(this, time);
        },
        hover: (time) => {
          hover(this, time);
        },
      },
      () => {
        this.drawn = -Infinity;
        changed();
      },
    );
  }

  choose(choice: Choice): void {
    if (choice.plane === this.choice.plane && choice.column === this.choice.column) return;
    this.choice = choice;
    this.renew();
  }

  /** What it shows, or the unit it is shown in, is another now. */
  renew(): void {
    this.#run = -1;
    this.drawn = -Infinity;
    this.view.retitle(kindOf(this.choice, this.actions.store.state.units === 'inch'));
  }

  read({ frame, layout }: Seen): number {
    const at = layout.planes[this.choice.plane];
    this.seconds = frame[at + layout.run.seconds] ?? 0;
    return frame[at + layout.run.number] ?? 0;
  }

  isNew(run: number): boolean {
    return run !== this.#run;
  }

  draw(run: number, cursor: number | undefined): void {
    const { board, store } = this.actions;
    const { plane, column } = this.choice;
    const unit = unitOf(column, store.state.units === 'inch');
    const flat = board.strip(plane, column);
    let at = 0;
    const traces = (['a', 'was', 'b'] as const).flatMap((who): Trace[] => {
      const count = flat[at] ?? 0;
      const times = flat.subarray(at + 1, at + 1 + count);
      const metric = flat.subarray(at + 1 + count, at + 1 + 2 * count);
      const values = unit === 'ft/s' ? metric.map((value) => value / FOOT) : metric;
      at += 1 + 2 * count;
      return count > 0 ? [{ who, times, values }] : [];
    });
    if (this.isNew(run)) {
      this.#run = run;
      this.#half = HEIGHTS[unit]?.[0] ?? 1;
      this.#flows = false;
    }
    for (const { values } of traces) this.#grow(values, unit);
    // Past its width the strip runs under the pen, second by second.
    const from = this.seconds <= WIDTH ? 0 : Math.ceil(this.seconds - WIDTH);
    const current = column === 'supply_current';
    this.view.show({
      from,
      to: from + WIDTH,
      half: this.#half,
      least: current && !this.#flows ? 0 : -this.#half,
      traces,
      software: store.state.level !== OFF,
      limit: current ? this.#limit(traces) : undefined,
      cursor,
    });
  }

  #grow(values: ArrayLike<number>, unit: string): void {
    let most = 0;
    let least = 0;
    for (let i = 0; i < values.length; i++) {
      const value = values[i] ?? 0;
      if (value > most) most = value;
      else if (value < least) least = value;
    }
    const height = Math.max(most, -least);
    if (height > this.#half) this.#half = HEIGHTS[unit]?.find((one) => one >= height) ?? height;
    if (least < -RIPPLE * this.#half) this.#flows = true;
  }

  /** The fuse's rating: what the supply's wire may carry for long. */
  #limit(traces: readonly Trace[]): Shown['limit'] {
    const fuse = this.actions.value(FUSE);
    if (fuse === undefined) return undefined;
    const passed = traces.some(({ who, values }) => {
      if (who === 'was') return false;
      for (let i = 0; i < values.length; i++) if (Math.abs(values[i] ?? 0) > fuse.value) return true;
      return false;
    });
    return { value: fuse.value, word: words.strip.fuse(fuse.text), passed };
  }
}

/** Lays the strips into their box. */
export function fillStrips(element: HTMLElement, actions: Actions, loop: Loop, theme: Theme): void {
  const { store } = actions;
  /** The strip and time that the pointer is over. */
  let over: { readonly live: Live; readonly time: number } | undefined;
  const touch = (): void => {
    loop.touch();
  };
  const look = (live: Live, time: number): void => {
    actions.scrub(clamp(live.seconds - time, 0, BACK));
  };
  const hover = (live: Live, time: number | undefined): void => {
    if (time === undefined) {
      if (over?.live === live) over = undefined;
    } else {
      over = { live, time };
    }
    moveCursor();
  };
  const { shown, active } = store.state;
  const lives = choices(shown === 'both' ? 'both' : 'one', active).map(
    (choice) => new Live(actions, choice, look, hover, touch),
  );
  element.append(...lives.map(({ view }) => view.element));

  /** How far back the cursor is [s], if there is one. */
  const back = (): number | undefined => {
    if (over !== undefined) return over.live.seconds - over.time;
    return store.state.back > 0 ? store.state.back : undefined;
  };
  const cursorOf = (live: Live): number | undefined => {
    const seconds = back();
    return seconds === undefined ? undefined : live.seconds - seconds;
  };
  const moveCursor = (): void => {
    for (const live of lives) live.view.cursor(cursorOf(live));
  };

  const more = button('', { class: 'link count' }, () => {
    store.set({ four: !store.state.four });
  });
  store.watch(['four'], ({ four }) => {
    more.textContent = four ? words.strip.two : words.strip.four;
    more.setAttribute('aria-pressed', String(four));
    element.classList.toggle('four', four);
    for (const [index, { view }] of lives.entries()) view.element.hidden = index > 1 && !four;
    // On the last strip that is there: the box's lower corner.
    lives[four ? 3 : 0]?.view.links.append(more);
    touch();
  });
  store.watch(['shown', 'active'], (state) => {
    const chosen = choices(state.shown === 'both' ? 'both' : 'one', state.active);
    for (const [index, choice] of chosen.entries()) lives[index]?.choose(choice);
    touch();
  });
  store.watch(['units'], () => {
    for (const live of lives) live.renew();
    touch();
  });
  theme.onChange(() => {
    for (const live of lives) {
      live.view.forgetColors();
      live.drawn = -Infinity;
    }
    touch();
  });
  let turn = 0;
  loop.readLate((seen, now) => {
    const { paused, four } = store.state;
    const period = stillsWanted(store.state) ? STILL_EVERY : PERIOD;
    // Under an open place they may be out of sight.
    if (element.offsetParent === null) return;
    turn = 1 - turn;
    for (const [index, live] of lives.entries()) {
      if (index > 1 && !four) continue;
      const run = live.read(seen);
      const due = now - live.drawn >= period;
      // Half of them in each frame, so that no frame is long.
      const itsTurn = index % 2 === turn || now - live.drawn > 2 * period;
      if (!live.isNew(run) && !paused && !(due && itsTurn)) continue;
      live.drawn = now;
      live.draw(run, cursorOf(live));
    }
  });
}
