// What the one-file page begins with: it unpacks the wasm, the style and the script, and starts them. Bundled and put into
// the page by plugin.ts. (Unpacking a part of it in a worker was slower on two cores: the worker begins late, and cold.)
//
// The script comes last in what is packed, and the page's policy knows its hash: when the file is damaged anywhere, the
// script is not what it was, and the browser refuses it.

import { PILES } from './code.ts';
import { join } from './join.ts';
import { unparcel } from './parcel.ts';
import { unpack } from './unpack.ts';

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

function open(): void {
  document.addEventListener('securitypolicyviolation', tellDamaged);
  try {
    const packed = document.getElementById('packed');
    const parts = unparcel(unpack(packed?.textContent ?? ''), PILES + 5);
    packed?.remove();
    const [head, before, behind] = parts;
    const [style, script] = parts.slice(-2);
    if (!head || !before || !behind || !style || !script) throw new Error('a part is missing');
    const length = new DataView(head.buffer, head.byteOffset).getUint32(0, true);
    const core = WebAssembly.compile(join(before, parts.slice(3, -2), behind, length));
    // The page says so when it needs the core.
    core.catch(() => undefined);
    globalThis.kickstillCore = core;
    put('style', style);
    put('script', script);
  } catch (cause) {
    console.error(cause);
    tellDamaged();
  }
}

// Not at once: the browser shows first that something is being opened.
setTimeout(open);
