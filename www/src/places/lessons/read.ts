// Reads a lesson file and tells everything that is wrong with it: where, what was given, what was
// expected. A file with anything wrong in it is not taken.

import type { KnobInfo, Problem } from '../../core/types';
import { words } from '../../words/lessons';
import {
  FORMAT,
  LEVELS,
  PRESSES,
  RUNS,
  UNITS,
  VERSION,
  VIEWS,
  type Lesson,
} from './format';
import { BadFormula, readFormula } from './formula';
import { pieces } from './text';

/** Longest file that is read [characters], most steps, longest text. */
const MOST = 200_000;
const MOST_STEPS = 40;
const LONGEST = 1200;
/** Deeper nesting of conditions is a mistake, or a trap. */
const DEEPEST = 8;

/** What a lesson may speak of. */
export interface Known {
  readonly knobs: ReadonlyMap<string, KnobInfo>;
  readonly demos: readonly string[];
  readonly measures: ReadonlySet<string>;
  readonly outcomes: readonly string[];
  readonly trials: readonly string[];
  readonly budgets: readonly string[];
}

export type Read = { readonly lesson: Lesson } | { readonly problems: readonly Problem[] };

type Fields = Readonly<Record<string, unknown>>;

export function readLesson(text: string, known: Known): Read {
  if (text.length > MOST) return { problems: [problem('', `${text.length} characters`, words.read.most(MOST))] };
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (cause) {
    return { problems: [broken(text, cause)] };
  }
  const check = new Check(known);
  check.lesson(value);
  return check.problems.length > 0 ? { problems: check.problems } : { lesson: value as Lesson };
}

const problem = (path: string, value: string, expected: string, hint = ''): Problem => ({
  path: path === '' ? words.read.file : path,
  value: value.length > 60 ? `${value.slice(0, 59)}…` : value,
  expected,
  hint,
  kept: words.read.kept,
  severity: 'error',
});

/** Where reading broke off, if the browser says it. */
function broken(text: string, cause: unknown): Problem {
  const said = String(cause);
  const at = /position (\d+)/.exec(said)?.[1];
  const byLine = /line (\d+) column (\d+)/.exec(said);
  const before = at === undefined ? undefined : text.slice(0, Number(at)).split('\n');
  const line = byLine?.[1] !== undefined ? Number(byLine[1]) : before?.length;
  const column = byLine?.[2] !== undefined ? Number(byLine[2]) : before === undefined ? undefined : (before.at(-1)?.length ?? 0) + 1;
  const one = problem('', said.replace(/^SyntaxError: /, ''), words.read.json);
  return line === undefined ? one : column === undefined ? { ...one, line } : { ...one, line, column };
}

class Check {
  readonly problems: Problem[] = [];
  /** Runs kept by the steps so far, and guesses asked for. */
  readonly #kept = new Set<string>();
  readonly #guesses = new Set<string>();

  constructor(private readonly known: Known) {}

  lesson(value: unknown): void {
    const it = this.#object(value, '', ['format', 'version', 'key', 'title', 'about', 'minutes', 'sets', 'steps']);
    if (it === undefined) return;
    if (it['format'] !== FORMAT) this.#wrong('format', it['format'], `“${FORMAT}”`);
    if (it['version'] !== VERSION) this.#wrong('version', it['version'], String(VERSION), words.read.newer);
    if (this.#text(it['key'], 'key', 40) && !/^[a-z0-9-]+$/.test(String(it['key']))) {
      this.#wrong('key', it['key'], words.read.key);
    }
    this.#text(it['title'], 'title', 80);
    this.#text(it['about'], 'about', 240);
    this.#number(it['minutes'], 'minutes', 0.5, 15);
    this.#sets(it['sets']);
    const steps = this.#list(it['steps'], 'steps', 1, MOST_STEPS);
    // What a guess is measured by may be kept only later: names are gathered first.
    steps.forEach((step) => {
      const keep = (step as Fields | null)?.['keep'];
      if (typeof keep === 'string') this.#kept.add(keep);
    });
    steps.forEach((step, index) => {
      this.#step(step, `steps[${index}]`);
    });
  }

  #sets(value: unknown): void {
    const it = this.#object(value, 'sets', ['robot', 'knobs', 'level', 'view'], ['knobs', 'level', 'view']);
    if (it === undefined) return;
    this.#word(it['robot'], 'sets.robot', ['own', ...this.known.demos]);
    this.#optional(it['level'], (level) => { this.#word(level, 'sets.level', LEVELS); });
    this.#optional(it['view'], (view) => { this.#word(view, 'sets.view', VIEWS); });
    const knobs = it['knobs'] === undefined ? undefined : this.#object(it['knobs'], 'sets.knobs');
    for (const [key, to] of Object.entries(knobs ?? {})) {
      const path = `sets.knobs.${key}`;
      const info = this.known.knobs.get(key);
      if (info === undefined) this.#wrong(path, key, words.read.knob);
      else if (info.kind === 'choice') this.#word(to, path, info.words);
      else if (typeof to !== 'string' && !Number.isFinite(to)) this.#wrong(path, to, words.read.setting);
      else if (typeof to === 'number' && !(to >= info.min && to <= info.max)) this.#wrong(path, to, words.read.range(info.min, info.max));
    }
  }

  #step(value: unknown, path: string): void {
    const kind = (value as Fields | null)?.['kind'];
    switch (kind) {
      case 'say': {
        const it = this.#object(value, path, ['kind', 'text']);
        if (it !== undefined) this.#prose(it['text'], `${path}.text`);
        return;
      }
      case 'predict':
        this.#predict(value, path);
        return;
      case 'do':
        this.#do(value, path);
        return;
      case 'see':
        this.#see(value, path);
        return;
      default:
        this.#wrong(`${path}.kind`, kind, 'say, predict, do, see');
    }
  }

  #predict(value: unknown, path: string): void {
    const it = this.#object(value, path, ['kind', 'name', 'ask', 'choices', 'number'], ['choices', 'number']);
    if (it === undefined) return;
    if (this.#name(it['name'], `${path}.name`)) this.#guesses.add(String(it['name']));
    this.#prose(it['ask'], `${path}.ask`);
    if ((it['choices'] === undefined) === (it['number'] === undefined)) this.#wrong(path, '', words.read.either);
    this.#optional(it['choices'], (choices) => {
      this.#list(choices, `${path}.choices`, 2, 6).forEach((choice, index) => {
        const at = `${path}.choices[${index}]`;
        const one = this.#object(choice, at, ['text', 'when']);
        if (one === undefined) return;
        this.#prose(one['text'], `${at}.text`);
        this.#condition(one['when'], `${at}.when`);
      });
    });
    this.#optional(it['number'], (number) => {
      const one = this.#object(number, `${path}.number`, ['truth', 'unit', 'within']);
      if (one === undefined) return;
      this.#formula(one['truth'], `${path}.number.truth`);
      this.#word(one['unit'], `${path}.number.unit`, UNITS);
      this.#number(one['within'], `${path}.number.within`, 0.01, 1);
    });
  }

  #do(value: unknown, path: string): void {
    const optional = ['help', 'until', 'keep', 'press', 'knobs', 'trial', 'budget'];
    const it = this.#object(value, path, ['kind', 'text', ...optional], optional);
    if (it === undefined) return;
    this.#prose(it['text'], `${path}.text`);
    this.#optional(it['help'], (help) => { this.#prose(help, `${path}.help`); });
    this.#optional(it['keep'], (keep) => { this.#name(keep, `${path}.keep`); });
    this.#optional(it['until'], (until) => { this.#condition(until, `${path}.until`); });
    const job = it['trial'] !== undefined || it['budget'] !== undefined;
    if (it['until'] === undefined && !job) this.#wrong(`${path}.until`, undefined, words.read.until);
    if (it['trial'] !== undefined && it['budget'] !== undefined) this.#wrong(`${path}.budget`, '', words.read.oneJob);
    this.#optional(it['press'], (press) => {
      this.#list(press, `${path}.press`, 0, 7).forEach((one, index) => { this.#word(one, `${path}.press[${index}]`, PRESSES); });
    });
    this.#optional(it['knobs'], (knobs) => {
      this.#list(knobs, `${path}.knobs`, 0, 6).forEach((one, index) => {
        if (typeof one !== 'string' || !this.known.knobs.has(one)) this.#wrong(`${path}.knobs[${index}]`, one, words.read.knob);
      });
    });
    this.#optional(it['trial'], (trial) => {
      const one = this.#object(trial, `${path}.trial`, ['trial', 'view', 'software', 'numbers'], ['numbers']);
      if (one === undefined) return;
      this.#word(one['trial'], `${path}.trial.trial`, this.known.trials);
      this.#word(one['view'], `${path}.trial.view`, VIEWS);
      this.#word(one['software'], `${path}.trial.software`, LEVELS);
      this.#optional(one['numbers'], (numbers) => {
        for (const [key, number] of Object.entries(this.#object(numbers, `${path}.trial.numbers`) ?? {})) {
          if (typeof number !== 'string' && !Number.isFinite(number)) this.#wrong(`${path}.trial.numbers.${key}`, number, words.read.setting);
        }
      });
    });
    this.#optional(it['budget'], (budget) => {
      const one = this.#object(budget, `${path}.budget`, ['question', 'view']);
      if (one === undefined) return;
      this.#word(one['question'], `${path}.budget.question`, this.known.budgets);
      this.#word(one['view'], `${path}.budget.view`, VIEWS);
    });
  }

  #see(value: unknown, path: string): void {
    const it = this.#object(value, path, ['kind', 'text', 'guesses', 'table'], ['guesses', 'table']);
    if (it === undefined) return;
    this.#prose(it['text'], `${path}.text`);
    this.#optional(it['guesses'], (guesses) => {
      this.#list(guesses, `${path}.guesses`, 0, 6).forEach((one, index) => {
        this.#word(one, `${path}.guesses[${index}]`, [...this.#guesses]);
      });
    });
    this.#optional(it['table'], (table) => {
      const one = this.#object(table, `${path}.table`, ['runs', 'measures']);
      if (one === undefined) return;
      this.#list(one['runs'], `${path}.table.runs`, 1, 6).forEach((run, index) => {
        const at = `${path}.table.runs[${index}]`;
        const row = this.#object(run, at, ['of', 'called']);
        if (row === undefined) return;
        this.#word(row['of'], `${at}.of`, [...this.#kept]);
        this.#prose(row['called'], `${at}.called`);
      });
      this.#list(one['measures'], `${path}.table.measures`, 1, 6).forEach((measure, index) => {
        this.#word(measure, `${path}.table.measures[${index}]`, ['outcome', ...this.known.measures]);
      });
    });
  }

  #condition(value: unknown, path: string, depth = 0): void {
    if (value === undefined) return;
    if (typeof value !== 'object' || value === null || Array.isArray(value) || depth > DEEPEST) {
      this.#wrong(path, value, words.read.condition);
      return;
    }
    const keys = Object.keys(value);
    const has = (key: string): boolean => keys.includes(key);
    const bounds = (it: Fields): void => {
      if (it['above'] === undefined && it['below'] === undefined && it['is'] === undefined) this.#wrong(path, '', words.read.bounds);
      for (const key of ['above', 'below']) {
        if (it[key] === undefined || Number.isFinite(it[key])) continue;
        this.#formula(it[key], `${path}.${key}`);
      }
    };
    if (has('all') || has('any')) {
      const key = has('all') ? 'all' : 'any';
      const it = this.#object(value, path, [key]);
      if (it === undefined) return;
      this.#list(it[key], `${path}.${key}`, 1, 8).forEach((one, index) => {
        this.#condition(one, `${path}.${key}[${index}]`, depth + 1);
      });
    } else if (has('not')) {
      const it = this.#object(value, path, ['not']);
      if (it !== undefined) this.#condition(it['not'], `${path}.not`, depth + 1);
    } else if (has('run')) {
      const optional = ['view', 'level', 'seconds', 'over', 'outcome', 'known'];
      const it = this.#object(value, path, ['run', ...optional], optional);
      if (it === undefined) return;
      this.#word(it['run'], `${path}.run`, [...new Set([...RUNS, ...this.known.trials])]);
      this.#optional(it['view'], (view) => { this.#word(view, `${path}.view`, VIEWS); });
      this.#optional(it['level'], (level) => { this.#word(level, `${path}.level`, LEVELS); });
      this.#optional(it['seconds'], (seconds) => { this.#number(seconds, `${path}.seconds`, 0, 20); });
      this.#optional(it['over'], (over) => { if (typeof over !== 'boolean') this.#wrong(`${path}.over`, over, 'true, false'); });
      this.#optional(it['outcome'], (outcome) => { this.#outcomes(outcome, `${path}.outcome`); });
      this.#optional(it['known'], (list) => {
        this.#list(list, `${path}.known`, 1, 6).forEach((one, index) => { this.#word(one, `${path}.known[${index}]`, [...this.known.measures]); });
      });
    } else if (has('measure')) {
      const it = this.#object(value, path, ['measure', 'of', 'above', 'below'], ['of', 'above', 'below']);
      if (it === undefined) return;
      this.#word(it['measure'], `${path}.measure`, [...this.known.measures]);
      this.#optional(it['of'], (of) => { this.#word(of, `${path}.of`, [...this.#kept]); });
      bounds(it);
    } else if (has('outcome')) {
      const it = this.#object(value, path, ['outcome', 'of'], ['of']);
      if (it === undefined) return;
      this.#outcomes(it['outcome'], `${path}.outcome`);
      this.#optional(it['of'], (of) => { this.#word(of, `${path}.of`, [...this.#kept]); });
    } else if (has('knob')) {
      const it = this.#object(value, path, ['knob', 'is', 'above', 'below'], ['is', 'above', 'below']);
      if (it === undefined) return;
      const info = this.known.knobs.get(String(it['knob']));
      if (info === undefined) this.#wrong(`${path}.knob`, it['knob'], words.read.knob);
      else this.#optional(it['is'], (is) => { this.#word(is, `${path}.is`, info.words); });
      bounds(it);
    } else if (has('formula')) {
      const it = this.#object(value, path, ['formula', 'above', 'below'], ['above', 'below']);
      if (it === undefined) return;
      this.#formula(it['formula'], `${path}.formula`);
      bounds(it);
    } else if (has('level')) {
      const it = this.#object(value, path, ['level']);
      if (it !== undefined) this.#word(it['level'], `${path}.level`, LEVELS);
    } else if (has('view')) {
      const it = this.#object(value, path, ['view']);
      if (it !== undefined) this.#word(it['view'], `${path}.view`, VIEWS);
    } else {
      this.#wrong(path, keys.join(', '), words.read.condition);
    }
  }

  #outcomes(value: unknown, path: string): void {
    this.#list(value, path, 1, 9).forEach((one, index) => { this.#word(one, `${path}[${index}]`, this.known.outcomes); });
  }

  /** A text with what is filled in. */
  #prose(value: unknown, path: string): void {
    if (!this.#text(value, path, LONGEST)) return;
    for (const piece of pieces(String(value))) {
      if (piece.kind === 'name') this.#reference(piece.name, path, true);
      if (piece.kind === 'formula') {
        this.#formula(piece.formula, path);
        this.#word(piece.unit, path, UNITS);
      }
    }
  }

  #formula(value: unknown, path: string): void {
    if (value === undefined) return;
    if (typeof value !== 'string') {
      this.#wrong(path, value, words.read.formula);
      return;
    }
    try {
      for (const name of readFormula(value).names) this.#reference(name, path, false);
    } catch (cause) {
      if (!(cause instanceof BadFormula)) throw cause;
      this.#wrong(path, value, cause.message);
    }
  }

  #reference(name: string, path: string, text: boolean): void {
    const info = this.known.knobs.get(name);
    if (info !== undefined && (text || info.kind !== 'choice')) return;
    const [run = '', measure = ''] = name.split('.');
    if (this.#kept.has(run) && (this.known.measures.has(measure) || (text && measure === 'outcome') || measure === 'value' || (text && measure === 'text'))) return;
    this.#wrong(path, name, words.read.reference);
  }

  // Plain kinds of values.

  #object(value: unknown, path: string, keys?: readonly string[], optional: readonly string[] = []): Fields | undefined {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) {
      this.#wrong(path, value, words.read.object);
      return undefined;
    }
    if (keys !== undefined) {
      const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
      for (const key of Object.keys(value)) {
        // "$schema" tells an editor how to help.
        if (!keys.includes(key) && !(path === '' && key === '$schema')) this.#wrong(at(key), key, words.read.keys(keys));
      }
      for (const key of keys) if (!optional.includes(key) && !(key in value)) this.#wrong(at(key), undefined, words.read.needed);
    }
    return value as Fields;
  }

  #list(value: unknown, path: string, least: number, most: number): readonly unknown[] {
    if (Array.isArray(value) && value.length >= least && value.length <= most) return value;
    this.#wrong(path, Array.isArray(value) ? `${value.length}` : value, words.read.list(least, most));
    return [];
  }

  #text(value: unknown, path: string, most: number): boolean {
    if (typeof value === 'string' && value.trim() !== '' && value.length <= most) return true;
    if (value !== undefined) this.#wrong(path, value, words.read.text(most));
    return false;
  }

  #number(value: unknown, path: string, least: number, most: number): void {
    if (typeof value === 'number' && value >= least && value <= most) return;
    if (value !== undefined) this.#wrong(path, value, words.read.range(least, most));
  }

  #name(value: unknown, path: string): boolean {
    const sections = new Set([...this.known.knobs.keys()].map((key) => key.split('.')[0]));
    if (typeof value === 'string' && /^[a-z][a-z0-9_]{0,30}$/.test(value) && !sections.has(value)) return true;
    if (value !== undefined) this.#wrong(path, value, words.read.name);
    return false;
  }

  #word(value: unknown, path: string, list: readonly string[]): void {
    if (typeof value === 'string' && list.includes(value)) return;
    if (value !== undefined) this.#wrong(path, value, list.length === 0 ? words.read.nothing : list.map((one) => (one === '' ? '“”' : one)).join(', '));
  }

  #optional(value: unknown, check: (value: unknown) => void): void {
    if (value !== undefined) check(value);
  }

  #wrong(path: string, value: unknown, expected: string, hint = ''): void {
    const given = value === undefined ? words.read.missing : typeof value === 'string' ? value : (JSON.stringify(value) as string | undefined) ?? String(value);
    if (this.problems.length < 100) this.problems.push(problem(path, given, expected, hint));
  }
}
