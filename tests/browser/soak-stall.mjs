// Does the stall run all day? Two robots for eight hours of the page's time: scenes, visitors who
// kick, switch, weigh, drive and take it home, and the way back to the scenes when they have gone.
// The clock is made faster, in steps as long as the stall makes up for in one frame. Heap, core, DOM
// and listeners are looked at every hour, when both robots show scenes. Prints one JSON object, and
// fails if anything grows; of the core's memory, which never shrinks, the first hour may find the most.
// About five minutes of a processor for eight hours.
//   node soak-stall.mjs [HOURS]

import { chromium } from '@playwright/test';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';
import { startSite } from './support/site.mjs';

const HOURS = Number(process.argv[2] ?? 8);
/** Of the page's time from one of its frames to the next [ms]: what the stall makes up for at most. */
const FRAME_MS = 250;
const FRAMES_AT_ONCE = 40;
/** A visitor comes this often, now to one robot, now to the other [s]. */
const VISIT = 100;
/** Between two presses of a visitor [s]. */
const PRESS = 1.5;
/** Before each look nobody comes for so long [s]: longer than a code is shown and a robot waits. */
const ALONE = 150;
/** Growth in all that is still none [bytes]: in twelve hours the heap rose by 230 kB and fell back by 180 in the ninth. */
const EVEN = 300_000;

if (!(HOURS > 0)) throw new Error('usage: node soak-stall.mjs [HOURS]');
const site = await startSite();
const browser = await chromium.launch({ executablePath: chromiumPath(), args: CHROMIUM_FLAGS });
try {
  const page = await browser.newPage({ viewport: { width: 1180, height: 820 }, serviceWorkers: 'block' });
  /** @type {string[]} */
  const errors = [];
  page.on('pageerror', (error) => errors.push(error.message));
  await page.addInitScript(
    ({ frameMs, framesAtOnce, visit, press, alone }) => {
      localStorage.setItem(
        'kickstill-stall',
        JSON.stringify({ version: 1, presses: ['kick', 'software', 'head', 'home'], contrast: 'page', two: true, idle: 40, sound: false, volume: 0.5, buzz: false, address: '' }),
      );
      const screen = window.requestAnimationFrame.bind(window);
      const soak = { on: false, time: 0, frames: 0, visits: 0, presses: 0, resets: 0, scenes: 0, codes: 0, until: 0 };
      /** @type {FrameRequestCallback[]} */
      let waiting = [];
      window.requestAnimationFrame = (callback) => waiting.push(callback);
      // What a visitor does, as places of the presses: all of them, in an order of this visit's own.
      const deeds = [0, 0, 1, 0, 2, 0, 3, 3, 2, 0, 1, 0, 3];
      const key = (/** @type {string} */ which) => {
        for (const type of ['keydown', 'keyup']) document.body.dispatchEvent(new KeyboardEvent(type, { key: which, bubbles: true, cancelable: true }));
      };
      const visitors = (/** @type {number} */ before, /** @type {number} */ now) => {
        if (soak.until - now < alone * 1000) return;
        const at = (now / 1000) % visit;
        const step = Math.floor(at / press);
        if (step >= deeds.length || step === Math.floor(((before / 1000) % visit) / press)) return;
        const number = Math.floor(now / 1000 / visit);
        if (step === 0) soak.visits += 1;
        soak.presses += 1;
        const deed = deeds[(step + number) % deeds.length] ?? 0;
        key((number % 2 === 0 ? '1234' : '7890')[deed] ?? '');
      };
      /** @type {(string | undefined)[]} */
      const modes = [];
      /** @type {(string | null)[]} */
      const titles = [];
      const look = () => {
        document.querySelectorAll('.half').forEach((half, index) => {
          if (!(half instanceof HTMLElement)) return;
          const { mode } = half.dataset;
          if (mode === 'attract' && modes[index] === 'play') soak.resets += 1;
          modes[index] = mode;
          const title = half.querySelector('.what')?.textContent ?? '';
          if (mode === 'attract' && title !== titles[index]) soak.scenes += 1;
          titles[index] = title;
          const home = half.querySelector('.stallhome');
          if (home instanceof HTMLElement && !home.hidden && home.dataset['seen'] !== 'true') soak.codes += 1;
          if (home instanceof HTMLElement) home.dataset['seen'] = String(!home.hidden);
        });
      };
      const turn = (/** @type {number} */ now) => {
        screen(turn);
        if (soak.time === 0) soak.time = now;
        for (let i = 0; i < (soak.on ? framesAtOnce : 1); i++) {
          const before = soak.time;
          soak.time += soak.on ? frameMs : 1000 / 60;
          soak.frames += 1;
          const due = waiting;
          waiting = [];
          for (const callback of due) callback(soak.time);
          if (soak.on) {
            visitors(before, soak.time);
            look();
            if (soak.time >= soak.until) soak.on = false;
          }
        }
      };
      screen(turn);
      Object.assign(window, { soak });
      /** @type {WebAssembly.Memory[]} */
      const memories = [];
      for (const way of /** @type {const} */ (['instantiate', 'instantiateStreaming'])) {
        const own = /** @type {(...given: unknown[]) => Promise<any>} */ (WebAssembly[way]).bind(WebAssembly);
        Object.assign(WebAssembly, {
          [way]: async (/** @type {unknown[]} */ ...given) => {
            const made = await own(...given);
            const { memory } = (made.instance ?? made).exports;
            if (memory instanceof WebAssembly.Memory) memories.push(memory);
            return made;
          },
        });
      }
      Object.assign(window, { coreBytes: () => memories.reduce((sum, { buffer }) => sum + buffer.byteLength, 0) });
    },
    { frameMs: FRAME_MS, framesAtOnce: FRAMES_AT_ONCE, visit: VISIT, press: PRESS, alone: ALONE },
  );
  await page.goto(`${site.page}#stall`);
  await page.waitForSelector('.half canvas');
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');

  /** Runs fast for so many seconds of the page's time. */
  const run = (/** @type {number} */ seconds) =>
    page.evaluate(
      (ms) =>
        new Promise((/** @type {(value: object) => void} */ resolve) => {
          const { soak } = /** @type {{ soak: { on: boolean, time: number, until: number } }} */ (/** @type {unknown} */ (window));
          soak.until = soak.time + ms;
          soak.on = true;
          const look = setInterval(() => {
            if (soak.on) return;
            clearInterval(look);
            resolve({ ...soak });
          }, 20);
        }),
      seconds * 1000,
    );
  const held = async () => {
    for (let i = 0; i < 3; i++) await devtools.send('HeapProfiler.collectGarbage');
    const { usedSize, backingStorageSize } = /** @type {{ usedSize: number, backingStorageSize?: number }} */ (await devtools.send('Runtime.getHeapUsage'));
    const { metrics } = await devtools.send('Performance.getMetrics');
    const metric = (/** @type {string} */ name) => metrics.find((one) => one.name === name)?.value ?? NaN;
    const own = await page.evaluate(() => ({
      core: /** @type {{ coreBytes: () => number }} */ (/** @type {unknown} */ (window)).coreBytes(),
      elements: document.querySelectorAll('*').length,
      history: history.length,
      stored: JSON.stringify(localStorage).length,
      modes: [...document.querySelectorAll('.half')].map((half) => (half instanceof HTMLElement ? half.dataset['mode'] : '')).join(' '),
    }));
    if (own.core === 0) throw new Error('the core was not seen');
    if (own.modes !== 'attract attract') throw new Error(`not both show scenes: ${own.modes}`);
    return { heap: usedSize, buffers: backingStorageSize ?? 0, nodes: metric('Nodes'), listeners: metric('JSEventListeners'), ...own };
  };

  // First the caches fill.
  await run(20 * 60);
  const looks = [await held()];
  const began = performance.now();
  const before = /** @type {Record<string, number>} */ (await page.evaluate(() => ({ .../** @type {any} */ (window).soak })));
  const pieces = Math.max(1, Math.round(HOURS));
  for (let i = 0; i < pieces; i++) {
    await run((HOURS / pieces) * 3600);
    looks.push(await held());
  }
  const after = /** @type {Record<string, number>} */ (await page.evaluate(() => ({ .../** @type {any} */ (window).soak })));
  if (errors.length > 0) throw new Error(errors.join('; '));
  const since = (/** @type {string} */ name) => (after[name] ?? NaN) - (before[name] ?? NaN);
  const [first, last] = [looks[0], looks.at(-1)];
  if (first === undefined || last === undefined) throw new Error('nothing was looked at');
  const growth = {
    heap: last.heap - first.heap,
    buffers: last.buffers - first.buffers,
    core: last.core - first.core,
    nodes: last.nodes - first.nodes,
    elements: last.elements - first.elements,
    listeners: last.listeners - first.listeners,
    history: last.history - first.history,
    stored: last.stored - first.stored,
  };
  console.log(
    JSON.stringify({
      stall_hours: since('time') / 3_600_000,
      stall_real_seconds: Math.round((performance.now() - began) / 1000),
      stall_frames: since('frames'),
      stall_scenes: since('scenes'),
      stall_visits: since('visits'),
      stall_presses: since('presses'),
      stall_codes: since('codes'),
      stall_resets: since('resets'),
      stall_growth: growth,
      stall_heap_by_hour: looks.map(({ heap }) => heap),
      stall_nodes_by_hour: looks.map(({ nodes }) => nodes),
      stall_listeners_by_hour: looks.map(({ listeners }) => listeners),
      stall_core_by_hour: looks.map(({ core }) => core),
    }),
  );
  // Visits every 100 s, and each ends in a reset: else the clock or the hands did not work.
  const visits = Math.floor((HOURS * 3600 - pieces * ALONE) / VISIT);
  if (since('visits') < Math.floor(0.9 * visits) || since('resets') < 0.5 * visits || since('scenes') < 60 * HOURS || since('codes') < 0.5 * visits) throw new Error('too little happened');
  for (const [name, most] of /** @type {const} */ ([['heap', EVEN], ['buffers', EVEN], ['nodes', 0], ['elements', 0], ['listeners', 0], ['history', 0], ['stored', 0]])) {
    if (growth[name] > most) throw new Error(`${name} has grown by ${growth[name]}`);
  }
  const core = last.core - (looks[Math.min(2, pieces)]?.core ?? NaN);
  if (core !== 0) throw new Error(`core has grown by ${core} after the second hour`);
} finally {
  await browser.close();
  await site.close();
}
