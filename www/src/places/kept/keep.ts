// Keeping a run: the board's present one, or a result handed over by another place.

import type { Actions } from '../../actions';
import { lab } from '../../core/lab';
import type { Strips } from '../../core/lab.types';
import { FRONT, refused, type Measure, type Plane } from '../../core/types';
import { newId } from '../../recorder';
import { words as page } from '../../words';
import type { RunRecord } from '../kept-hook';
import { openStorage, type Storage } from './db';
import { words } from './kept.words';
import { toKept, type KeptMeasure, type KeptRun } from './record';

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

let version: Promise<number> | undefined;

/** Version of the model that runs here; asked of the worker once. */
function modelVersion(robot: string): Promise<number> {
  version ??= lab()
    .run('trials', { robot })
    .then((answer) => {
      if (refused(answer)) throw new Error(answer.problems[0]?.expected ?? '');
      return (answer as Exclude<typeof answer, { problems: unknown }>).modelVersion;
    });
  version.catch(() => {
    version = undefined;
  });
  return version;
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
  const strips: Record<string, Strips[string]> = {};
  for (const [column, [label, unit, shown, scale]] of Object.entries(COLUMNS)) {
    if (column === LEFT_OUT[active]) continue;
    const flat = board.strip(active, column);
    const count = flat[0] ?? 0;
    if (count === 0) continue;
    const times = flat.slice(1, 1 + count);
    const values = flat.slice(1 + count, 1 + 2 * count).map((value) => value / scale);
    strips[column] = { label, unit, shown, scale, times, values };
  }
  const push = results.impulse === 0 ? '' : page.results.push(results.impulse);
  const now = board.robotFile();
  const opened = board.openedFile();
  return {
    now,
    record: {
      robot: made.robot,
      robotName: robot.name,
      opened,
      source: { kind: 'live', view: active === FRONT ? 'front' : 'side', seed: made.seed, ticks: made.ticks, log: made.log },
      title: page.results.trial(results.trial, active, level, push),
      modelVersion: await modelVersion(now),
      digest: made.digest,
      outcome: results.outcome,
      outcomeClass: results.outcomeClass,
      measures: results.measures.map((measure) => {
        const { key, label, text, value, unit } = toMeasure(measure);
        return value === null ? { key, label, text, unit } : { key, label, text, value, unit };
      }),
      seconds: results.seconds,
      tickUs: made.tickUs,
      strips,
    },
  };
}

/** Keeps a result under a name of its own; answers with it and whether it is stored. */
export async function keep(
  actions: Actions,
  record: RunRecord,
  now: string,
): Promise<{ readonly run: KeptRun; readonly stored: boolean }> {
  const storage = await openStorage();
  const run = toKept(record, now, newId(), nameFor(actions, storage, record, now), Date.now());
  const stored = await storage.put('runs', run);
  // Asked once there is something to lose, not before.
  void storage.persist();
  actions.notice(stored ? words.runs.kept(run.name) : `${words.runs.kept(run.name)} ${words.trouble[storage.trouble ?? 'lost']}`);
  return { run, stored };
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
