// Every trial in every view, by what the page's worker runs and by the command line: the same
// digest, outcome and measures, to the last bit. Builds the command line first, or takes the program
// that KICKSTILL_CLI names.

import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const pkg = path.join(root, 'www/src/core/pkg');
const lab = await import(path.join(pkg, 'lab.js'));
lab.initSync({ module: await readFile(path.join(pkg, 'lab_bg.wasm')) });

const DEMO = 'cobnut';
const robot = await readFile(path.join(root, `crates/robot/demos/${DEMO}.json`), 'utf8');

function commandLine() {
  const given = process.env['KICKSTILL_CLI'];
  if (given) return given;
  execFileSync('cargo', ['build', '--quiet', '--package', 'kickstill-cli', '--bin', 'kickstill'], { cwd: root, stdio: 'inherit' });
  const target = process.env['CARGO_TARGET_DIR'] ?? path.join(root, 'target');
  return path.join(path.resolve(root, target), 'debug/kickstill');
}
const program = commandLine();

/** @typedef {{ key: string, value?: number, text: string, unit: string }} Measured */

/** @param {Measured[]} measures */
const byKey = (measures) =>
  Object.fromEntries(measures.map(({ key, value, text, unit }) => [key, { value: value ?? null, words: text, unit }]));

/** @type {{ trials: { key: string, views: { view: string }[] }[] }} */
const catalogue = lab.lab_trials({ robot });
assert.ok(catalogue.trials.length >= 16, 'the worker offers the trials');

let compared = 0;
for (const { key: trial, views } of catalogue.trials) {
  for (const { view } of views) {
    for (const software of ['off', 'locked', 'on']) {
      test(`${trial}, ${view} view, ${software}`, () => {
        const run = lab.lab_run({ robot, trial, view, software, columns: [] });
        const args = ['trial', DEMO, '--trial', trial, '--view', view, '--software', software, '--json'];
        const told = spawnSync(program, args, { encoding: 'utf8' });
        if (run.problems !== undefined) {
          assert.notEqual(told.status, 0, `refused by the worker, run by the command line: ${run.problems[0]?.expected}`);
          return;
        }
        assert.equal(told.status, 0, told.stderr);
        const report = JSON.parse(told.stdout);
        assert.equal(run.digest, report.digest);
        assert.deepEqual({ class: run.outcomeClass, words: run.outcome }, report.outcome);
        assert.deepEqual(byKey(run.measures), report.measures);
        compared += 1;
      });
    }
  }
}
test('most of them were run, not refused', () => {
  assert.ok(compared >= 2 * catalogue.trials.length, `${compared} compared`);
});
