// Maps by what the page's workers run: whoever runs which cells when, the map is the same; exact cells are plain
// runs, to the last bit; and the command line makes the same map. Builds the command line first, or takes the
// program that KICKSTILL_CLI names.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const pkg = path.join(root, 'www/src/core/pkg');
const lab = await import(path.join(pkg, 'lab.js'));
lab.initSync({ module: await readFile(path.join(pkg, 'lab_bg.wasm')) });
const robot = await readFile(path.join(root, 'crates/robot/demos/cobnut.json'), 'utf8');

const SIDE = 12;
const trial = { trial: 'kick', view: 'front', software: 'on' };
const ask = {
  robot,
  trial,
  x: { knob: 'lean.damping', from: 0, to: 0.6, count: SIDE },
  y: { knob: 'lean.dead_band', from: 0, to: 0.05, count: SIDE },
  measure: 'peak',
};
const cells = Array.from({ length: SIDE * SIDE }, (_, i) => i);

/**
 * A map whose cells are run in this order, in tiles, by turns in several workers.
 * @param {object} asked @param {number[]} order @param {number} tile @param {number} workers
 */
function whole(asked, order, tile, workers) {
  const runs = Array.from({ length: workers }, () => new lab.MapRun(asked));
  const values = new Float64Array(order.length).fill(NaN);
  const classes = new Uint8Array(order.length);
  for (let i = 0; i * tile < order.length; i++) {
    const part = runs[i % workers].cells(Uint32Array.from(order.slice(i * tile, (i + 1) * tile)));
    part.cells.forEach((/** @type {number} */ cell, /** @type {number} */ at) => {
      values[cell] = part.values[at];
      classes[cell] = part.classes[at];
    });
  }
  for (const run of runs) run.free();
  return { values, classes, digest: lab.map_digest(classes, values) };
}

const once = whole(ask, cells, cells.length, 1);

test('whoever runs which cells when, the map is the same', () => {
  assert.equal(whole(ask, [...cells].reverse(), 7, 1).digest, once.digest);
  // Far apart: 35 and 144 have no common divisor.
  assert.equal(whole(ask, cells.map((i) => (i * 35) % cells.length), 5, 3).digest, once.digest);
  assert.notEqual(whole({ ...ask, trial: { ...trial, seed: 2 } }, cells, 50, 1).digest, once.digest);
});

test('there is something in it', () => {
  assert.ok(once.values.every(Number.isFinite));
  assert.ok(new Set(once.values).size > SIDE * SIDE / 2);
});

test('an exact cell is a plain run, to the last bit', () => {
  const open = new lab.MapRun({ ...ask, exact: true });
  const plan = open.plan();
  const data = JSON.parse(robot);
  for (const cell of [0, 17, 70, 143]) {
    const part = open.cells(Uint32Array.of(cell));
    // Numbers of the file are read back as they were written: exactly.
    const like = structuredClone(data);
    const [x, y] = [plan.x.values[cell % SIDE], plan.y.values[Math.floor(cell / SIDE)]];
    like.lean.damping = x;
    like.lean.dead_band = y;
    const run = lab.lab_run({ robot: JSON.stringify(like), ...trial, opened: robot, columns: [] });
    assert.equal(run.problems, undefined, JSON.stringify(run.problems?.[0]));
    const peak = run.measures.find((/** @type {{ key: string }} */ m) => m.key === 'peak');
    assert.equal(part.values[0], peak.value);
    assert.equal(plan.classes[part.classes[0]].key, run.outcomeClass);
  }
  open.free();
});

test('the command line makes the same map', () => {
  let program = process.env['KICKSTILL_CLI'];
  if (!program) {
    execFileSync('cargo', ['build', '--quiet', '--package', 'kickstill-cli', '--bin', 'kickstill'], { cwd: root, stdio: 'inherit' });
    program = path.join(path.resolve(root, process.env['CARGO_TARGET_DIR'] ?? 'target'), 'debug/kickstill');
  }
  const { knob: x } = ask.x;
  const { knob: y } = ask.y;
  // Ends in radians: a bare number would be in the unit shown.
  const args = ['map', 'cobnut', '--trial', trial.trial, '--view', trial.view, '--software', trial.software];
  args.push('--x', `${x}=0..0.6/${SIDE}`, '--y', `${y}=0 rad..0.05 rad/${SIDE}`, '--measure', ask.measure, '--json');
  const told = JSON.parse(execFileSync(program, args, { encoding: 'utf8' }));
  assert.equal(told.digest, once.digest);
});
