import assert from 'node:assert/strict';
import { test } from 'node:test';
import { packages } from './core.mjs';

for (const { name, module } of packages) {
  test(`${name} asks the outside for neither time nor chance`, () => {
    const imports = WebAssembly.Module.imports(module).map((entry) => entry.name);
    const suspicious = imports.filter((entry) => /now|date|random|crypto|fetch|storage|timeout/i.test(entry));
    assert.deepEqual(suspicious, []);
  });

  test(`${name} is linked to its own bindings only`, () => {
    const sources = new Set(WebAssembly.Module.imports(module).map((entry) => entry.module));
    assert.deepEqual([...sources].filter((source) => source !== `./${name}_bg.js`), []);
  });

  test(`names and producers are left out of ${name}`, () => {
    for (const section of ['name', 'producers']) {
      assert.equal(WebAssembly.Module.customSections(module, section).length, 0, section);
    }
  });
}
