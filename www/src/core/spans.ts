// How far to the edge, kept up with the knobs: the spans that tracks show, and what the place Edge
// asks besides. It has a worker of its own, so that no trial is in its way: one question at a time,
// of what is in sight, the latest wish after it. It begins when somebody first turns a knob, opens
// all knobs, or opens Edge.

import type { Actions } from '../actions';
import { Lab } from './lab';
import type { BreakWord, EdgeAsk, EdgeOut, KnobSpans, RestWord } from './lab.edge';
import { VIEW_WORDS, type ViewWord } from './lab.types';
import { refused, type Problem } from './types';

/** Rest after the last change before all is looked through again, not only followed [ms]. */
const REST = 400;

/** What the place Edge asks while it is open. */
export interface Wishes {
  readonly speed: number;
  readonly rest: RestWord;
  /** Spans of all knobs, not only of those in sight. */
  readonly all: boolean;
  readonly poles: boolean;
  readonly curve?: BreakWord | undefined;
  readonly track?: string | undefined;
  readonly oscillations: boolean;
}

/** So many knobs' spans are sought in one question. */
const AT_ONCE = 2;

/** What every question is about. */
type Base = Required<Pick<EdgeAsk, 'robot' | 'opened' | 'inches' | 'view' | 'speed' | 'rest'>>;

const NO_WISHES: Wishes = { speed: 0, rest: 'on', all: false, poles: false, oscillations: false };

/** Keys of the knobs in sight that may have spans. */
function inSight(): string[] {
  const keys = new Set<string>();
  for (const knob of document.querySelectorAll<HTMLElement>('.knob[data-key]:not(.choice)')) {
    const key = knob.dataset['key'];
    if (key !== undefined && knob.offsetParent !== null) keys.add(key);
  }
  return [...keys];
}

export class Edges {
  readonly #lab = new Lab();
  readonly #listeners: ((out: EdgeOut) => void)[] = [];
  readonly #spanListeners: ((out: EdgeOut, spans: readonly KnobSpans[]) => void)[] = [];
  readonly #troubles: ((problems: readonly Problem[]) => void)[] = [];
  #wishes: (() => Wishes) | undefined;
  #begun = false;
  #busy = false;
  #wanted = false;
  /** The last answer's spans, and what they are of. */
  #before: readonly KnobSpans[] = [];
  #of = '';
  /** Keys and names of the knobs that have spans, by view and software. */
  readonly #offered = new Map<string, readonly (readonly [string, string])[]>();
  /** Whether the last answer was only followed, not sought from nothing. */
  #followed = false;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(private readonly actions: Actions) {
    const { store } = actions;
    const { knobs } = store.state;
    store.watch(['knobs', 'robot', 'units', 'active', 'shown', 'allKnobs', 'place'], (state) => {
      if (!this.#begun) this.#begun = state.knobs !== knobs || state.allKnobs || state.place === 'edge';
      if (this.#begun) this.soon();
    });
    // Other knobs come into sight.
    document.addEventListener('toggle', () => {
      if (this.#begun) this.soon();
    }, true);
    document.addEventListener('input', ({ target }) => {
      if (this.#begun && target instanceof HTMLElement && target.classList.contains('find')) this.soon();
    });
  }

  /** Whoever shows the answers: all but the spans, and the spans; `trouble` tells why there are none. */
  listen(listener: (out: EdgeOut) => void, spans: (out: EdgeOut, spans: readonly KnobSpans[]) => void, trouble: (problems: readonly Problem[]) => void): void {
    this.#listeners.push(listener);
    this.#spanListeners.push(spans);
    this.#troubles.push(trouble);
  }

  /** Keys and names of the knobs that have spans, once they are known. */
  offered(view: ViewWord, rest: RestWord): readonly (readonly [string, string])[] {
    return this.#offered.get(`${view} ${rest}`) ?? [];
  }

  /** What is asked besides the spans in sight, from now on; nothing when Edge is closed. */
  wish(wishes: (() => Wishes) | undefined): void {
    this.#wishes = wishes;
    this.#begun = true;
    this.soon();
  }

  /** Asks when what is asked now has been answered; several wishes in one turn are one. */
  soon(): void {
    if (this.#wanted) return;
    this.#wanted = true;
    if (!this.#busy) queueMicrotask(() => void this.#go());
  }

  async #go(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    clearTimeout(this.#timer);
    while (this.#wanted) {
      this.#wanted = false;
      await this.#ask();
    }
    this.#busy = false;
    if (!this.#followed) return;
    // At rest all is looked through again: an edge that has only now come about is not followed.
    this.#timer = setTimeout(() => void this.#rest(), REST);
  }

  async #rest(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    await this.#scan();
    this.#busy = false;
    if (this.#wanted) void this.#go();
  }

  /** Follows what is known; of a robot that is not, first what is quick, then the spans. */
  async #ask(): Promise<void> {
    const of = JSON.stringify(this.#base(), (key, value: unknown) => (key === 'robot' ? undefined : value));
    if (of !== this.#of) {
      this.#of = of;
      this.#before = [];
    }
    const { all, ...wishes } = this.#wishes?.() ?? NO_WISHES;
    if (this.#before.length === 0) {
      if (this.#wishes !== undefined) await this.#send({ ...wishes, spans: [] });
      if (!this.#wanted) await this.#scan();
      return;
    }
    const seen = all ? undefined : inSight();
    const before = this.#before.filter(({ key }) => seen?.includes(key) !== false);
    if (this.#wishes === undefined && before.length === 0) {
      // Others may be in sight that are not known yet.
      await this.#scan();
      return;
    }
    const out = await this.#send({ ...wishes, spans: before.map(({ key }) => key), before });
    this.#followed = out !== undefined;
    if (out !== undefined) this.#tell(out, out.spans);
  }

  /** Seeks spans from nothing, a few at a time, so that a knob that is turned need not wait. */
  async #scan(): Promise<void> {
    const { all } = this.#wishes?.() ?? NO_WISHES;
    const seen = inSight();
    if (!all && seen.length === 0) return;
    const { view, rest } = this.#base();
    const offered = this.offered(view, rest);
    if (offered.length === 0) {
      const out = await this.#send({});
      if (out === undefined) return;
      this.#offered.set(`${view} ${rest}`, out.spans.map(({ key, label }) => [key, label] as const));
      this.#followed = false;
      this.#tell(out, out.spans);
      return;
    }
    const keys = offered.map(([key]) => key).filter((key) => all || seen.includes(key));
    const rows = new Map(this.#before.filter(({ key }) => keys.includes(key)).map((row) => [row.key, row]));
    for (let at = 0; at < keys.length; at += AT_ONCE) {
      if (this.#wanted) return;
      const out = await this.#send({ spans: keys.slice(at, at + AT_ONCE) });
      if (out === undefined) return;
      for (const row of out.spans) rows.set(row.key, row);
      this.#tell(out, keys.flatMap((key) => rows.get(key) ?? []));
    }
    this.#followed = false;
  }

  #base(): Base {
    const { board, store } = this.actions;
    const { active, units } = store.state;
    const { speed, rest } = this.#wishes?.() ?? NO_WISHES;
    const view = VIEW_WORDS[active] ?? 'side';
    return { robot: board.robotFile(), opened: board.openedFile(), inches: units === 'inch', view, speed, rest };
  }

  /** One question; nothing is answered to one that was refused or is no longer asked. */
  async #send({ curve, track, ...part }: { curve?: BreakWord | undefined; track?: string | undefined } & Omit<Partial<EdgeAsk>, 'curve' | 'track'>): Promise<
    EdgeOut | undefined
  > {
    const ask: EdgeAsk = {
      ...this.#base(),
      ...part,
      ...(curve === undefined ? {} : { curve }),
      ...(track === undefined ? {} : { track }),
    };
    const answer = await this.#lab.run('edge', ask);
    if (refused(answer)) {
      this.#before = [];
      this.#followed = false;
      this.actions.store.set({ spans: undefined });
      for (const tell of this.#troubles) tell(answer.problems);
      return undefined;
    }
    const out = answer as EdgeOut;
    // Meanwhile another view may be looked at.
    if (VIEW_WORDS[this.actions.store.state.active] !== out.view) return undefined;
    if (ask.poles !== undefined) for (const listen of this.#listeners) listen(out);
    return out;
  }

  #tell(out: EdgeOut, spans: readonly KnobSpans[]): void {
    this.#before = spans;
    this.actions.store.set({ spans: new Map(spans.map((row) => [row.key, row])) });
    for (const listen of this.#spanListeners) listen(out, spans);
  }
}

let only: Edges | undefined;

/** The page's one. */
export function edgesOf(actions: Actions): Edges {
  only ??= new Edges(actions);
  return only;
}
