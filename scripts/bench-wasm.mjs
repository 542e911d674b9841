// Times the whole closed loop in the shipped wasm, as the native benchmark did:
//   node bench-wasm.mjs NATIVE.json
// and the native benchmark's map, cell by cell in one thread, by the workers' wasm.
// Needs of the wasm: bench_plane(seconds to simulate) → { sim_seconds, digest }.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');
const pkg = path.join(root, 'www/src/core/pkg');
const native = JSON.parse(await readFile(/** @type {string} */ (process.argv[2]), 'utf8'));
// The workers' core: the board's is built for size, and has all the time it needs.
const lab = await import(path.join(pkg, 'lab.js'));
lab.initSync({ module: await readFile(path.join(pkg, 'lab_bg.wasm')) });

const seconds = native.plane_sim_seconds;
if (!(seconds > 0)) throw new Error('the native benchmark did not say how long it simulated (plane_sim_seconds)');
lab.bench_plane(Math.min(seconds, 20)); // lets the engine finish its optimising compiler

const REPEATS = 3;
let best = Infinity;
let digest = '';
for (let i = 0; i < REPEATS; i++) {
  const start = performance.now();
  const run = lab.bench_plane(seconds);
  best = Math.min(best, (performance.now() - start) / 1000);
  if (run.sim_seconds !== seconds) throw new Error(`${run.sim_seconds} s were simulated, not ${seconds} s`);
  digest = run.digest;
}

const robot = await readFile(path.join(root, 'crates/robot/demos/cobnut.json'), 'utf8');

/** @param {object} more */
function map(more) {
  const open = new lab.MapRun({ robot, ...native.map_ask, ...more });
  const plan = open.plan();
  const count = plan.x.values.length * plan.y.values.length;
  open.cells(Uint32Array.from({ length: 256 }, (_, i) => i)); // as above: the compiler first
  const start = performance.now();
  const { values, classes, simulated, run } = open.cells(Uint32Array.from({ length: count }, (_, i) => i));
  const time = (performance.now() - start) / 1000;
  open.free();
  return { rate: simulated / time, run: run / time, digest: lab.map_digest(classes, values) };
}

function edge() {
  const open = new lab.MapRun({ robot, ...native.map_ask });
  const start = performance.now();
  open.edge();
  const time = performance.now() - start;
  open.free();
  return time;
}

/**
 * What the Edge page asks while a knob is turned, step by step: spans followed, poles, gain and phase, margins; with
 * oscillations also those. Root tracks are asked for when the finger rests.
 * @param {'side' | 'front'} view @param {string} section @param {string} key @param {boolean} oscillations
 */
function edgeSteps(view, section, key, oscillations) {
  const turned = JSON.parse(robot);
  const ask = { view, speed: 0, rest: 'on', poles: true, curve: 'duty', oscillations };
  const scan = performance.now();
  let { spans } = lab.lab_edge({ ...ask, robot });
  const scanned = performance.now() - scan;
  const times = [];
  for (let i = 0; i < 60; i++) {
    turned[section][key] *= i < 30 ? 1.006 : 1 / 1.006;
    const text = JSON.stringify(turned);
    const start = performance.now();
    const out = lab.lab_edge({ ...ask, robot: text, before: spans });
    times.push(performance.now() - start);
    spans = out.spans;
  }
  times.sort((a, b) => a - b);
  return { scanned, median: times[30] ?? Infinity, worst: times[59] ?? Infinity };
}

const warm = edgeSteps('side', 'head', 'mass', true); // the compiler first
/** @param {boolean} oscillations */
const edgeOf = (oscillations) => [
  edgeSteps('side', 'travel', 'damping', oscillations),
  edgeSteps('front', 'lean', 'damping', oscillations),
  edgeSteps('front', 'head', 'mass', oscillations),
];
const [steps, wide] = [edgeOf(false), edgeOf(true)];

const stopped = [0, 1, 2].map(() => map({}));
const whole = [0, 1, 2].map(() => map({ toTheEnd: true }));
console.log(
  JSON.stringify({
    plane_wasm_sim_s_per_s: seconds / best,
    plane_wasm_digest: digest,
    // Each cell to its end: what is simulated is what is run.
    map_cell_sim_s_per_s: Math.max(...whole.map((m) => m.rate)),
    map_cell_stopping_sim_s_per_s: Math.max(...stopped.map((m) => m.rate)),
    map_node_digest: stopped[0]?.digest,
    map_full_node_digest: whole[0]?.digest,
    // One step of a knob, the worst of three knobs' medians; the slowest step of all; all tracks from nothing.
    edge_update_ms: Math.max(...steps.map((s) => s.median)),
    edge_update_oscillations_ms: Math.max(...wide.map((s) => s.median)),
    edge_update_worst_ms: Math.max(...steps.map((s) => s.worst)),
    edge_scan_ms: Math.max(warm.scanned, ...steps.map((s) => s.scanned)),
    map_edge_ms: Math.min(edge(), edge(), edge()),
  }),
);
