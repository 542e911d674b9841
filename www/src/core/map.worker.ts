// A worker of maps: its own instance of the package `lab`, one open map, tiles as they are asked
// for. It never fetches: the page hands it the compiled core.

import { initSync, map_digest, MapRun } from './pkg/lab.js';
import type { FromMapWorker, ToMapWorker } from './map';
import type { Refused } from './types';

const post = (message: FromMapWorker): void => {
  self.postMessage(message);
};

let open: { readonly generation: number; readonly run: MapRun } | undefined;

const isRefused = (cause: unknown): cause is Refused =>
  typeof cause === 'object' && cause !== null && 'problems' in cause && Array.isArray(cause.problems);

function work(message: Exclude<ToMapWorker, { kind: 'core' }>): void {
  const { generation } = message;
  if (message.kind === 'digest') {
    post({ kind: 'digest', generation, digest: map_digest(message.classes, message.values) });
    return;
  }
  if (message.kind === 'open') {
    open?.run.free();
    open = undefined;
    try {
      const run = new MapRun(message.ask);
      open = { generation, run };
      post({ kind: 'opened', generation, plan: run.plan() });
    } catch (cause) {
      if (!isRefused(cause)) throw cause;
      post({ kind: 'refused', generation, answer: cause });
    }
    return;
  }
  if (open === undefined || open.generation !== generation) {
    throw new Error('a tile of a map that is not open');
  }
  if (message.kind === 'edge') {
    post({ kind: 'edge', generation, edge: open.run.edge() });
    return;
  }
  const start = performance.now();
  const tile = open.run.cells(message.cells);
  post({ kind: 'tile', generation, tile, spent: performance.now() - start });
}

self.addEventListener('message', ({ data }: MessageEvent<ToMapWorker>) => {
  if (data.kind === 'core') {
    initSync({ module: data.module });
    return;
  }
  try {
    work(data);
  } catch (cause) {
    post({ kind: 'failed', generation: data.generation, reason: cause instanceof Error ? cause.message : String(cause) });
  }
});
