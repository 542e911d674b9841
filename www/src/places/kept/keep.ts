// Keeping a run: the board's present one, or a result handed over by another place.

import type { Actions } from '../../actions';
import { FRONT, type Measure, type Plane } from '../../core/types';
import { newId } from '../../recorder';
import { said } from '../../words/core';
import { words as page } from '../../words/page';
import type { RunDouble, RunRecord, RunSource, RunStrip } from '../kept-hook';
import { openStorage, type Storage } from './db';
import { words } from '../../words/kept';
import { toKept, type KeptMeasure, type KeptRun } from './record';
import { marksOf } from './replay';

/** What is kept of a live run: label, SI unit, unit shown, and what makes the one the other. */
const COLUMNS: Readonly<Record<string, readonly [string, string, string, number]>> = {
  swing: ['swing', 'rad', '°', 180 / Math.PI],
  roll: ['lean', 'rad', '°', 180 / Math.PI],
  tilt: ['head', 'rad', '°', 180 / Math.PI],
  speed: ['speed', 'm/s', 'm/s', 1],
  supply_current: ['supply current', 'A', 'A', 1],
};
/** What a view does not show: the ball's turning from the side is its way, not its lean. */
const LEFT_OUT = ['roll', 'speed'] as const;

/** Measures of the board's run; none if there is no run or it is still in motion. */
export function presentMeasures(actions: Actions, plane: Plane): readonly KeptMeasure[] | undefined {
  const results = actions.board.results(plane);
  if (results.trial === '' || results.going) return undefined;
  return results.measures.map(toMeasure);
}

function toMeasure({ key, label, text, known, value, unit }: Measure): KeptMeasure {
  return { key, label, text, value: known ? (value ?? null) : null, unit };
}

/** The board's present run, ready to be kept; throws with the reason why not. */
export async function recordPresent(actions: Actions): Promise<{ readonly record: RunRecord; readonly now: string }> {
  const { board, store } = actions;
  const { active, level, robot } = store.state;
  const results = board.results(active);
  if (results.trial === '') throw new Error(words.runs.nothing);
  if (results.going) throw new Error(words.runs.unfinished);
  const made = board.record(active);
  if (!made.complete) throw new Error(words.runs.tooLong);
  const strips: Record<string, RunStrip> = {};
  for (const [column, [label, unit, shown, scale]] of Object.entries(COLUMNS)) {
    if (column === LEFT_OUT[active]) continue;
    const [run, , beside] = traces(board.strip(active, column), scale);
    if (run === undefined || run.times.length === 0) continue;
    const double = beside !== undefined && beside.times.length > 0 ? { double: beside } : {};
    strips[column] = { label, unit, shown, scale, ...run, ...double };
  }
  const push = results.impulse === 0 ? '' : page.results.push(results.impulse);
  const now = board.robotFile();
  const opened = board.openedFile();
  const { robot: file, digest, seed, ticks, log, tickUs } = made;
  const source: RunSource = { kind: 'live', view: active === FRONT ? 'front' : 'side', seed, ticks, log };
  const beside = doubleOf(actions, active);
  // What the board holds is read by now: it goes on while the worker makes the run again.
  return {
    now,
    record: {
      robot: file,
      robotName: robot.name,
      opened,
      source,
      title: page.results.trial(said(results.trial), active, level, push),
      ...(await marksOf({ robot: file, opened, digest, source })),
      digest,
      outcome: results.outcome,
      outcomeClass: results.outcomeClass,
      measures: results.measures.map(known),
      seconds: results.seconds,
      tickUs,
      strips,
      ...(beside === undefined ? {} : { double: beside }),
    },
  };
}

/** The traces of a strip: of the run, of the run before, of the double; values [SI]. */
function traces(flat: Float64Array, scale: number): readonly { times: Float64Array; values: Float64Array }[] {
  let at = 0;
  return [0, 1, 2].map(() => {
    const count = flat[at] ?? 0;
    const times = flat.slice(at + 1, at + 1 + count);
    const values = flat.slice(at + 1 + count, at + 1 + 2 * count).map((value) => value / scale);
    at += 1 + 2 * count;
    return { times, values };
  });
}

/** A measure; one without a number has no value. */
function known(measure: Measure): RunRecord['measures'][number] {
  const { key, label, text, value, unit } = toMeasure(measure);
  return value === null ? { key, label, text, unit } : { key, label, text, value, unit };
}

function doubleOf({ board }: Actions, plane: Plane): RunDouble | undefined {
  const double = board.doubled();
  const results = board.doubleResults(plane);
  if (double === undefined || results === undefined || results.trial === '') return undefined;
  return { label: double.label, outcome: results.outcome, measures: results.measures.map(known) };
}

/** Keeps a result under a name of its own; answers with it and what is to be said of that. */
export async function keep(
  actions: Actions,
  record: RunRecord,
  now: string,
): Promise<{ readonly run: KeptRun; readonly told: string }> {
  const storage = await openStorage();
  const run = toKept(record, now, newId(), nameFor(actions, storage, record, now), Date.now());
  const stored = await storage.put('runs', run);
  // Asked once there is something to lose, not before.
  void storage.persist();
  const told = words.runs.kept(run.name);
  return { run, told: stored ? told : `${told} ${words.trouble[storage.trouble ?? 'lost']}` };
}

/** The robot and its revision: by these one looks for a run later. */
function nameFor(actions: Actions, storage: Storage, record: RunRecord, now: string): string {
  const { history } = actions.revisions;
  const row = history.rows.findLast(({ setting }) => setting.now === now);
  const called = row === undefined ? '' : row.name === '' ? words.runs.revision(history.letter(row.id)) : row.name;
  const base = [record.robotName, called].filter((part) => part !== '').join(', ').slice(0, 90);
  const taken = new Set(storage.all('runs').map(({ name }) => name));
  let name = base;
  for (let number = 2; taken.has(name); number++) name = `${base} (${number})`;
  return name;
}
