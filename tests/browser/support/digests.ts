// Runs in a page: the shipped wasm's digests, by the same bindings the page uses.

/** Types of what is used of the bindings; the real ones are generated. */
interface Core {
  default(options: { module_or_path: string }): Promise<unknown>;
  scenario_digests(): { name: string; digest: string }[];
}

export async function digestsInPage(wasm: string): Promise<{ name: string; digest: string }[]> {
  const bindings = '/core/kickstill.js';
  const core = (await import(bindings)) as Core;
  await core.default({ module_or_path: wasm });
  return core.scenario_digests();
}
