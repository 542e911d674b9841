// The worker: its own instance of the package `lab`, one job at a time. It never fetches: the
// page hands it the compiled core.

import { initSync } from './pkg/lab.js';
import * as lab from './pkg/lab.js';
import type { FromWorker, JobName, ToWorker } from './lab.types';

type Progress = (done: number, of: number, news?: unknown) => void;

const JOBS: Readonly<Record<JobName, (ask: object, progress: Progress) => unknown>> = {
  trials: lab.lab_trials,
  run: lab.lab_run,
  set: lab.lab_set,
  limits: lab.lab_limits,
  budget: lab.lab_budget,
  compare: lab.lab_compare,
  replay: lab.lab_replay,
  kicks: lab.lab_kicks,
  contest: lab.lab_contest,
  power: lab.lab_power,
  start: lab.lab_start,
  spread: lab.lab_spread,
  ledger: lab.lab_ledger,
  edge: lab.lab_edge,
  hunt: lab.lab_hunt,
  both_sides: lab.lab_both_sides,
  hand: lab.lab_hand,
  matters: lab.lab_matters,
  head_story: lab.lab_head_story,
  suggest: lab.lab_suggest,
  gains: lab.lab_gains,
  lid: lab.lab_lid,
  card: lab.lab_card,
  picture: lab.lab_picture,
};

const post = (message: FromWorker): void => {
  self.postMessage(message);
};

self.addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  if (data.kind === 'core') {
    initSync({ module: data.module });
    return;
  }
  const { generation, job, ask } = data;
  try {
    const answer = JOBS[job](ask, (done, of, news) => {
      post({ kind: 'progress', generation, done, of, news });
    });
    if (typeof answer !== 'object' || answer === null) throw new Error(`${job} gave no answer`);
    post({ kind: 'answer', generation, answer });
  } catch (cause) {
    post({ kind: 'failed', generation, reason: cause instanceof Error ? cause.message : String(cause) });
  }
});
