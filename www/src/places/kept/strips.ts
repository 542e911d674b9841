// Strips of a kept run: the same ones as under the board, with one cursor, keys and tables; its
// double's traces where one ran.

import { onScratch } from '../../core/scratch';
import { el } from '../../dom';
import { linkStrips, StripView, type Kind, type Shown, type Trace } from '../../parts/stripview';
import type { Store } from '../../store';
import type { Theme } from '../../theme';
import { FOOT } from '../../words/numbers';
import { words as page } from '../../words/page';
import { words } from '../../words/kept';
import type { KeptRun, KeptStrip, KeptTrace } from './record';

const DIGITS: Readonly<Record<string, number>> = { '°': 1, A: 1 };
/** A current below this share of the scale is a ripple, not a current that flows back. */
const RIPPLE = 0.04;
const CURRENT = 'supply_current';
const FUSE = 'fuse.rating';

type Fuse = { readonly value: number; readonly text: string } | undefined;

/** Made once and shown for one run after another: a chart is costly to make. */
export class KeptStrips {
  readonly element = el('div', { class: 'keptstrips' });
  readonly #note = el('p', { class: 'note' });
  readonly #views = new Map<string, StripView>();
  /** Those of the run shown. */
  readonly #linked: StripView[] = [];
  readonly #hands = linkStrips(this.#linked);
  #draw: readonly (() => void)[] = [];
  /** Robot file of the run shown. */
  #robot = '';

  #run: KeptRun | undefined;

  constructor(
    theme: Theme,
    private readonly store: Store,
  ) {
    store.watch(['units'], () => {
      if (this.#run !== undefined && this.element.isConnected) this.show(this.#run);
    });
    theme.onChange(() => {
      for (const view of this.#views.values()) view.forgetColors();
      this.#drawAll();
    });
  }

  show(run: KeptRun): void {
    this.#run = run;
    this.#robot = run.now;
    // What never left zero tells nothing, and the ball's turning seen from the side is its way.
    const strips = Object.entries(run.strips).filter(
      ([column, { values }]) => values.some((value) => value !== 0) && !(column === 'roll' && run.view === 'side'),
    );
    this.#note.textContent = strips.length === 0 ? words.detail.noStrip : words.detail.readHere;
    const shown = strips.map(([column, strip]) => this.#one(run, column, strip));
    this.#linked.splice(0, this.#linked.length, ...shown.map(({ view }) => view));
    // A cursor of the run before would stand at a time of its own.
    this.#hands.clear();
    this.#draw = shown.map(({ draw }) => draw);
    this.element.replaceChildren(this.#note, ...this.#linked.map(({ element }) => element));
    this.#drawAll();
    const limited = shown.find(({ column }) => column === CURRENT);
    if (limited !== undefined) void this.#limit(run, limited.limit);
  }

  /** The fuse's rating, as the core reads it from the robot's file. */
  async #limit({ opened, now }: KeptRun, limit: (fuse: Fuse) => void): Promise<void> {
    const fuse = await onScratch((board): Fuse => {
      board.restore(opened, now);
      return board.values().find(({ key }) => key === FUSE);
    });
    if (this.#robot !== now) return;
    limit(fuse);
    this.#drawAll();
  }

  #drawAll(): void {
    for (const draw of this.#draw) draw();
  }

  #one(
    run: KeptRun,
    column: string,
    kept: KeptStrip,
  ): { readonly column: string; readonly view: StripView; readonly draw: () => void; readonly limit: (fuse: Fuse) => void } {
    const feet = kept.shown === 'm/s' && this.store.state.units === 'inch';
    const strip = feet ? { ...kept, shown: 'ft/s', scale: kept.scale / FOOT } : kept;
    const name = page.strip.names[column] ?? strip.label;
    const kind: Kind = {
      name,
      label: words.detail.strip(name, run.view),
      unit: strip.shown,
      digits: DIGITS[strip.shown] ?? 2,
    };
    let view = this.#views.get(column);
    if (view === undefined) {
      view = new StripView(kind, this.#hands, () => {
        this.#drawAll();
      });
      this.#views.set(column, view);
    }
    const made = view;
    made.retitle(kind);
    const traces = tracesOf(strip);
    const [least, half] = range(traces, column === CURRENT);
    const last = Math.max(...traces.map(({ times }) => times[times.length - 1] ?? 0));
    const from = Math.min(0, ...traces.map(({ times }) => times[0] ?? 0));
    const software = hasSoftware(run);
    let limit: Shown['limit'];
    const draw = (): void => {
      const cursor = made.at;
      made.show({ from, to: Math.max(last, from + 0.1), half, least, traces, software, limit, cursor });
    };
    return {
      column,
      view: made,
      draw,
      limit: (fuse) => {
        if (fuse === undefined) return;
        const passed = traces.some(({ values }) => Array.from(values).some((value) => Math.abs(value) > fuse.value));
        limit = { value: fuse.value, word: page.strip.fuse(fuse.text), passed };
      },
    };
  }
}

/** Whether the software was on at last; a robot stands on the board without. */
function hasSoftware({ source }: KeptRun): boolean {
  if (source.kind === 'trial') return source.setting.software !== 'off';
  const last = source.log.findLast(([, word]) => word === 'level' || word === 'stop');
  return last?.[1] === 'level' && last[2] !== 0;
}

function tracesOf(strip: KeptStrip): readonly Trace[] {
  const shown = ({ times, values }: KeptTrace): Omit<Trace, 'who'> => ({ times, values: values.map((value) => value * strip.scale) });
  const { double } = strip;
  return [{ who: 'a', ...shown(strip) }, ...(double === undefined ? [] : [{ who: 'b' as const, ...shown(double) }])];
}

/** Least and greatest of a scale; a current that does not flow back has none below zero. */
function range(traces: readonly Trace[], current: boolean): readonly [number, number] {
  let most = 0;
  let least = 0;
  for (const { values } of traces) {
    for (let i = 0; i < values.length; i++) {
      most = Math.max(most, values[i] ?? 0);
      least = Math.min(least, values[i] ?? 0);
    }
  }
  const half = nice(Math.max(most, -least));
  return [current && least >= -RIPPLE * half ? 0 : -half, half];
}

/** The next of 1, 2, 5, 10 … that holds it. */
function nice(most: number): number {
  if (!(most > 0)) return 1;
  const ten = 10 ** Math.floor(Math.log10(most));
  return ([1, 2, 5, 10].find((step) => step * ten >= most) ?? 10) * ten;
}
