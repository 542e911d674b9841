// What a lesson can look at: the runs since its step began, those that it kept, knobs, switch and
// view. Everything here comes from the core; nothing looks at what was pressed.

import type { Actions } from '../../actions';
import type { RunOut } from '../../core/lab.types';
import { FRONT, SIDE, type Level, type Plane, type Results } from '../../core/types';
import type { Seen } from '../../loop';
import { LEVELS, VIEWS, type Amount, type Condition, type View } from './format';
import { readFormula } from './formula';
import { pieces, said } from './text';
import type { UnitWord } from './format';

export interface Reading {
  /** [SI]; missing where the run gives none. */
  readonly value?: number;
  readonly text: string;
  readonly label: string;
}

/** A run as a lesson sees it. */
export interface Run {
  readonly trial: string;
  readonly view: View;
  /** The switch stood there all the time; missing if it was moved. */
  readonly level?: Level;
  /** No knob was turned since it began. */
  readonly pure: boolean;
  readonly seconds: number;
  readonly over: boolean;
  readonly outcome: string;
  readonly outcomeClass: string;
  readonly measures: ReadonlyMap<string, Reading>;
}

/** What is kept under a name: a run, or the answer of a search. */
export type Kept = Run | { readonly value: number; readonly text: string };

const isRun = (kept: Kept | undefined): kept is Run => kept !== undefined && 'measures' in kept;

export const runOfJob = (out: RunOut): Run => ({
  trial: out.trial,
  view: out.view,
  level: LEVELS.indexOf(out.software) as Level,
  pure: true,
  seconds: out.seconds,
  over: true,
  outcome: out.outcome,
  outcomeClass: out.outcomeClass,
  measures: new Map(out.measures.map((measure) => [measure.key, measure])),
});

/** Ends after which the robot lies there, or its head does: it must stand up before the next run. */
const DOWN: readonly string[] = ['out of control', 'head lost', 'hop', 'brown-out', 'diverged'];
export const isDown = (outcomeClass: string): boolean => DOWN.includes(outcomeClass);

const viewOf = (plane: Plane): View => VIEWS[plane];

export class Scene {
  /** Of each plane: the run's number when the step began, and the switch as the newest run began. */
  #before: [number, number] = [0, 0];
  #number: [number, number] = [0, 0];
  #level: [Level | undefined, Level | undefined] = [undefined, undefined];
  /** Count of the knobs' changes as the newest run began. */
  #knobs: [number, number] = [0, 0];
  #runs: [Run | undefined, Run | undefined] = [undefined, undefined];
  #seen: Seen | undefined;
  readonly kept = new Map<string, Kept>();
  /** What a trial of this step has shown. */
  job: Run | undefined;

  constructor(private readonly actions: Actions) {}

  /** A step begins: what was run before it does not count. */
  begin(): void {
    this.job = undefined;
    this.#runs = [undefined, undefined];
    for (const plane of [SIDE, FRONT] as const) this.#before[plane] = this.#number[plane] = this.#now(plane);
  }

  /** Begins with the board as it is at this moment, if it has been seen before; answers whether it did. */
  beginNow(): boolean {
    const seen = this.#seen;
    if (seen === undefined) return false;
    this.look({ frame: this.actions.board.frame(), layout: seen.layout }, false);
    this.begin();
    return true;
  }

  /** Looks at the board; `measure` also asks for the results of runs. */
  look(seen: Seen, measure: boolean): void {
    this.#seen = seen;
    const { level, knobs } = this.actions.store.state;
    for (const plane of [SIDE, FRONT] as const) {
      const number = this.#now(plane);
      if (number !== this.#number[plane]) {
        this.#number[plane] = number;
        this.#level[plane] = level;
        this.#knobs[plane] = knobs;
      } else if (this.#level[plane] !== level) {
        this.#level[plane] = undefined;
      }
      this.#runs[plane] = undefined;
      if (!measure || number === this.#before[plane]) continue;
      const results = this.actions.board.results(plane);
      if (results.trial !== '') this.#runs[plane] = this.#read(results, plane);
    }
  }

  /** The newest run of the view acted on, or else of the other; a trial comes before both. */
  get run(): Run | undefined {
    const { active } = this.actions.store.state;
    return this.job ?? this.#runs[active] ?? this.#runs[active === SIDE ? FRONT : SIDE];
  }

  /** The simulation's time [s]. */
  get time(): number {
    return this.#seen === undefined ? 0 : (this.#seen.frame[this.#seen.layout.header.time] ?? 0);
  }

  holds(condition: Condition): boolean {
    if ('all' in condition) return condition.all.every((one) => this.holds(one));
    if ('any' in condition) return condition.any.some((one) => this.holds(one));
    if ('not' in condition) return !this.holds(condition.not);
    if ('run' in condition) {
      const plane = condition.view === undefined ? this.actions.store.state.active : condition.view === 'front' ? FRONT : SIDE;
      const run = this.job ?? this.#runs[plane];
      return (
        run?.pure === true &&
        (condition.run === 'any' || run.trial === condition.run) &&
        (condition.view === undefined || run.view === condition.view) &&
        (condition.level === undefined || (run.level !== undefined && LEVELS[run.level] === condition.level)) &&
        run.seconds >= (condition.seconds ?? 0) &&
        (condition.over !== true || run.over) &&
        (condition.outcome === undefined || condition.outcome.includes(run.outcomeClass)) &&
        (condition.known ?? []).every((key) => run.measures.get(key)?.value !== undefined)
      );
    }
    if ('measure' in condition) {
      const run = this.#runOf(condition.of);
      return this.#between(run?.measures.get(condition.measure)?.value ?? NaN, condition);
    }
    if ('outcome' in condition) {
      const run = this.#runOf(condition.of);
      return run !== undefined && condition.outcome.includes(run.outcomeClass);
    }
    if ('knob' in condition) {
      const value = this.actions.value(condition.knob)?.value ?? NaN;
      if (condition.is === undefined) return this.#between(value, condition);
      return this.actions.knobs.get(condition.knob)?.words[value] === condition.is;
    }
    if ('formula' in condition) return this.#between(this.work(condition.formula), condition);
    if ('level' in condition) return LEVELS[this.actions.store.state.level] === condition.level;
    return viewOf(this.actions.store.state.active) === condition.view;
  }

  /** A number in SI; NaN where something in it has none. */
  work(amount: Amount): number {
    if (typeof amount === 'number') return amount;
    return readFormula(amount).work((name) => this.#value(name));
  }

  /** A text with everything filled in. */
  fill(text: string): string {
    const inches = this.actions.store.state.units === 'inch';
    let filled = '';
    for (const piece of pieces(text)) {
      const part =
        piece.kind === 'plain'
          ? piece.text
          : piece.kind === 'formula'
            ? said(this.work(piece.formula), piece.unit as UnitWord, inches)
            : this.#named(piece.name);
      // An outcome is written small; at the beginning of a sentence it is not.
      filled += piece.kind !== 'plain' && /(^|[.!?] )$/.test(filled) ? part.charAt(0).toUpperCase() + part.slice(1) : part;
    }
    return filled;
  }

  /** A knob, or a number of a kept run, in words. */
  #named(name: string): string {
    const knob = this.actions.value(name);
    if (knob !== undefined) return this.actions.knobs.get(name)?.words[knob.value] ?? knob.text;
    const [of = '', what = ''] = name.split('.');
    const kept = this.kept.get(of);
    if (!isRun(kept)) return kept?.text ?? '–';
    return what === 'outcome' ? kept.outcome : (kept.measures.get(what)?.text ?? '–');
  }

  #value(name: string): number | undefined {
    const knob = this.actions.value(name);
    if (knob !== undefined) return knob.value;
    const [of = '', what = ''] = name.split('.');
    const kept = this.kept.get(of);
    return isRun(kept) ? kept.measures.get(what)?.value : kept?.value;
  }

  #runOf(name: string | undefined): Run | undefined {
    if (name === undefined) return this.run;
    const kept = this.kept.get(name);
    return isRun(kept) ? kept : undefined;
  }

  #between(value: number, bounds: { readonly above?: Amount; readonly below?: Amount }): boolean {
    const { above, below } = bounds;
    // Said this way round, what is no number lies nowhere.
    return (
      Number.isFinite(value) &&
      (above === undefined || value > this.work(above)) &&
      (below === undefined || value < this.work(below))
    );
  }

  #now(plane: Plane): number {
    const seen = this.#seen;
    return seen === undefined ? 0 : (seen.frame[seen.layout.planes[plane] + seen.layout.run.number] ?? 0);
  }

  #read(results: Results, plane: Plane): Run {
    const level = this.#level[plane];
    return {
      trial: results.trial,
      view: viewOf(plane),
      ...(level === undefined ? {} : { level }),
      pure: this.#knobs[plane] === this.actions.store.state.knobs,
      seconds: results.seconds,
      over: !results.going,
      outcome: results.outcome,
      outcomeClass: results.outcomeClass,
      measures: new Map(results.measures.map(({ key, text, label, value }) => [key, { text, label, ...(value === undefined ? {} : { value }) }])),
    };
  }
}
