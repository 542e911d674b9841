// Makes a kept run again in a worker and says whether it came out the same.

import { lab } from '../../core/lab';
import { refused } from '../../core/types';
import { words } from './kept.words';
import type { KeptRun } from './record';

/** The verdict, in words; rejects with what kept it from being made. */
export async function replay(run: KeptRun): Promise<string> {
  const { source, robot, opened, digest } = run;
  const answer = await lab().run('replay', {
    robot,
    opened,
    digest,
    ...(source.kind === 'trial'
      ? {
          setting: source.setting,
          measures: run.measures.map(({ value, ...rest }) => (value === null ? rest : { ...rest, value })),
        }
      : { live: { view: source.view, seed: source.seed, ticks: source.ticks, log: source.log } }),
  });
  if (refused(answer)) {
    const [problem] = answer.problems;
    throw new Error([problem?.path, problem?.value, problem?.expected].filter((part) => part !== '').join(', '));
  }
  const told = answer as Exclude<typeof answer, { problems: unknown }>;
  if (told.equal) return words.replay.equal;
  const verdict =
    told.modelVersion === run.modelVersion
      ? words.replay.differs
      : words.replay.newer(String(run.modelVersion), String(told.modelVersion));
  const differences = told.differences.map(({ label, was, is }) => words.replay.difference(label, was, is));
  return [verdict, ...differences].join(' ');
}
