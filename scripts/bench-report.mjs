// Joins the parts of one benchmark run and compares them with the goals:
//   node bench-report.mjs text|json FOLDER

import { readFile } from 'node:fs/promises';
import { cpus } from 'node:os';
import path from 'node:path';

const [format, folder = '.'] = process.argv.slice(2);
/** @param {string} name @returns {Promise<Record<string, any>>} */
const part = async (name) => JSON.parse(await readFile(path.join(folder, name), 'utf8'));
const native = await part('native.json');
const wasm = await part('wasm.json');
const reference = await part('reference.json');
const page = await part('page.json');
const map = await part('map.json');
const soak = await part('soak.json');

const mujoco = reference['steps_per_s'] * reference['step_s'];

/** @type {Record<string, any>} */
const result = {
  ...native,
  ...wasm,
  ...page,
  ...map,
  ...soak,
  wasm_to_native: wasm['plane_wasm_sim_s_per_s'] / native['plane_native_sim_s_per_s'],
  digests_agree: native['plane_digest'] === wasm['plane_wasm_digest'],
  map_digests_agree:
    new Set([native['map_digest'], wasm['map_node_digest'], map['map_wasm_digest']]).size === 1 &&
    new Set([native['map_full_digest'], wasm['map_full_node_digest'], map['map_full_wasm_digest']]).size === 1,
  plant_vs_mujoco: native['plant_native_sim_s_per_s'] / mujoco,
  mujoco_sim_s_per_s: mujoco,
  mujoco_version: reference['mujoco_version'],
  machine: `${cpus()[0]?.model ?? 'unknown'}, ${cpus().length} cores`,
};

/** Key, whether the goal is a lower or an upper bound, the goal. */
const GOALS = /** @type {[string, 'at least' | 'at most', number][]} */ ([
  ['plane_native_sim_s_per_s', 'at least', 4000],
  ['wasm_to_native', 'at least', 0.85],
  ['plant_vs_mujoco', 'at least', 50],
  ['frame_script_ms_median', 'at most', 3],
  ['strips_frame_ms_median', 'at most', 4],
  ['first_robot_ms', 'at most', 400],
  ['transfer_gzip_bytes', 'at most', 200_000],
  ['trial_worker_ms', 'at most', 30],
  ['edge_update_ms', 'at most', 8],
  ['map_64x64_8s_ms', 'at most', 1500],
  ['map_first_ms', 'at most', 100],
  ['map_cell_sim_s_per_s', 'at least', 10_000],
  ['allocations_per_step', 'at most', 0],
  // Flat: what the engine's own caches and counters take is below these.
  ['heap_growth_30min', 'at most', 500_000],
  ['core_growth_30min', 'at most', 1_000_000],
  ['node_growth_30min', 'at most', 20],
  ['listener_growth_30min', 'at most', 5],
]);

result['goals'] = GOALS.map(([key, bound, goal]) => {
  const value = result[key];
  const met = typeof value === 'number' && Number.isFinite(value) && (bound === 'at least' ? value >= goal : value <= goal);
  return { key, value: value ?? null, bound, goal, met };
});

if (format === 'json') {
  console.log(JSON.stringify(result, null, 2));
} else {
  for (const [key, value] of Object.entries(result)) if (key !== 'goals' && typeof value !== 'object') console.log(`${key.padEnd(28)} ${value}`);
  console.log();
  for (const { key, value, bound, goal, met } of result['goals']) {
    console.log(`${met ? 'met        ' : 'falls short'} ${key.padEnd(28)} ${value} (${bound} ${goal})`);
  }
}
if (!result['map_digests_agree']) {
  console.error('native, Node and Chromium did not make the same map: their digests differ');
  process.exitCode = 1;
}
if (!result['digests_agree']) {
  console.error('native and wasm did not run the same motion: their digests differ');
  process.exitCode = 1;
}
