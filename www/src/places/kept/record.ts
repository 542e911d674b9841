// What is kept of a run, and the check of what comes from storage or a file: every record says
// where it is wrong, what was expected and what was kept. Of the page it knows its words alone.

import type { Problem } from '../../core/types';
import { KINDS, type Revision, type Step } from '../../revisions';
import { words } from '../../words/kept';
import type { RunRecord } from '../kept-hook';

/** Rises only when older records can no longer be read as they are. */
export const RUN_VERSION = 1;

/** A run as it is kept: a result, with what makes it one's own. */
export interface KeptRun extends Omit<RunRecord, 'measures' | 'strips' | 'double'> {
  readonly version: number;
  readonly id: string;
  readonly name: string;
  /** When it was kept [ms since 1970]. */
  readonly at: number;
  readonly view: 'side' | 'front';
  /** Robot file as it stood when the run was kept: a live run's knobs may have been turned on the way. */
  readonly now: string;
  readonly measures: readonly KeptMeasure[];
  readonly strips: Readonly<Record<string, KeptStrip>>;
  readonly double?: KeptDouble;
}

/** The double that ran beside it. */
export interface KeptDouble {
  readonly label: string;
  readonly outcome: string;
  readonly measures: readonly KeptMeasure[];
}

export interface KeptMeasure {
  readonly key: string;
  readonly label: string;
  readonly text: string;
  /** [SI]; null where there is no number. */
  readonly value: number | null;
  /** Symbol of the SI unit. */
  readonly unit: string;
}

export interface KeptTrace {
  /** [s] */
  readonly times: readonly number[];
  readonly values: readonly number[];
}

export interface KeptStrip extends KeptTrace {
  readonly label: string;
  /** Symbol of the SI unit. */
  readonly unit: string;
  /** Symbol of the unit shown; a value times `scale` is in it. */
  readonly shown: string;
  readonly scale: number;
  /** That of the double. */
  readonly double?: KeptTrace;
}

/** A result made ready to be kept. */
export function toKept(record: RunRecord, now: string, id: string, name: string, at: number): KeptRun {
  // Six digits are more than a strip can show, and half the room.
  const short = (values: ArrayLike<number>): number[] =>
    Array.from(values, (value) => (Number.isFinite(value) ? Number(value.toPrecision(6)) : 0));
  const trace = ({ times, values }: { readonly times: ArrayLike<number>; readonly values: ArrayLike<number> }): KeptTrace => ({
    times: short(times),
    values: short(values),
  });
  const { source, double, ...rest } = record;
  return {
    ...rest,
    source,
    version: RUN_VERSION,
    id,
    name,
    at,
    now,
    view: source.kind === 'live' ? source.view : source.setting.view,
    measures: record.measures.map(toMeasure),
    strips: Object.fromEntries(
      Object.entries(record.strips).map(([column, strip]) => {
        const { label, unit, shown, scale, double: beside } = strip;
        return [column, { label, unit, shown, scale, ...trace(strip), ...(beside === undefined ? {} : { double: trace(beside) }) }];
      }),
    ),
    ...(double === undefined ? {} : { double: { ...double, measures: double.measures.map(toMeasure) } }),
  };
}

const toMeasure = ({ key, label, text, value, unit }: RunRecord['measures'][number]): KeptMeasure => ({
  key,
  label,
  text,
  value: value ?? null,
  unit,
});

/** Points of a trace that are kept. */
export const MOST_POINTS = 20_000;
/** Seconds of which a digest is kept. */
const MOST_MARKS = 3600;
const MOST_TEXT = 1_000_000;
const ID = /^[\w-]{1,64}$/;

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
const isText = (value: unknown, most = 400): value is string => typeof value === 'string' && value.length <= most;
const isTime = (value: unknown): value is number => isNumber(value) && value >= 0 && value < 8.64e15;

/** What was found, short enough to be read. */
export function found(value: unknown): string {
  let text: string;
  try {
    text = JSON.stringify(value) ?? String(value);
  } catch {
    text = String(value);
  }
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}

/** Checks the fields of one thing; collects what is wrong with them. */
export class Check {
  readonly problems: Problem[] = [];

  constructor(private readonly kept: string) {}

  wrong(path: string, value: unknown, expected: string): void {
    this.problems.push({
      path,
      value: value === undefined ? '' : found(value),
      expected,
      hint: '',
      kept: this.kept,
      severity: 'error',
    });
  }

  /** Whether `value` passes; if not, that is written down. */
  that(good: boolean, path: string, value: unknown, expected: string): boolean {
    if (!good) this.wrong(path, value, expected);
    return good;
  }
}

/** A run as it was stored or exported; `path` says where it lay. */
export function checkRun(value: unknown, path: string, check: Check): KeptRun | undefined {
  if (!isFields(value)) {
    check.wrong(path, value, words.expect.fields);
    return undefined;
  }
  const before = check.problems.length;
  const at = (key: string): string => `${path}.${key}`;
  const need = (key: string, good: boolean, expected: string): void => {
    check.that(good, at(key), value[key], expected);
  };
  const { version } = value;
  // A newer record may mean something else by the same words: nothing of it is guessed.
  if (!check.that(isNumber(version) && version >= 1 && version <= RUN_VERSION, at('version'), version, words.expect.version(RUN_VERSION))) {
    return undefined;
  }
  need('id', typeof value['id'] === 'string' && ID.test(value['id']), words.expect.id);
  for (const key of ['name', 'robotName', 'title', 'outcome', 'outcomeClass']) {
    need(key, isText(value[key]), words.expect.text);
  }
  need('at', isTime(value['at']), words.expect.time);
  for (const key of ['robot', 'opened', 'now']) need(key, isText(value[key], MOST_TEXT), words.expect.robot);
  need('view', value['view'] === 'side' || value['view'] === 'front', words.expect.view);
  need('digest', isDigest(value['digest']), words.expect.digest);
  for (const key of ['modelVersion', 'seconds', 'tickUs']) need(key, isNumber(value[key]), words.expect.number);
  checkSource(value['source'], at('source'), check);
  const { marks, double } = value;
  if (marks !== undefined) {
    const good = Array.isArray(marks) && marks.length <= MOST_MARKS && marks.every(isDigest);
    check.that(good, at('marks'), marks, words.expect.marks(MOST_MARKS));
  }
  checkMeasures(value['measures'], at('measures'), check);
  if (double !== undefined && check.that(isFields(double), at('double'), double, words.expect.fields)) {
    const { label, outcome, measures } = double as Fields;
    check.that(isText(label), at('double.label'), label, words.expect.text);
    check.that(isText(outcome), at('double.outcome'), outcome, words.expect.text);
    checkMeasures(measures, at('double.measures'), check);
  }
  const { strips } = value;
  if (check.that(isFields(strips), at('strips'), strips, words.expect.fields)) {
    for (const [column, one] of Object.entries(strips as Fields)) {
      const where = `${at('strips')}.${column}`;
      if (!check.that(isFields(one), where, one, words.expect.fields)) continue;
      const { label, unit, shown, scale, double: beside } = one as Fields;
      check.that(isText(label) && isText(unit) && isText(shown), where, label, words.expect.text);
      check.that(isNumber(scale), `${where}.scale`, scale, words.expect.number);
      check.that(isTrace(one as Fields), where, (one as Fields)['times'], words.expect.trace);
      if (beside !== undefined) check.that(isFields(beside) && isTrace(beside), `${where}.double`, beside, words.expect.trace);
    }
  }
  return check.problems.length === before ? (value as unknown as KeptRun) : undefined;
}

const isDigest = (value: unknown): boolean => typeof value === 'string' && /^[0-9a-f]{16}$/.test(value);

const isTrace = ({ times, values }: Fields): boolean =>
  Array.isArray(times) &&
  Array.isArray(values) &&
  times.length === values.length &&
  times.length <= MOST_POINTS &&
  times.every(isNumber) &&
  values.every(isNumber);

function checkMeasures(value: unknown, path: string, check: Check): void {
  list(value, path, check, (one, where) => {
    for (const key of ['key', 'label', 'text', 'unit']) {
      check.that(isText(one[key]), `${where}.${key}`, one[key], words.expect.text);
    }
    check.that(one['value'] === null || isNumber(one['value']), `${where}.value`, one['value'], words.expect.number);
  });
}

function list(value: unknown, path: string, check: Check, each: (one: Fields, where: string) => void): void {
  if (!check.that(Array.isArray(value), path, value, words.expect.list)) return;
  (value as unknown[]).forEach((one, index) => {
    const where = `${path}[${index}]`;
    if (check.that(isFields(one), where, one, words.expect.fields)) each(one as Fields, where);
  });
}

function checkSource(value: unknown, path: string, check: Check): void {
  if (!isFields(value)) {
    check.wrong(path, value, words.expect.fields);
  } else if (value['kind'] === 'trial') {
    check.that(isFields(value['setting']), `${path}.setting`, value['setting'], words.expect.fields);
  } else if (value['kind'] === 'live') {
    const { log, ticks, seed, view } = value;
    check.that(view === 'side' || view === 'front', `${path}.view`, view, words.expect.view);
    check.that(isNumber(seed), `${path}.seed`, seed, words.expect.number);
    check.that(isNumber(ticks) && Number.isInteger(ticks) && ticks >= 0, `${path}.ticks`, ticks, words.expect.number);
    if (!check.that(Array.isArray(log), `${path}.log`, log, words.expect.list)) return;
    (log as unknown[]).forEach((entry, index) => {
      const good = Array.isArray(entry) && isNumber(entry[0]) && typeof entry[1] === 'string';
      check.that(good, `${path}.log[${index}]`, entry, words.expect.log);
    });
  } else {
    check.wrong(`${path}.kind`, value['kind'], '"live" or "trial"');
  }
}

/** A revision as it was stored or exported. */
export function checkRevision(value: unknown, path: string, check: Check): Revision | undefined {
  if (!isFields(value)) {
    check.wrong(path, value, words.expect.fields);
    return undefined;
  }
  const before = check.problems.length;
  const need = (key: string, good: boolean, expected: string): void => {
    check.that(good, `${path}.${key}`, value[key], expected);
  };
  need('id', typeof value['id'] === 'string' && ID.test(value['id']), words.expect.id);
  need('parent', value['parent'] === '' || (typeof value['parent'] === 'string' && ID.test(value['parent'])), words.expect.id);
  need('at', isTime(value['at']), words.expect.time);
  need('kind', (KINDS as readonly unknown[]).includes(value['kind']), words.expect.kind(KINDS));
  for (const key of ['robot', 'why', 'name']) need(key, isText(value[key]), words.expect.text);
  list(value['steps'], `${path}.steps`, check, (one, where) => {
    for (const key of ['key', 'label', 'fromText', 'toText'] satisfies (keyof Step)[]) {
      check.that(isText(one[key]), `${where}.${key}`, one[key], words.expect.text);
    }
    for (const key of ['from', 'to'] satisfies (keyof Step)[]) {
      check.that(isNumber(one[key]), `${where}.${key}`, one[key], words.expect.number);
    }
  });
  const setting = value['setting'];
  if (!isFields(setting)) check.wrong(`${path}.setting`, setting, words.expect.fields);
  else {
    for (const key of ['opened', 'now']) {
      check.that(isText(setting[key], MOST_TEXT), `${path}.setting.${key}`, setting[key], words.expect.robot);
    }
  }
  return check.problems.length === before ? (value as unknown as Revision) : undefined;
}
