// The workers' core, compiled once for all of them.

import { compileCore } from './compile';
import wasmUrl from './pkg/lab_bg.wasm?url';

let compiling: Promise<WebAssembly.Module> | undefined;

/** The compiled package `lab`; a later call tries again where the connection failed. */
export function labCore(): Promise<WebAssembly.Module> {
  compiling ??= compileCore(wasmUrl).catch((cause: unknown) => {
    compiling = undefined;
    throw cause;
  });
  return compiling;
}
