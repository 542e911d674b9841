// Times the page in Chromium; prints one JSON object. Run by scripts/bench.
// Needs of the page: the mark "robot" when it starts to draw, the keys K, D (double) and S
// (software), buttons named "both views", "one view" and "four strips", the place "Trials" with its press "run it at once" and the measure "trial" for each.

import { chromium } from '@playwright/test';
import { gzipSync } from 'node:zlib';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';
import { startSite } from './support/site.mjs';

const LOADS = 5;
const FRAMES_MS = 10_000;
const TRIALS = 30;

const site = await startSite();
// Isolated from other origins the page's clock is fine enough (5 µs) to time a frame; but isolation
// changes the process while loading, so loading is timed without.
const isolated = await startSite({
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
});
const browser = await chromium.launch({ executablePath: chromiumPath(), args: CHROMIUM_FLAGS });

/** @param {number[]} values @param {number} share */
const quantile = (values, share) => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
};

try {
  /** @type {number[]} */
  const firstRobot = [];
  let transfer = 0;
  let idle = 0;
  for (let i = 0; i < LOADS; i++) {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' });
    const page = await context.newPage();
    /** @type {{ url: string, body: Promise<Buffer> }[]} */
    const loaded = [];
    page.on('response', (response) => {
      if (response.url().startsWith(site.origin)) loaded.push({ url: response.url(), body: response.body() });
    });
    // Not the mark itself counts, but the end of the first frame after it: then the robot is seen.
    await page.addInitScript(() => {
      new PerformanceObserver((list, observer) => {
        if (list.getEntriesByName('robot').length === 0) return;
        observer.disconnect();
        requestAnimationFrame(() => setTimeout(() => performance.mark('robot-seen')));
      }).observe({ type: 'mark', buffered: true });
    });
    await page.goto(site.page);
    await page.waitForFunction(() => performance.getEntriesByName('robot-seen').length > 0);
    firstRobot.push(await page.evaluate(() => performance.getEntriesByName('robot-seen')[0]?.startTime ?? NaN));
    await page.waitForLoadState('networkidle');
    // What was asked for before the robot was drawn; the page itself was.
    const later = new Set(
      await page.evaluate(() => {
        const robot = performance.getEntriesByName('robot')[0]?.startTime ?? 0;
        return performance.getEntriesByType('resource').filter(({ startTime }) => startTime > robot).map(({ name }) => name);
      }),
    );
    transfer = 0;
    idle = 0;
    for (const { url, body } of loaded) {
      const size = gzipSync(await body, { level: 9 }).length;
      idle += size;
      if (!later.has(url)) transfer += size;
    }
    await context.close();
  }

  const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' });
  await page.addInitScript(() => {
    /** @type {Map<number, number>} */
    const frames = new Map();
    const original = window.requestAnimationFrame.bind(window);
    window.requestAnimationFrame = (callback) =>
      original((time) => {
        const start = performance.now();
        callback(time);
        frames.set(time, (frames.get(time) ?? 0) + performance.now() - start);
      });
    Object.assign(window, { benchFrames: frames });
  });
  await page.goto(isolated.page);
  await page.waitForFunction(() => performance.getEntriesByName('robot').length > 0);
  await page.getByRole('button', { name: /both views/i }).click();
  const timeFrames = () => page.evaluate((duration) => {
    const frames = /** @type {{ benchFrames: Map<number, number> }} */ (/** @type {unknown} */ (window)).benchFrames;
    frames.clear();
    return new Promise((/** @type {(value: number[]) => void} */ resolve) =>
      setTimeout(() => resolve([...frames.values()]), duration),
    );
  }, FRAMES_MS);
  const timed = timeFrames();
  await page.keyboard.press('k');
  const frames = await timed;
  if (frames.length < 100) throw new Error(`only ${frames.length} frames in ${FRAMES_MS / 1000} s: is the robot moving?`);

  // The usual kick, 8 s of it, from the press to the result on the page.
  const tried = await browser.newPage({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' });
  await tried.goto(isolated.page);
  await tried.waitForFunction(() => performance.getEntriesByName('robot').length > 0);
  await tried.getByRole('button', { name: 'Trials' }).click();
  for (let i = 1; i <= TRIALS; i++) {
    await tried.getByRole('button', { name: 'run it at once' }).click();
    await tried.waitForFunction((count) => performance.getEntriesByName('trial').length >= count, i);
  }
  const trials = await tried.evaluate(() => performance.getEntriesByName('trial').map(({ duration }) => duration));

  // One view with a double and all four strips, while everything moves.
  await page.getByRole('button', { name: /one view/i }).click();
  await page.getByRole('button', { name: /four strips/i }).click();
  await page.keyboard.press('d');
  await page.keyboard.press('s');
  const stripsTimed = timeFrames();
  await page.keyboard.press('k');
  const stripsFrames = await stripsTimed;
  if (stripsFrames.length < 100) throw new Error(`only ${stripsFrames.length} frames with four strips`);
  if ((await page.locator('.strip:visible').count()) !== 4 || !(await page.locator('.double .runs').isVisible())) {
    throw new Error('not four strips and a double');
  }

  console.log(
    JSON.stringify({
      frame_script_ms_median: quantile(frames, 0.5),
      frame_script_ms_p99: quantile(frames, 0.99),
      frames_timed: frames.length,
      strips_frame_ms_median: quantile(stripsFrames, 0.5),
      strips_frame_ms_p99: quantile(stripsFrames, 0.99),
      first_robot_ms: quantile(firstRobot, 0.5),
      transfer_gzip_bytes: transfer,
      transfer_idle_gzip_bytes: idle,
      trial_worker_ms: quantile(trials, 0.5),
      trial_worker_ms_first: trials[0],
    }),
  );
} finally {
  await browser.close();
  await site.close();
  await isolated.close();
}
