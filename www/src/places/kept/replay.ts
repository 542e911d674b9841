// Makes a kept run again in a worker and says whether it came out the same.

import { lab } from '../../core/lab';
import type { Measured, Replayed } from '../../core/lab.types';
import { refused } from '../../core/types';
import { words } from '../../words/kept';
import type { RunRecord } from '../kept-hook';
import type { KeptRun } from './record';

/**
 * The digest so far at each whole second of a live run, by a worker that makes it again, and the
 * version of the model that does. Rejects with what kept it from being made.
 */
export async function marksOf(
  run: Pick<RunRecord, 'robot' | 'opened' | 'digest' | 'source'>,
): Promise<{ readonly marks: readonly string[]; readonly modelVersion: number }> {
  const { marks, modelVersion } = await make(run, []);
  return { marks, modelVersion };
}

/** The verdict, in words; rejects with what kept it from being made. */
export async function replay(run: KeptRun): Promise<string> {
  const told = await make(
    run,
    run.measures.map(({ value, ...rest }) => (value === null ? rest : { ...rest, value })),
    run.marks,
  );
  if (told.equal) return words.replay.equal;
  const verdict =
    told.modelVersion === run.modelVersion
      ? words.replay.differs
      : words.replay.newer(String(run.modelVersion), String(told.modelVersion));
  const place = told.equalUpTo === undefined ? [] : [words.replay.upTo(told.equalUpTo, told.equalUpTo >= (run.marks?.length ?? 0))];
  const differences = told.differences.map(({ label, was, is }) => words.replay.difference(label, was, is));
  return [verdict, ...place, ...differences].join(' ');
}

async function make(
  { source, robot, opened, digest }: Pick<RunRecord, 'robot' | 'opened' | 'digest' | 'source'>,
  measures: readonly Measured[],
  marks?: readonly string[],
): Promise<Replayed> {
  const answer = await lab().run('replay', {
    robot,
    opened,
    digest,
    ...(marks === undefined ? {} : { marks }),
    ...(source.kind === 'trial'
      ? { setting: source.setting, measures }
      : { live: { view: source.view, seed: source.seed, ticks: source.ticks, log: source.log } }),
  });
  if (refused(answer)) {
    const [problem] = answer.problems;
    throw new Error([problem?.path, problem?.value, problem?.expected].filter((part) => part !== '').join(', '));
  }
  return answer as Replayed;
}
