// The shipped core in Node, for tests of what only the wasm boundary can show.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const pkg = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../www/src/core/pkg');

/** The wasm file as the page gets it. */
export const bytes = await readFile(path.join(pkg, 'kickstill_bg.wasm'));

/** Compiled once; instances are per test file. */
export const module = new WebAssembly.Module(bytes);

/** All packages that are shipped: the board's, the workers', and both in one. */
export const packages = [
  { name: 'kickstill', module },
  ...(await Promise.all(
    ['lab', 'whole'].map(async (name) => ({
      name,
      module: new WebAssembly.Module(await readFile(path.join(pkg, `${name}_bg.wasm`))),
    })),
  )),
];

/** The bindings, started. */
export const core = await import(path.join(pkg, 'kickstill.js'));
core.initSync({ module });
