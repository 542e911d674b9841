// Does the live page keep what it should let go? Four strips, the double, a kick every 4 s, for half
// an hour of the page's time. The clock is made faster: each frame of the screen the page is given
// several frames of its own, so that no time is waited for. Prints one JSON object; run by scripts/bench.
//   node soak.mjs [MINUTES]

import { chromium } from '@playwright/test';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';
import { startSite } from './support/site.mjs';

const MINUTES = Number(process.argv[2] ?? 30);
/** First the strips, the history and the caches fill [min]. */
const BEFORE = Math.min(3, MINUTES / 3);
/** Of the page's time from one of its frames to the next [ms]; the page lets go more than 100. */
const FRAME_MS = 50;
const FRAMES_AT_ONCE = 8;
const KICK_MS = 4000;

if (!(MINUTES > 0)) throw new Error('usage: node soak.mjs [MINUTES]');
const site = await startSite();
const browser = await chromium.launch({ executablePath: chromiumPath(), args: CHROMIUM_FLAGS });
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' });
  /** @type {string[]} */
  const errors = [];
  page.on('pageerror', (error) => errors.push(error.message));
  await page.addInitScript(
    ({ frameMs, framesAtOnce, kickMs }) => {
      const screen = window.requestAnimationFrame.bind(window);
      const fast = { on: false, time: 0, kicks: 0 };
      /** @type {FrameRequestCallback[]} */
      let waiting = [];
      window.requestAnimationFrame = (callback) => waiting.push(callback);
      const turn = (/** @type {number} */ now) => {
        screen(turn);
        // The page's clock never goes back, whether it runs fast or not.
        if (fast.time === 0) fast.time = now;
        for (let i = 0; i < (fast.on ? framesAtOnce : 1); i++) {
          const before = fast.time;
          fast.time += fast.on ? frameMs : 1000 / 60;
          const due = waiting;
          waiting = [];
          for (const callback of due) callback(fast.time);
          if (fast.on && Math.floor(before / kickMs) !== Math.floor(fast.time / kickMs)) {
            fast.kicks += 1;
            document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'k', bubbles: true }));
          }
        }
      };
      screen(turn);
      Object.assign(window, { soak: fast });
      // The core's memory is no part of the heap: it is asked by itself.
      /** @type {WebAssembly.Memory[]} */
      const memories = [];
      const note = (/** @type {WebAssembly.Instance} */ { exports }) => {
        if (exports['memory'] instanceof WebAssembly.Memory) memories.push(exports['memory']);
      };
      for (const way of /** @type {const} */ (['instantiate', 'instantiateStreaming'])) {
        const own = /** @type {(...given: unknown[]) => Promise<any>} */ (WebAssembly[way]).bind(WebAssembly);
        Object.assign(WebAssembly, {
          [way]: async (/** @type {unknown[]} */ ...given) => {
            const made = await own(...given);
            note(made.instance ?? made);
            return made;
          },
        });
      }
      Object.assign(window, { coreBytes: () => memories.reduce((sum, { buffer }) => sum + buffer.byteLength, 0) });
    },
    { frameMs: FRAME_MS, framesAtOnce: FRAMES_AT_ONCE, kickMs: KICK_MS },
  );
  await page.goto(site.page);
  await page.waitForFunction(() => performance.getEntriesByName('robot').length > 0);
  await page.getByRole('button', { name: /four strips/i }).click();
  await page.keyboard.press('d');
  await page.keyboard.press('s');
  if ((await page.locator('.strip:visible').count()) !== 4 || !(await page.locator('.double .runs').isVisible())) {
    throw new Error('not four strips and a double');
  }
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');

  /** What the page holds after everything that can go has gone. */
  const held = async () => {
    for (let i = 0; i < 3; i++) await devtools.send('HeapProfiler.collectGarbage');
    const { usedSize, backingStorageSize } = /** @type {{ usedSize: number, backingStorageSize?: number }} */ (
      await devtools.send('Runtime.getHeapUsage')
    );
    const { metrics } = await devtools.send('Performance.getMetrics');
    const metric = (/** @type {string} */ name) => metrics.find((one) => one.name === name)?.value ?? NaN;
    const core = await page.evaluate(() => /** @type {{ coreBytes: () => number }} */ (/** @type {unknown} */ (window)).coreBytes());
    if (core === 0) throw new Error('the core was not seen');
    return { core, heap: usedSize, buffers: backingStorageSize ?? 0, nodes: metric('Nodes'), listeners: metric('JSEventListeners') };
  };
  /** Runs fast for so many minutes of the page's time. */
  const run = (/** @type {number} */ minutes) =>
    page.evaluate(
      (ms) =>
        new Promise((/** @type {(value: number) => void} */ resolve) => {
          const { soak } = /** @type {{ soak: { on: boolean, time: number, kicks: number } }} */ (/** @type {unknown} */ (window));
          const until = soak.time + ms;
          soak.kicks = 0;
          soak.on = true;
          const look = setInterval(() => {
            if (soak.time < until) return;
            soak.on = false;
            clearInterval(look);
            resolve(soak.kicks);
          }, 20);
        }),
      minutes * 60_000,
    );

  await run(BEFORE);
  const first = await held();
  const began = performance.now();
  const kicks = await run(MINUTES);
  const last = await held();
  if (errors.length > 0) throw new Error(errors.join('; '));
  if (kicks < MINUTES * 14) throw new Error(`only ${kicks} kicks in ${MINUTES} min: did the page's clock run?`);
  if (!(await page.locator('.trial').first().textContent())?.includes('kick')) throw new Error('no kick on the board');
  console.log(
    JSON.stringify({
      heap_growth_30min: last.heap - first.heap,
      buffer_growth_30min: last.buffers - first.buffers,
      core_growth_30min: last.core - first.core,
      node_growth_30min: last.nodes - first.nodes,
      listener_growth_30min: last.listeners - first.listeners,
      heap_bytes: last.heap,
      buffer_bytes: last.buffers,
      core_bytes: last.core,
      nodes: last.nodes,
      soak_page_minutes: MINUTES,
      soak_real_seconds: Math.round((performance.now() - began) / 1000),
      soak_kicks: kicks,
    }),
  );
} finally {
  await browser.close();
  await site.close();
}
