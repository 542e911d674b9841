// Runs in a page: the shipped wasm's digests, by the same bindings the page uses.

import type { shippedCore } from './site.mjs';

/** Types of what is used of the bindings; the real ones are generated. */
interface Core {
  default(options: { module_or_path: string }): Promise<unknown>;
  scenario_digests(key: string, file: string): { name: string; digest: string }[];
}

export async function digestsInPage({ wasm, demos }: ReturnType<typeof shippedCore>): Promise<{ name: string; digest: string }[]> {
  const bindings = '/core/kickstill.js';
  const core = (await import(bindings)) as Core;
  await core.default({ module_or_path: wasm });
  return demos.flatMap(([key, file]) => core.scenario_digests(key, file));
}
