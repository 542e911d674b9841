// The only module of the page that imports the board's wasm; `lab.ts` and its worker import the
// other one. Everything else takes a `LoadedCore`.
//
// It works in both builds: the folder build fetches the file beside it, the one-file build finds
// it as data inside the script (where nothing can be fetched from file://).

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

/** How the one-file build keeps the core: packed closer than a web host would, since it is mailed and copied. */
const DATA_PREFIX = 'data:application/x-lzma;base64,';

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

/** Compiles a wasm file: one beside the page, or one kept in the script as data. */
export async function compileCore(url: string): Promise<WebAssembly.Module> {
  if (url.startsWith(DATA_PREFIX)) {
    // Only the one-file build needs it, and has it inside.
    const { decompress } = await import('lzma1');
    return WebAssembly.compile(new Uint8Array(decompress(decodeBase64(url.slice(DATA_PREFIX.length)))));
  }
  // In the manner of the page's preload: asked for in another, WebKit would load the file twice.
  const response = await fetch(url, { mode: 'no-cors', credentials: 'include' });
  if (!response.ok) throw new Error(`${url}: HTTP status ${response.status}`);
  // A static host that does not know the type would make streaming compilation fail.
  return response.headers.get('Content-Type') === 'application/wasm'
    ? WebAssembly.compileStreaming(response)
    : WebAssembly.compile(await response.arrayBuffer());
}

function decodeBase64(text: string): Uint8Array<ArrayBuffer> {
  const characters = atob(text);
  const bytes = new Uint8Array(characters.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = characters.charCodeAt(i);
  return bytes;
}
