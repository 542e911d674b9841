// What the one-file page begins with: it unpacks the wasm, the style and the script, and starts them. Bundled and put into
// the page by plugin.ts. The same script is its own helper: as a worker it unpacks the wasm's code, and compiles the wasm,
// while the page unpacks and reads the script; a browser that refuses the worker does both in turn.
//
// The script comes last in what is packed, and the page's policy knows its hash: when the file is damaged before that, the
// script is not what it was, and the browser refuses it.

import { PILES } from './code';
import { join } from './join';
import { unparcel } from './parcel';
import { unpack } from './unpack';

/** What the worker is told: the packed code at once, and the wasm's other parts when the page has them. */
type ToHelper = string | Frame;

interface Frame {
  readonly before: Uint8Array;
  readonly behind: Uint8Array;
  readonly length: number;
}

const compiled = (code: string, { before, behind, length }: Frame): Promise<WebAssembly.Module> =>
  WebAssembly.compile(join(before, unparcel(unpack(code), PILES), behind, length));

function help(): void {
  let piles: Uint8Array[] = [];
  self.onmessage = async ({ data }: MessageEvent<ToHelper>) => {
    if (typeof data === 'string') piles = unparcel(unpack(data), PILES);
    else self.postMessage(await WebAssembly.compile(join(data.before, piles, data.behind, data.length)));
  };
  // What fails here is done once more by the page, which tells what it was.
  self.onunhandledrejection = () => {
    self.postMessage(undefined);
  };
}

function taken(id: string): string {
  const found = document.getElementById(id);
  found?.remove();
  return found?.textContent ?? '';
}

/** The worker has been given the code; nothing where the browser allows none. */
function helper(script: string, code: string): Worker | undefined {
  try {
    const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
    const worker = new Worker(url);
    URL.revokeObjectURL(url);
    worker.postMessage(code);
    return worker;
  } catch {
    return undefined;
  }
}

function core(worker: Worker | undefined, code: string, frame: Frame): Promise<WebAssembly.Module> {
  if (worker === undefined) return compiled(code, frame);
  return new Promise((resolve) => {
    const done = (module: unknown): void => {
      worker.terminate();
      resolve(module instanceof WebAssembly.Module ? module : compiled(code, frame));
    };
    worker.onmessage = ({ data }) => {
      done(data);
    };
    worker.onerror = () => {
      done(undefined);
    };
    worker.postMessage(frame);
  });
}

function put(name: 'style' | 'script', bytes: Uint8Array): void {
  const made = document.createElement(name);
  if (name === 'script') made.setAttribute('type', 'module');
  made.textContent = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  document.head.append(made);
}

function tellDamaged(): void {
  const told = document.getElementById('damaged');
  if (told === null) return;
  told.hidden = false;
  document.querySelector('[role="status"]')?.remove();
}

function open(script: string): void {
  const code = taken('packed-code');
  const worker = helper(script, code);
  document.addEventListener('securitypolicyviolation', tellDamaged);
  // Not at once: the browser shows first that something is being opened.
  setTimeout(() => {
    try {
      const [head, before, behind, style, page] = unparcel(unpack(taken('packed')), 5);
      if (!head || !before || !behind || !style || !page) throw new Error('a part is missing');
      const length = new DataView(head.buffer, head.byteOffset).getUint32(0, true);
      const coming = core(worker, code, { before: before.slice(), behind: behind.slice(), length });
      // The page says so when it needs the core.
      coming.catch(() => undefined);
      globalThis.kickstillCore = coming;
      put('style', style);
      put('script', page);
    } catch (cause) {
      console.error(cause);
      worker?.terminate();
      tellDamaged();
    }
  });
}

if (typeof document === 'undefined') help();
else open(document.currentScript?.textContent ?? '');
