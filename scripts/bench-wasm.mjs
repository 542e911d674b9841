// Times the whole closed loop in the shipped wasm, as the native benchmark did:
//   node bench-wasm.mjs NATIVE.json
// Needs of the wasm: bench_plane(seconds to simulate) → { sim_seconds, digest }.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const pkg = path.join(root, 'www/src/core/pkg');
const native = JSON.parse(await readFile(/** @type {string} */ (process.argv[2]), 'utf8'));
const core = await import(path.join(pkg, 'kickstill.js'));
core.initSync({ module: await readFile(path.join(pkg, 'kickstill_bg.wasm')) });

const seconds = native.plane_sim_seconds;
if (!(seconds > 0)) throw new Error('the native benchmark did not say how long it simulated (plane_sim_seconds)');
core.bench_plane(Math.min(seconds, 20)); // lets the engine finish its optimising compiler

const REPEATS = 3;
let best = Infinity;
let digest = '';
for (let i = 0; i < REPEATS; i++) {
  const start = performance.now();
  const run = core.bench_plane(seconds);
  best = Math.min(best, (performance.now() - start) / 1000);
  if (run.sim_seconds !== seconds) throw new Error(`${run.sim_seconds} s were simulated, not ${seconds} s`);
  digest = run.digest;
}
console.log(JSON.stringify({ plane_wasm_sim_s_per_s: seconds / best, plane_wasm_digest: digest }));
