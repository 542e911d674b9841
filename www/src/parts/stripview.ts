// One strip as it is seen, heard and used by keys: title, chart, the values at the time looked
// at, and a table of them. It knows nothing of where its traces come from, so that live runs and
// kept ones are shown alike.

import { button, clamp, el, say } from '../dom';
import { words } from '../words/page';
import { Plot, type Curve } from './plot';
import { openTable } from './striptable';

/** Whose trace it is: the robot's, its double's, or that of the run before. */
export type Who = 'a' | 'b' | 'was';

export interface Trace {
  readonly who: Who;
  /** [s], since what set the run going. */
  readonly times: ArrayLike<number>;
  readonly values: ArrayLike<number>;
}

export interface Shown {
  readonly from: number;
  readonly to: number;
  readonly half: number;
  readonly least: number;
  readonly traces: readonly Trace[];
  /** Whether the software is on: the robot's ink says it. */
  readonly software: boolean;
  /** A limit and its word. */
  readonly limit?: { readonly value: number; readonly word: string; readonly passed: boolean } | undefined;
  /** Time looked at. */
  readonly cursor: number | undefined;
}

/** What a strip measures. */
export interface Kind {
  /** "swing" */
  readonly name: string;
  /** What it is called by those who do not see it: "swing, side view". */
  readonly label: string;
  /** "°" */
  readonly unit: string;
  /** Decimals of a value read. */
  readonly digits: number;
}

/** What hands do on a strip. */
export interface Hands {
  /** The pointer is over this time, or has left. */
  readonly hover: (time: number | undefined) => void;
  /** This time is to be looked at. */
  readonly look: (time: number) => void;
}

const STEP = 0.05;
const LEAP = 0.5;
const DASH: Readonly<Record<Who, readonly number[]>> = { a: [], b: [9, 3, 2, 3], was: [3, 3] };
/** Painted from the back to the front. */
const ORDER: readonly Who[] = ['was', 'b', 'a'];

/** A trace's value at a time, on the straight line between its points; none outside them. */
export function valueAt({ times, values }: Trace, time: number): number | undefined {
  const last = times.length - 1;
  const slack = 1e-6;
  if (last < 0 || !(time >= (times[0] ?? 0) - slack) || time > (times[last] ?? 0) + slack) return undefined;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) <= time) low = middle;
    else high = middle;
  }
  const [t0, t1, v0, v1] = [times[low] ?? 0, times[high] ?? 0, values[low] ?? 0, values[high] ?? 0];
  return t1 > t0 ? v0 + (v1 - v0) * clamp((time - t0) / (t1 - t0), 0, 1) : v0;
}

export class StripView {
  readonly element: HTMLElement;
  /** Where more links of the caption may go. */
  readonly links = el('span', { class: 'links' });
  readonly #title = el('span', { class: 'title' });
  readonly #limit = el('span', { class: 'limit' });
  readonly #readings = el('p', { class: 'readings', 'aria-hidden': 'true', hidden: true });
  readonly #plot: Plot;
  #kind: Kind;
  #shown: Shown | undefined;
  #cursor: number | undefined;

  constructor(
    kind: Kind,
    private readonly hands: Hands,
    /** Called when it must be shown anew: another size. */
    changed: () => void,
  ) {
    this.#kind = kind;
    const box = el('div', { class: 'plot', role: 'slider', tabindex: 0 });
    this.#plot = new Plot(box, (value) => words.strip.axis(value), changed);
    this.links.append(
      button(words.strip.table, { class: 'link' }, () => {
        const shown = this.#shown;
        if (shown !== undefined) openTable(this.#kind, shown.traces, shown.from, this.#last());
      }),
    );
    this.element = el(
      'figure',
      { class: 'strip' },
      el('figcaption', {}, this.#title, this.links),
      el('div', { class: 'stripbox' }, box, this.#limit, this.#readings),
    );
    this.#box = box;
    this.#listen(box);
    this.retitle(kind);
  }
  readonly #box: HTMLElement;

  retitle(kind: Kind): void {
    this.#kind = kind;
    say(this.#title, words.strip.title(kind.name, kind.unit));
    this.#box.setAttribute('aria-label', words.strip.label(kind.label, kind.unit));
    this.links.firstElementChild?.setAttribute('aria-label', words.strip.tableOf(kind.label));
    this.#tell();
  }

  /** Takes the colours of day or night; to be shown anew after it. */
  forgetColors(): void {
    this.#plot.forgetColors();
  }

  show(shown: Shown): void {
    this.#shown = shown;
    this.#cursor = shown.cursor;
    const plot = this.#plot;
    const color: Readonly<Record<Who, string>> = {
      a: plot.color(shown.software ? '--with-software' : '--without-software'),
      b: plot.color('--double'),
      was: plot.color('--before'),
    };
    const curves = ORDER.flatMap((who): Curve[] =>
      shown.traces
        .filter((trace) => trace.who === who)
        .map(({ times, values }) => ({ times, values, color: color[who], width: who === 'a' ? 2 : 1.5, dash: DASH[who] })),
    );
    const { limit } = shown;
    plot.draw({
      from: shown.from,
      to: shown.to,
      half: shown.half,
      least: shown.least,
      curves,
      limit: limit === undefined ? undefined : { value: limit.value, color: plot.color(limit.passed ? '--limit' : '--muted') },
      cursor: shown.cursor,
    });
    say(this.#limit, limit === undefined ? '' : words.strip.limit(limit.word, limit.passed));
    this.#limit.classList.toggle('passed', limit?.passed === true);
    this.#tell();
  }

  /** The time looked at [s], if there is one. */
  get at(): number | undefined {
    return this.#cursor;
  }

  /** Moves the cursor without drawing the strip anew. */
  cursor(time: number | undefined): void {
    if (time === this.#cursor) return;
    this.#cursor = time;
    this.#plot.cursor(time);
    this.#tell();
  }

  /** Values at a time as text; without their unit beside a title that says it. */
  reading(time: number, unit = this.#kind.unit): string {
    const { digits } = this.#kind;
    const traces = this.#shown?.traces ?? [];
    const several = traces.length > 1;
    const told = (['a', 'b', 'was'] as const).flatMap((who) => {
      const trace = traces.find((one) => one.who === who);
      if (trace === undefined || trace.times.length === 0) return [];
      return [words.strip.value(several ? who : undefined, valueAt(trace, time), digits, unit)];
    });
    return words.strip.reading(time, told);
  }

  /** Last time of any trace but the run before's [s]. */
  #last(): number {
    let last = 0;
    for (const { who, times } of this.#shown?.traces ?? []) {
      if (who !== 'was') last = Math.max(last, times[times.length - 1] ?? 0);
    }
    return last;
  }

  #tell(): void {
    const time = this.#cursor;
    this.#readings.hidden = time === undefined;
    if (time !== undefined) say(this.#readings, this.reading(time, ''));
    // By keys it is a slider; a text that changes all the time would be read all the time.
    if (time === undefined && document.activeElement !== this.#box && this.#box.hasAttribute('aria-valuetext')) {
      if (this.#box.getAttribute('aria-valuetext') === words.strip.running) return;
    }
    const now = time ?? this.#last();
    this.#box.setAttribute('aria-valuemin', (this.#shown?.from ?? 0).toFixed(2));
    this.#box.setAttribute('aria-valuemax', Math.max(this.#last(), now).toFixed(2));
    this.#box.setAttribute('aria-valuenow', now.toFixed(2));
    this.#box.setAttribute('aria-valuetext', time === undefined ? words.strip.running : this.reading(time));
  }

  #listen(box: HTMLElement): void {
    const { area } = this.#plot;
    let held = false;
    area.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      held = true;
      area.setPointerCapture(event.pointerId);
      this.hands.look(this.#plot.timeAt(event.clientX));
    });
    area.addEventListener('pointermove', (event) => {
      const time = this.#plot.timeAt(event.clientX);
      if (held) this.hands.look(time);
      else if (event.pointerType === 'mouse') this.hands.hover(time);
    });
    area.addEventListener('pointerleave', () => {
      this.hands.hover(undefined);
    });
    for (const end of ['pointerup', 'pointercancel'] as const) {
      area.addEventListener(end, () => {
        held = false;
      });
    }
    box.addEventListener('keydown', (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const { from = 0 } = this.#shown ?? {};
      const last = this.#last();
      const now = this.#cursor ?? last;
      const step = event.shiftKey ? LEAP : STEP;
      const to = {
        ArrowLeft: now - step,
        ArrowDown: now - step,
        ArrowRight: now + step,
        ArrowUp: now + step,
        PageDown: now - LEAP,
        PageUp: now + LEAP,
        Home: from,
        End: last,
      }[event.key];
      if (to === undefined) return;
      event.preventDefault();
      event.stopPropagation();
      this.hands.look(clamp(to, from, last));
    });
  }
}

/** Strips that share one cursor, for runs that are over. */
export function linkStrips(
  views: readonly StripView[],
  linked: (time: number | undefined) => void = () => undefined,
): Hands & { readonly clear: () => void } {
  let kept: number | undefined;
  const all = (time: number | undefined): void => {
    for (const view of views) view.cursor(time);
    linked(time);
  };
  return {
    hover: (time) => {
      all(time ?? kept);
    },
    look: (time) => {
      kept = time;
      all(time);
    },
    clear: () => {
      kept = undefined;
      all(undefined);
    },
  };
}
