// The shipped core in Node, for tests of what only the wasm boundary can show.

import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const pkg = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../www/src/core/pkg');

/** The wasm file as the page gets it. */
export const bytes = await readFile(path.join(pkg, 'kickstill_bg.wasm'));

/** Compiled once; instances are per test file. */
export const module = new WebAssembly.Module(bytes);

/** The bindings, started. */
export const core = await import(path.join(pkg, 'kickstill.js'));
core.initSync({ module });
