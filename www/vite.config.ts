import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { compress } from 'lzma1';
import { defineConfig, type Plugin } from 'vite';
import { generateSW } from 'workbox-build';
import { handbook } from './handbook/build/plugin';

// Two builds of one page:
//   vite build                  dist/ with many files, for any static host and any sub-path
//   vite build --mode onefile   dist/kickstill.html, everything inside, for a double click

/** Rules both builds share: no plug-ins, no foreign base address, forms go nowhere. */
const COMMON = ["object-src 'none'", "base-uri 'none'", "form-action 'none'"];

const SITE_POLICY = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  ...COMMON,
];

const hash = (text: string): string =>
  `'sha256-${createHash('sha256').update(text, 'utf8').digest('base64')}'`;

/** Puts the policy right behind the charset, before anything that it governs. */
function withPolicy(html: string, policy: string[]): string {
  const meta = `<meta http-equiv="Content-Security-Policy" content="${policy.join('; ')}" />`;
  const charset = /<meta charset="utf-8"\s*\/?>/i;
  if (!charset.test(html)) throw new Error('index.html: <meta charset="utf-8"> is missing');
  return html.replace(charset, (found) => `${found}\n    ${meta}`);
}

/** An inline element is governed by its hash; attributes cannot be, so there must be none. */
function refuseInlineAttributes(html: string): void {
  const found = /<[a-z][^>]*\s(style|on[a-z]+)\s*=/i.exec(html);
  if (found) {
    throw new Error(`index.html: attribute "${found[1]}" is refused by the page's own security policy`);
  }
}

function sitePolicy(): Plugin {
  return {
    name: 'kickstill-site-policy',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler(html, { bundle }) {
        refuseInlineAttributes(html);
        // Lets the board's core arrive together with the script that will ask for it, not after it.
        // The workers' core is asked for only when something is run in a worker.
        const core = Object.keys(bundle ?? {})
          .filter((name) => /(^|\/)kickstill_bg[^/]*\.wasm$/.test(name))
          .map((name) => ({
            tag: 'link',
            attrs: { rel: 'preload', as: 'fetch', type: 'application/wasm', href: `./${name}` },
            injectTo: 'head' as const,
          }));
        // So do the scripts that the first one imports.
        const imported = (name: string): string[] => {
          const item = bundle?.[name];
          return item?.type === 'chunk' ? item.imports.flatMap((one) => [one, ...imported(one)]) : [];
        };
        const entry = Object.values(bundle ?? {}).find((item) => item.type === 'chunk' && item.isEntry);
        const scripts = [...new Set(imported(entry?.fileName ?? ''))].map((name) => ({
          tag: 'link',
          attrs: { rel: 'modulepreload', crossorigin: true, href: `./${name}` },
          injectTo: 'head' as const,
        }));
        return { html: withPolicy(html, SITE_POLICY), tags: [...core, ...scripts] };
      },
    },
  };
}

/** The service worker, which keeps all files of the folder: made when they lie there. */
function keptOffline(folder: string): Plugin {
  return {
    name: 'kickstill-kept-offline',
    apply: 'build',
    closeBundle: {
      sequential: true,
      order: 'post',
      async handler() {
        const { count, warnings } = await generateSW({
          globDirectory: folder,
          globPatterns: ['**/*.{html,js,css,wasm,svg,png,webmanifest,json}'],
          globIgnores: ['kickstill.html', 'sw.js'],
          swDest: `${folder}/sw.js`,
          cacheId: 'kickstill',
          // Names under assets/ tell their content.
          dontCacheBustURLsMatching: /\/?assets\//,
          maximumFileSizeToCacheInBytes: 16_000_000,
          inlineWorkboxRuntime: true,
          sourcemap: false,
          clientsClaim: true,
          // A newer version waits until it is asked for; see src/offline.ts.
          skipWaiting: false,
          cleanupOutdatedCaches: true,
          directoryIndex: 'index.html',
        });
        if (warnings.length > 0 || count < 5) throw new Error(`service worker: ${count} files; ${warnings.join('; ')}`);
      },
    },
  };
}

/** `import W from './x?worker'` becomes a worker kept inside the script and started as a blob. */
function inlineWorkers(): Plugin {
  return {
    name: 'kickstill-inline-workers',
    enforce: 'pre',
    resolveId(source, importer, options) {
      if (!source.endsWith('?worker')) return null;
      return this.resolve(`${source}&inline`, importer, { ...options, skipSelf: true });
    },
  };
}

/** In one file there is one core: board and workers use the package that holds both, kept compressed as data. */
function oneCore(): Plugin {
  const PACKED = '\0one-core';
  return {
    name: 'kickstill-one-core',
    enforce: 'pre',
    resolveId(source, importer, options) {
      if (/\/pkg\/\w+_bg\.wasm\?url$/.test(source)) return PACKED;
      if (!/\/pkg\/(kickstill|lab)\.js$/.test(source)) return null;
      return this.resolve(source.replace(/\w+\.js$/, 'whole.js'), importer, { ...options, skipSelf: true });
    },
    load(id) {
      if (id !== PACKED) return null;
      const file = fileURLToPath(new URL('src/core/pkg/whole_bg.wasm', import.meta.url));
      this.addWatchFile(file);
      const data = Buffer.from(compress(readFileSync(file), 9)).toString('base64');
      return `export default 'data:application/x-lzma;base64,${data}';`;
    },
  };
}

function oneFile(): Plugin {
  return {
    name: 'kickstill-one-file',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const page = bundle['index.html'];
      if (page?.type !== 'asset') throw new Error('one-file build: index.html was not emitted');
      let html = String(page.source);
      refuseInlineAttributes(html);
      delete bundle['index.html'];
      // One file has nothing beside it, and cannot be installed.
      html = html.replace(/\s*<link rel="(manifest|apple-touch-icon|icon)"[^>]*>/g, '');
      html = html.replace('</title>', '</title>\n    <link rel="icon" href="data:," />');

      const scripts: string[] = [];
      const styles: string[] = [];
      for (const [name, item] of Object.entries(bundle)) {
        delete bundle[name];
        if (name.endsWith('.map')) continue;
        const address = name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
        if (item.type === 'chunk') {
          // The HTML parser must not see the element's end inside a string.
          // What is imported late is inside already: Vite's list of what to load with it is empty.
          const code = item.code.replaceAll('__VITE_PRELOAD__', 'void 0').replace(/<\/script/gi, '<\\/script');
          if (code.includes('<!--')) throw new Error(`one-file build: ${name} holds "<!--"`);
          const tag = new RegExp(`<script type="module"[^>]* src="\\./${address}"></script>`);
          html = replaceOnce(html, tag, `<script type="module">${code}</script>`, name);
          scripts.push(hash(code));
        } else if (name.endsWith('.css')) {
          const code = String(item.source);
          if (/<\/style/i.test(code)) throw new Error(`one-file build: ${name} would end its own element`);
          const tag = new RegExp(`<link rel="stylesheet"[^>]* href="\\./${address}"\\s*/?>`);
          html = replaceOnce(html, tag, `<style>${code}</style>`, name);
          styles.push(hash(code));
        } else {
          throw new Error(`one-file build: ${name} could not be kept inside the page`);
        }
      }
      const policy = [
        "default-src 'none'",
        `script-src ${scripts.join(' ')} 'wasm-unsafe-eval'`,
        `style-src ${styles.length > 0 ? styles.join(' ') : "'none'"}`,
        'img-src data: blob:',
        'worker-src blob:',
        ...COMMON,
      ];
      this.emitFile({ type: 'asset', fileName: 'kickstill.html', source: withPolicy(html, policy) });
    },
  };
}

function replaceOnce(html: string, tag: RegExp, text: string, name: string): string {
  if (!tag.test(html)) throw new Error(`one-file build: index.html does not load ${name}`);
  if (text.includes('\r')) throw new Error(`one-file build: ${name} holds a carriage return`);
  return html.replace(tag, () => text);
}

/** What the first script shares with later ones: one file beside it, not one for each of them. */
const FIRST = { name: 'first', test: /\/src\/(seen|dom|core\/(types|load)|words\/(core|language|numbers|page|tag))\.ts$|preload-helper|rolldown.runtime/ };

export default defineConfig(({ mode }) => {
  const single = mode === 'onefile';
  const folder = fileURLToPath(new URL('../dist', import.meta.url));
  return {
    root: fileURLToPath(new URL('.', import.meta.url)),
    base: './',
    plugins: [handbook(), ...(single ? [oneCore(), inlineWorkers(), oneFile()] : [sitePolicy(), keptOffline(folder)])],
    // A classic worker script: a blob of it starts from file:// in every browser.
    worker: { format: 'iife', plugins: () => (single ? [oneCore()] : []) },
    build: {
      outDir: folder,
      emptyOutDir: !single,
      copyPublicDir: !single,
      target: 'es2022',
      // Inlining a small file as data would be refused by the site's policy.
      assetsInlineLimit: single ? Number.MAX_SAFE_INTEGER : 0,
      cssCodeSplit: !single,
      modulePreload: false,
      reportCompressedSize: false,
      chunkSizeWarningLimit: 4096,
      rolldownOptions: { output: { codeSplitting: single ? false : { groups: [FIRST] } } },
    },
  };
});
