// Times maps in Chromium, by the page's own module and its workers; prints one JSON object:
//   node bench-map.mjs NATIVE.json
// Run by scripts/bench after the native benchmark, whose map it makes again: the digests must be equal.

import { chromium } from '@playwright/test';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { startServer } from '../../scripts/static-server.mjs';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';

const REPEATS = 5;

const here = path.dirname(fileURLToPath(import.meta.url));
const root = path.resolve(here, '../..');
const native = JSON.parse(await readFile(/** @type {string} */ (process.argv[2]), 'utf8'));
const robot = await readFile(path.join(root, 'crates/robot/demos/cobnut.json'), 'utf8');

const vite = await import(pathToFileURL(path.join(root, 'www/node_modules/vite/dist/node/index.js')).href);
const folder = await mkdtemp(path.join(tmpdir(), 'kickstill-map-'));
await vite.build({
  configFile: false,
  logLevel: 'warn',
  root: path.join(here, 'map-page'),
  base: './',
  worker: { format: 'iife' },
  build: { outDir: folder, emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
});
// Isolated from other origins the clock is fine enough.
const { origin, close } = await startServer({
  folders: { '/': folder },
  headers: { 'Cross-Origin-Opener-Policy': 'same-origin', 'Cross-Origin-Embedder-Policy': 'require-corp' },
});
const browser = await chromium.launch({ executablePath: chromiumPath(), args: CHROMIUM_FLAGS });

/** @typedef {{ digest: string, runs: number, simulated: number, run: number, first: number, whole: number, workers: number }} Done */

/** @param {number[]} values */
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

try {
  const page = await browser.newPage();
  await page.goto(`${origin}/`);
  await page.waitForFunction(() => 'maps' in window);
  /**
   * One map, or several after another.
   * @param {object} more @param {number} times
   * @returns {Promise<Done[]>}
   */
  const run = (more, times) =>
    page.evaluate(
      async ({ ask, times }) => {
        /** @type {{ maps: { runMap: (ask: object, options: object) => Promise<Done | { problems: object[] }>, warmMap: () => void } }} */
        const { maps } = /** @type {any} */ (window);
        const all = [];
        for (let i = 0; i < times; i++) {
          const done = await maps.runMap(ask, {});
          if ('problems' in done) throw new Error(JSON.stringify(done.problems));
          all.push(done);
        }
        return all;
      },
      { ask: { robot, ...native.map_ask, ...more }, times },
    );
  await page.evaluate(() => /** @type {any} */ (window).maps.warmMap());
  await page.waitForTimeout(1500);
  const [fresh] = await run({}, 1);
  const stopped = await run({}, REPEATS);
  const full = await run({ toTheEnd: true }, REPEATS);
  const one = stopped[0];
  if (fresh === undefined || one === undefined) throw new Error('no map was made');
  if (new Set([fresh, ...stopped].map((d) => d.digest)).size !== 1) throw new Error('the same map gave two digests');
  console.log(
    JSON.stringify({
      map_64x64_8s_ms: median(stopped.map((d) => d.whole)),
      map_64x64_8s_full_ms: median(full.map((d) => d.whole)),
      map_64x64_8s_fresh_ms: fresh.whole,
      map_first_ms: median(stopped.map((d) => d.first)),
      map_first_fresh_ms: fresh.first,
      map_workers: one.workers,
      map_share_run: one.run / one.simulated,
      map_wasm_digest: one.digest,
      map_full_wasm_digest: full[0]?.digest,
    }),
  );
} finally {
  await browser.close();
  await close();
  await rm(folder, { recursive: true, force: true });
}
