// A try kept as a run: the robot, the log with the lever in it, and the software's curves as those of a double.

import type { Actions } from '../../actions';
import type { ContestOut } from '../../core/lab.types';
import type { LiveRecord } from '../../core/types';
import { handWords as words } from '../../words/hand';
import { heard } from '../../words/language';
import type { RunRecord, RunSource, RunStrip } from '../kept-hook';

/** What was tried, with all that keeps it. */
export interface Tried {
  readonly record: LiveRecord;
  readonly out: ContestOut;
  /** Robot file as it was opened. */
  readonly opened: string;
  readonly robotName: string;
}

/** Keeps it; answers with what is to be said of that. */
export async function keepTry(actions: Actions, { record, out, opened, robotName }: Tried): Promise<string> {
  const [{ keep }, { marksOf }] = await Promise.all([import('../kept/keep'), import('../kept/replay')]);
  await heard();
  const { robot, digest, seed, ticks, log, tickUs } = record;
  const view = record.view === 'front' ? 'front' : 'side';
  const source: RunSource = { kind: 'live', view, seed, ticks, log };
  const strips: Record<string, RunStrip> = {};
  for (const [column, strip] of Object.entries(out.strips)) {
    const software = out.softwareStrips[column];
    strips[column] = { ...strip, ...(software === undefined ? {} : { double: { times: software.times, values: software.values } }) };
  }
  const { person, software } = out;
  const run: RunRecord = {
    robot,
    robotName,
    opened,
    source,
    title: words.keep.title(view),
    ...(await marksOf({ robot, opened, digest, source })),
    digest,
    outcome: person.outcome,
    outcomeClass: person.outcomeClass,
    measures: person.measures,
    seconds: person.seconds,
    tickUs,
    strips,
    double: { label: words.contest.software, outcome: software.outcome, measures: software.measures },
  };
  return (await keep(actions, run, robot)).told;
}
