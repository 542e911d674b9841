import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { generateSW } from 'workbox-build';
import { handbook } from './handbook/build/plugin.ts';
import { inlineWorkers, oneCore, oneFile } from './onefile/plugin.ts';
import { COMMON, refuseInlineAttributes, withPolicy } from './policy.ts';

// Two builds of one page:
//   vite build                  dist/ with many files, for any static host and any sub-path
//   vite build --mode onefile   dist/kickstill.html, everything inside, for a double click

const SITE_POLICY = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  ...COMMON,
];

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

/** What the first script shares with later ones: one file beside it, not one for each of them. */
const FIRST = { name: 'first', test: /\/src\/(seen|dom|core\/(types|load|compile)|words\/(core|language|numbers|page|tag))\.ts$|preload-helper|rolldown.runtime/ };

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
      // The one file's packing takes seconds, and is meant to.
      rolldownOptions: { checks: { pluginTimings: false }, output: { codeSplitting: single ? false : { groups: [FIRST] } } },
    },
  };
});
