// The one-file build: everything inside dist/kickstill.html, packed, for a double click.
//
// Script, style and wasm are packed by LZMA, as base64 in an element that does nothing. Beside it stands only the loader
// (loader.ts), which the browser runs as it is; what it unpacks starts because the policy knows the hashes.

import { readFileSync } from 'node:fs';
import { dirname, join as joined } from 'node:path';
import { fileURLToPath } from 'node:url';
import { compress } from 'lzma1';
import { build, type Plugin, type Rolldown } from 'vite';
import { COMMON, hash, refuseInlineAttributes, withPolicy } from '../policy.ts';
import { join } from './join.ts';
import { parcel } from './parcel.ts';
import { split } from './split.ts';

const WASM = fileURLToPath(new URL('../src/core/pkg/whole_bg.wasm', import.meta.url));
const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));

/** `import W from './x?worker'` becomes a worker kept inside the script and started as a blob. */
export function inlineWorkers(): Plugin {
  return {
    name: 'kickstill-inline-workers',
    enforce: 'pre',
    resolveId(source, importer, options) {
      if (!source.endsWith('?worker')) return null;
      return this.resolve(`${source}&inline`, importer, { ...options, skipSelf: true });
    },
  };
}

/** In one file there is one core: board and workers use the package that holds both, which the loader unpacks. */
export function oneCore(): Plugin {
  const UNPACKED = '\0one-core';
  return {
    name: 'kickstill-one-core',
    enforce: 'pre',
    resolveId(source, importer, options) {
      if (/\/pkg\/\w+_bg\.wasm\?url$/.test(source)) return UNPACKED;
      if (source === './compile') return this.resolve('./compile.packed', importer, { ...options, skipSelf: true });
      if (!/\/pkg\/(kickstill|lab)\.js$/.test(source)) return null;
      return this.resolve(source.replace(/\w+\.js$/, 'whole.js'), importer, { ...options, skipSelf: true });
    },
    load(id) {
      if (id !== UNPACKED) return null;
      this.addWatchFile(WASM);
      return "export default 'inside';";
    },
  };
}

export function oneFile(): Plugin {
  return {
    name: 'kickstill-one-file',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_options, bundle) {
      const page = bundle['index.html'];
      if (page?.type !== 'asset') throw new Error('one-file build: index.html was not emitted');
      let html = String(page.source);
      refuseInlineAttributes(html);
      delete bundle['index.html'];
      // One file has nothing beside it, and cannot be installed.
      html = html.replace(/\s*<link rel="(manifest|apple-touch-icon|icon)"[^>]*>/g, '');
      const { script, style } = contents(bundle);
      const elements = /\s*<(script type="module"[^>]* src="[^"]*"><\/script|link rel="stylesheet"[^>]* href="[^"]*"\s*\/?)>/g;
      const loader = await bundled();
      const opening = readFileSync(here('opening.css'), 'utf8');
      html = html.replace(elements, '');
      html = put(html, '</title>', `</title>\n    <link rel="icon" href="data:," />\n    <style>${opening}</style>`);
      html = put(html, '</main>', `  ${readFileSync(here('damaged.html'), 'utf8')}    </main>`);
      const data = `<script type="application/x-lzma" id="packed">${packed(style, script).toString('base64')}</script>`;
      html = put(html, '</body>', `${data}\n    <script>${loader}</script>\n  </body>`);
      const policy = [
        "default-src 'none'",
        `script-src ${hash(loader)} ${hash(script)} 'wasm-unsafe-eval'`,
        `style-src ${hash(opening)} ${hash(style)}`,
        'img-src data: blob:',
        'worker-src blob:',
        ...COMMON,
      ];
      this.emitFile({ type: 'asset', fileName: 'kickstill.html', source: withPolicy(html, policy) });
    },
  };
}

/** The page's only script and only style; they are taken out of the bundle. */
function contents(bundle: Rolldown.OutputBundle): { script: string; style: string } {
  const scripts: string[] = [];
  const styles: string[] = [];
  for (const [name, item] of Object.entries(bundle)) {
    delete bundle[name];
    if (name.endsWith('.map')) continue;
    // What is imported late is inside already: Vite's list of what to load with it is empty.
    if (item.type === 'chunk') scripts.push(item.code.replaceAll('__VITE_PRELOAD__', 'void 0'));
    else if (name.endsWith('.css')) styles.push(String(item.source));
    else throw new Error(`one-file build: ${name} could not be kept inside the page`);
  }
  const [script, style] = [scripts[0], styles[0]];
  if (script === undefined || style === undefined || scripts.length + styles.length > 2) {
    throw new Error(`one-file build: ${scripts.length} scripts and ${styles.length} styles, one each expected`);
  }
  return { script, style };
}

/**
 * Everything in one stream, for wasm and texts share many words. The order is what loader.ts expects; the script is last,
 * see there.
 */
function packed(style: string, script: string): Buffer {
  const wasm = readFileSync(WASM);
  const { before, piles, behind } = split(wasm);
  if (!wasm.equals(join(before, piles, behind, wasm.length))) {
    throw new Error('one-file build: the wasm put together again is not the same; is a number in it longer than needed?');
  }
  const head = Buffer.alloc(4);
  head.writeUInt32LE(wasm.length);
  // 6: a window of 4 MB, more than all of it.
  return Buffer.from(compress(parcel([head, before, behind, ...piles, Buffer.from(style), Buffer.from(script)]), 6));
}

/** lzma1 counts bytes in BigInt, for each byte anew. In the page, where there are few millions, a plain number unpacks a third faster. */
function plainNumbers(): Plugin {
  return {
    name: 'kickstill-plain-numbers',
    transform(code, id) {
      if (!id.endsWith('/lzma1/lib/decoder.js')) return null;
      const plain = code.replace(/\b(0x[0-9a-f]+|\d+)n\b/g, '$1').replaceAll('BigInt(', '(');
      if (plain === code || /BigInt/.test(plain)) throw new Error('one-file build: lzma1 is not what it was');
      return { code: plain, map: null };
    },
  };
}

/** The loader as one plain script, with the decoder alone of lzma1, whose entry brings its encoder along. */
async function bundled(): Promise<string> {
  const lzma1 = dirname(fileURLToPath(import.meta.resolve('lzma1')));
  const result = await build({
    configFile: false,
    logLevel: 'warn',
    plugins: [plainNumbers()],
    resolve: {
      alias: { 'lzma1/decoder': joined(lzma1, 'decoder.js'), 'lzma1/streams': joined(lzma1, 'streams.js') },
    },
    build: {
      write: false,
      target: 'es2022',
      lib: { entry: here('loader.ts'), formats: ['iife'], name: 'loader' },
    },
  });
  const output = (Array.isArray(result) ? result[0] : result) as Rolldown.RolldownOutput;
  const code = output.output[0].code.trim();
  if (/<\/script|<!--|\r/i.test(code)) throw new Error('one-file build: the loader would end its own element');
  return code;
}

function put(html: string, place: string, text: string): string {
  if (html.split(place).length !== 2) throw new Error(`one-file build: index.html has not exactly one ${place}`);
  return html.replace(place, () => text);
}
