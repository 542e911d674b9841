import assert from 'node:assert/strict';
import { test } from 'node:test';
import { module } from './core.mjs';

test('the core asks the outside for neither time nor chance', () => {
  const imports = WebAssembly.Module.imports(module).map(({ name }) => name);
  const suspicious = imports.filter((name) => /now|date|random|crypto|fetch|storage|timeout/i.test(name));
  assert.deepEqual(suspicious, []);
});

test('the core is linked to its own bindings only', () => {
  const sources = new Set(WebAssembly.Module.imports(module).map((entry) => entry.module));
  assert.deepEqual([...sources].filter((source) => source !== './kickstill_bg.js'), []);
});

test('names and producers are left out of the shipped file', () => {
  for (const section of ['name', 'producers']) {
    assert.equal(WebAssembly.Module.customSections(module, section).length, 0, section);
  }
});
