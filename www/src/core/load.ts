// The only module of the page that imports the board's wasm; `lab.ts` and its worker import the
// other one. Everything else takes a `LoadedCore`.
//
// It works in both builds: the folder build fetches the file beside it, the one-file build has it
// inside (nothing can be fetched from file://); see compile.ts.

import { compileCore } from './compile';
import init from './pkg/kickstill.js';
import * as api from './pkg/kickstill.js';
import wasmUrl from './pkg/kickstill_bg.wasm?url';

/** What the wasm exports. */
export type CoreApi = typeof api;

/** A running instance of the core. */
export interface LoadedCore {
  readonly api: CoreApi;
  /** Copy out of it at once: a view does not survive a call that makes the memory grow. */
  readonly memory: WebAssembly.Memory;
}

let loading: Promise<LoadedCore> | undefined;

/**
 * Loads the core once; further calls get the same instance.
 * Rejects with an error that says what failed; a later call tries again.
 */
export function loadCore(): Promise<LoadedCore> {
  loading ??= load().catch((cause: unknown) => {
    loading = undefined;
    throw cause;
  });
  return loading;
}

async function load(): Promise<LoadedCore> {
  let module: WebAssembly.Module;
  try {
    module = await compileCore(wasmUrl);
  } catch (cause) {
    throw new Error(`The simulation core could not be loaded: ${String(cause)}`, { cause });
  }
  const { memory } = await init({ module_or_path: module });
  return { api, memory };
}
