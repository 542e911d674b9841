// What is kept of a run, and the check of what comes from storage or a file: every record says
// where it is wrong, what was expected and what was kept. Nothing here knows the page.

import type { Problem } from '../../core/types';
import { KINDS, type Revision, type Step } from '../../revisions';
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

const EXPECT = {
  fields: 'an object',
  id: 'letters, digits, - and _, at most 64',
  text: 'a text',
  time: 'a time in ms since 1970',
  view: '"side" or "front"',
  digest: '16 hexadecimal digits',
  marks: `a list of at most ${MOST_MARKS} digests`,
  number: 'a number',
  list: 'a list',
  robot: 'a robot file',
  log: '[time in µs, word, numbers …]',
  trace: 'lists of numbers of equal length, at most 20000 each',
  version: `a number up to ${RUN_VERSION}`,
  kind: `one of ${KINDS.join(', ')}`,
} as const;

/** A run as it was stored or exported; `path` says where it lay. */
export function checkRun(value: unknown, path: string, check: Check): KeptRun | undefined {
  if (!isFields(value)) {
    check.wrong(path, value, EXPECT.fields);
    return undefined;
  }
  const before = check.problems.length;
  const at = (key: string): string => `${path}.${key}`;
  const need = (key: string, good: boolean, expected: string): void => {
    check.that(good, at(key), value[key], expected);
  };
  const { version } = value;
  // A newer record may mean something else by the same words: nothing of it is guessed.
  if (!check.that(isNumber(version) && version >= 1 && version <= RUN_VERSION, at('version'), version, EXPECT.version)) {
    return undefined;
  }
  need('id', typeof value['id'] === 'string' && ID.test(value['id']), EXPECT.id);
  for (const key of ['name', 'robotName', 'title', 'outcome', 'outcomeClass']) {
    need(key, isText(value[key]), EXPECT.text);
  }
  need('at', isTime(value['at']), EXPECT.time);
  for (const key of ['robot', 'opened', 'now']) need(key, isText(value[key], MOST_TEXT), EXPECT.robot);
  need('view', value['view'] === 'side' || value['view'] === 'front', EXPECT.view);
  need('digest', isDigest(value['digest']), EXPECT.digest);
  for (const key of ['modelVersion', 'seconds', 'tickUs']) need(key, isNumber(value[key]), EXPECT.number);
  checkSource(value['source'], at('source'), check);
  const { marks, double } = value;
  if (marks !== undefined) {
    const good = Array.isArray(marks) && marks.length <= MOST_MARKS && marks.every(isDigest);
    check.that(good, at('marks'), marks, EXPECT.marks);
  }
  checkMeasures(value['measures'], at('measures'), check);
  if (double !== undefined && check.that(isFields(double), at('double'), double, EXPECT.fields)) {
    const { label, outcome, measures } = double as Fields;
    check.that(isText(label), at('double.label'), label, EXPECT.text);
    check.that(isText(outcome), at('double.outcome'), outcome, EXPECT.text);
    checkMeasures(measures, at('double.measures'), check);
  }
  const { strips } = value;
  if (check.that(isFields(strips), at('strips'), strips, EXPECT.fields)) {
    for (const [column, one] of Object.entries(strips as Fields)) {
      const where = `${at('strips')}.${column}`;
      if (!check.that(isFields(one), where, one, EXPECT.fields)) continue;
      const { label, unit, shown, scale, double: beside } = one as Fields;
      check.that(isText(label) && isText(unit) && isText(shown), where, label, EXPECT.text);
      check.that(isNumber(scale), `${where}.scale`, scale, EXPECT.number);
      check.that(isTrace(one as Fields), where, (one as Fields)['times'], EXPECT.trace);
      if (beside !== undefined) check.that(isFields(beside) && isTrace(beside), `${where}.double`, beside, EXPECT.trace);
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
      check.that(isText(one[key]), `${where}.${key}`, one[key], EXPECT.text);
    }
    check.that(one['value'] === null || isNumber(one['value']), `${where}.value`, one['value'], EXPECT.number);
  });
}

function list(value: unknown, path: string, check: Check, each: (one: Fields, where: string) => void): void {
  if (!check.that(Array.isArray(value), path, value, EXPECT.list)) return;
  (value as unknown[]).forEach((one, index) => {
    const where = `${path}[${index}]`;
    if (check.that(isFields(one), where, one, EXPECT.fields)) each(one as Fields, where);
  });
}

function checkSource(value: unknown, path: string, check: Check): void {
  if (!isFields(value)) {
    check.wrong(path, value, EXPECT.fields);
  } else if (value['kind'] === 'trial') {
    check.that(isFields(value['setting']), `${path}.setting`, value['setting'], EXPECT.fields);
  } else if (value['kind'] === 'live') {
    const { log, ticks, seed, view } = value;
    check.that(view === 'side' || view === 'front', `${path}.view`, view, EXPECT.view);
    check.that(isNumber(seed), `${path}.seed`, seed, EXPECT.number);
    check.that(isNumber(ticks) && Number.isInteger(ticks) && ticks >= 0, `${path}.ticks`, ticks, EXPECT.number);
    if (!check.that(Array.isArray(log), `${path}.log`, log, EXPECT.list)) return;
    (log as unknown[]).forEach((entry, index) => {
      const good = Array.isArray(entry) && isNumber(entry[0]) && typeof entry[1] === 'string';
      check.that(good, `${path}.log[${index}]`, entry, EXPECT.log);
    });
  } else {
    check.wrong(`${path}.kind`, value['kind'], '"live" or "trial"');
  }
}

/** A revision as it was stored or exported. */
export function checkRevision(value: unknown, path: string, check: Check): Revision | undefined {
  if (!isFields(value)) {
    check.wrong(path, value, EXPECT.fields);
    return undefined;
  }
  const before = check.problems.length;
  const need = (key: string, good: boolean, expected: string): void => {
    check.that(good, `${path}.${key}`, value[key], expected);
  };
  need('id', typeof value['id'] === 'string' && ID.test(value['id']), EXPECT.id);
  need('parent', value['parent'] === '' || (typeof value['parent'] === 'string' && ID.test(value['parent'])), EXPECT.id);
  need('at', isTime(value['at']), EXPECT.time);
  need('kind', (KINDS as readonly unknown[]).includes(value['kind']), EXPECT.kind);
  for (const key of ['robot', 'why', 'name']) need(key, isText(value[key]), EXPECT.text);
  list(value['steps'], `${path}.steps`, check, (one, where) => {
    for (const key of ['key', 'label', 'fromText', 'toText'] satisfies (keyof Step)[]) {
      check.that(isText(one[key]), `${where}.${key}`, one[key], EXPECT.text);
    }
    for (const key of ['from', 'to'] satisfies (keyof Step)[]) {
      check.that(isNumber(one[key]), `${where}.${key}`, one[key], EXPECT.number);
    }
  });
  const setting = value['setting'];
  if (!isFields(setting)) check.wrong(`${path}.setting`, setting, EXPECT.fields);
  else {
    for (const key of ['opened', 'now']) {
      check.that(isText(setting[key], MOST_TEXT), `${path}.setting.${key}`, setting[key], EXPECT.robot);
    }
  }
  return check.problems.length === before ? (value as unknown as Revision) : undefined;
}
