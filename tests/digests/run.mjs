// Loads the shipped wasm in Node and compares its scenario digests with the committed ones.
//   node tests/digests/run.mjs [--update]
// The same digests are checked natively (debug and release) and in the browsers.

import { readFile, readdir, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import path from 'node:path';
import vm from 'node:vm';
import { isDeepStrictEqual } from 'node:util';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const committedFile = path.join(root, 'tests/digests/digests.json');
let passed = 0;
let failed = 0;

/** @param {string} name @param {string | undefined} fault */
function report(name, fault) {
  if (fault === undefined) passed += 1;
  else failed += 1;
  console.log(fault === undefined ? `ok      ${name}` : `FAILED  ${name}: ${fault}`);
}

const assets = path.join(root, 'dist/assets');
const names = (await readdir(assets)).filter((name) => name.endsWith('.wasm'));
report('dist/ holds exactly two wasm files', names.length === 2 ? undefined : `found ${names.length}: ${names.join(', ')}`);
const onefile = await readFile(path.join(root, 'dist/kickstill.html'), 'latin1');

/** Checks that one of the two packages is shipped as it was built. @param {string} name */
async function shipped(name) {
  const built = await readFile(path.join(root, `www/src/core/pkg/${name}_bg.wasm`));
  const found = names.find((file) => file.startsWith(`${name}_bg`));
  const bytes = found === undefined ? built : await readFile(path.join(assets, found));
  report(`${name}: the shipped wasm is the one just built`, bytes.equals(built) ? undefined : 'dist/ is stale or the bundler altered it');
  report(
    `${name}: the wasm names no local folder`,
    [root, process.env['HOME'] ?? root].find((folder) => folder.length > 1 && bytes.includes(folder)),
  );
  return bytes;
}
const bytes = await shipped('kickstill');
const labBytes = await shipped('lab');

// The one-file page holds one core for board and workers, packed: its own loader unpacks it here as in a browser.
const whole = await unpackedCore(onefile);
report(
  'whole: the one-file page carries the wasm just built',
  whole.equals(await readFile(path.join(root, 'www/src/core/pkg/whole_bg.wasm'))) ? undefined : 'dist/kickstill.html is stale',
);

/** Runs the page's loader with the little it needs of a browser. @param {string} html */
async function unpackedCore(html) {
  const packed = /<script type="application\/x-lzma" id="packed">([^<]*)/.exec(html)?.[1] ?? '';
  const script = /<script>([^]*?)<\/script>/.exec(html)?.[1] ?? '';
  /** @type {Promise<Uint8Array>} */
  const found = new Promise((resolve, reject) => {
    vm.runInNewContext(script, {
      atob,
      console: { error: reject },
      setTimeout,
      TextDecoder,
      WebAssembly: { compile: async (/** @type {Uint8Array} */ bytes) => resolve(bytes) },
      document: {
        addEventListener() {},
        createElement: () => ({ setAttribute() {} }),
        getElementById: () => ({ textContent: packed, remove() {} }),
        head: { append() {} },
        querySelector: () => null,
      },
    });
  });
  return found.then(Buffer.from, () => Buffer.alloc(0));
}

/** @type {[string, string][]} */
const demos = await Promise.all(
  ['cobnut', 'thimble', 'hayrick'].map(async (key) => [key, await readFile(path.join(root, `crates/robot/demos/${key}.json`), 'utf8')]),
);
/** @param {{ scenario_digests: (key: string, file: string) => { name: string, digest: string }[] }} bindings */
const ofAll = (bindings) => demos.flatMap(([key, file]) => bindings.scenario_digests(key, file));

const core = await import(path.join(root, 'www/src/core/pkg/kickstill.js'));
core.initSync({ module: bytes });
/** @type {{ name: string, digest: string }[]} */
const computed = ofAll(core);

if (process.argv.includes('--update')) {
  await writeFile(committedFile, `${JSON.stringify(computed, null, 2)}\n`);
}
/** @type {{ name: string, digest: string }[]} */
const committed = JSON.parse(await readFile(committedFile, 'utf8').catch(() => '[]'));
report('some scenario is committed', committed.length > 0 ? undefined : 'digests.json is missing or empty (write it by --update)');
for (const { name, digest } of committed) {
  const found = computed.find((entry) => entry.name === name);
  report(
    `scenario ${name}`,
    found === undefined
      ? 'the wasm does not run it'
      : found.digest === digest
        ? undefined
        : `digest ${found.digest}, expected ${digest}`,
  );
}
const both = await import(path.join(root, 'www/src/core/pkg/whole.js'));
both.initSync({ module: whole });
report('the one-file core has the same digests', isDeepStrictEqual(ofAll(both), computed) ? undefined : 'they differ');
for (const { name } of computed) {
  if (!committed.some((entry) => entry.name === name)) report(`scenario ${name}`, 'its digest is not committed');
}

// What the page's workers run has the same digests, by its own wasm.
const lab = await import(path.join(root, 'www/src/core/pkg/lab.js'));
lab.initSync({ module: labBytes });
/** @type {Readonly<Record<string, string>>} */
const SOFTWARE = { 'motors off': 'off', locked: 'locked', steadied: 'on' };
for (const { name, digest } of committed) {
  const [, key, trial, view, level] = /^(\S+) (\S+) (side|front) (.*)$/.exec(name) ?? [];
  const robot = await readFile(path.join(root, `crates/robot/demos/${key}.json`), 'utf8');
  const software = SOFTWARE[level ?? ''];
  const run = lab.lab_run({ robot, trial, view, software, columns: [] });
  report(`lab ${name}`, run.digest === digest ? undefined : `digest ${run.digest}, expected ${digest}`);
}

console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;
