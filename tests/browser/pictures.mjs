// The README's pictures: what a visitor sees, without a retouch. Each is set up by presses on the built page, whose clock
// counts frames instead of time, so that the robot stands in every picture as it stood before.

import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';
import { startSite } from './support/site.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const folder = path.join(root, 'www/pictures');

/** Greatest size of a picture [bytes]. */
const MOST = 60_000;
/** Qualities tried, until it is small enough. */
const QUALITIES = [90, 80, 70, 60, 50, 40, 30];
const WAIT = { timeout: 120_000 };
/** A place lies under the board: both are to be seen, and the rest of the sheet can be spared. */
const TALL = { width: 1340, height: 1000 };
const MAIN = '.sheet > .main';

/** @typedef {import('@playwright/test').Page} Page */

/** Runs before the page's scripts: frames come at even times, as many as are asked for; chance is always the same. */
function stage() {
  const screen = window.requestAnimationFrame.bind(window);
  const clock = { time: 0, frames: 0 };
  /** @type {FrameRequestCallback[]} */
  let waiting = [];
  window.requestAnimationFrame = (callback) => waiting.push(callback);
  const turn = () => {
    screen(turn);
    if (clock.frames > 0) {
      clock.frames -= 1;
      clock.time += 1000 / 60;
    }
    const due = waiting;
    waiting = [];
    for (const callback of due) callback(clock.time);
  };
  screen(turn);
  let drawn = 1;
  Math.random = () => (drawn = (drawn * 48_271) % 2_147_483_647) / 2_147_483_647;
  Object.assign(window, { stage: clock });
}

/**
 * Lets the page's clock run on.
 * @param {Page} page
 * @param {number} seconds
 */
async function run(page, seconds) {
  const set = /** @param {number} frames */ (frames) => {
    const { stage } = /** @type {{ stage: { frames: number } }} */ (/** @type {unknown} */ (window));
    stage.frames = frames;
  };
  await page.evaluate(set, Math.round(60 * seconds));
  await page.waitForFunction(() => /** @type {{ stage: { frames: number } }} */ (/** @type {unknown} */ (window)).stage.frames === 0, null, WAIT);
}

/**
 * @param {Page} page
 * @param {string} name
 */
async function place(page, name) {
  await page.locator('.placeindex').getByRole('button', { name, exact: true }).click();
}

/** @type {{ name: string, night?: boolean, suffix?: string, part?: string, size?: { width: number, height: number }, play: (page: Page) => Promise<void> }[]} */
const SHOTS = [
  {
    name: 'kicked',
    play: async (page) => {
      await page.keyboard.press('k');
      await run(page, 0.62);
    },
  },
  {
    name: 'steadied',
    night: true,
    play: async (page) => {
      await page.keyboard.press('k');
      await run(page, 6);
      await page.keyboard.press('s');
      await page.keyboard.press('k');
      await run(page, 4);
    },
  },
  {
    name: 'map',
    size: TALL,
    part: MAIN,
    play: async (page) => {
      await place(page, 'Map');
      await page.locator('.thismap .digest').filter({ hasText: /digest [0-9a-f]{16}/ }).waitFor(WAIT);
      await page.locator('.mapline .running').waitFor({ state: 'hidden', ...WAIT });
    },
  },
  {
    name: 'edge',
    size: TALL,
    part: MAIN,
    night: true,
    play: async (page) => {
      await page.keyboard.press('s');
      await run(page, 0.5);
      await place(page, 'Edge');
      await page.locator('.edgeplace table.poles tbody button').first().waitFor(WAIT);
      await page.locator('.edgeplace .outcome').filter({ hasNotText: 'looking…' }).waitFor(WAIT);
    },
  },
  {
    name: 'power',
    size: TALL,
    part: MAIN,
    play: async (page) => {
      await page.getByRole('combobox', { name: 'robot' }).selectOption('hayrick');
      await place(page, 'Power');
      await page.locator('.fusepart .outcome').filter({ hasText: /Main fuse: / }).waitFor(WAIT);
      // Only the place scrolls, not the page.
      await page.getByRole('img', { name: /^Time-current band/ }).evaluate((band) => {
        const place = band.closest('.place');
        if (place !== null) place.scrollTop += band.getBoundingClientRect().bottom - place.getBoundingClientRect().bottom + 8;
      });
    },
  },
  {
    name: 'stall',
    suffix: '#stall',
    size: { width: 1180, height: 820 },
    play: async (page) => {
      await page.locator('.stalllayer .view canvas').first().waitFor(WAIT);
      await run(page, 3);
    },
  },
];

const asked = process.argv.slice(2);
for (const name of asked) {
  if (!SHOTS.some((shot) => shot.name === name)) throw new Error(`no picture "${name}"; there are ${SHOTS.map((shot) => shot.name).join(', ')}`);
}
mkdirSync(folder, { recursive: true });
const site = await startSite();
const browser = await chromium.launch({ executablePath: chromiumPath(), args: CHROMIUM_FLAGS });
try {
  for (const { name, night = false, suffix = '', part = 'body', size = { width: 1280, height: 800 }, play } of SHOTS) {
    if (asked.length > 0 && !asked.includes(name)) continue;
    const page = await browser.newPage({ viewport: size, locale: 'en-GB', timezoneId: 'UTC', colorScheme: night ? 'dark' : 'light', serviceWorkers: 'block' });
    await page.addInitScript(stage);
    await page.goto(site.page + suffix);
    await page.waitForFunction(() => performance.getEntriesByName('robot').length > 0, null, WAIT);
    await page.locator('.sheet.furnished').waitFor({ ...WAIT, state: 'attached' });
    await run(page, 0.2);
    await play(page);
    await page.mouse.move(0, 0);
    // Layout and painting that the last change asked for.
    await page.waitForTimeout(500);
    const box = (await page.locator(part).boundingBox()) ?? { x: 0, y: 0, ...size };
    const clip = { x: box.x, y: box.y, width: box.width, height: Math.min(box.height, size.height - box.y), scale: 1 };
    const devtools = await page.context().newCDPSession(page);
    let kept = Buffer.alloc(0);
    for (const quality of QUALITIES) {
      const { data } = await devtools.send('Page.captureScreenshot', { format: 'webp', quality, clip });
      kept = Buffer.from(data, 'base64');
      if (kept.length <= MOST) break;
    }
    if (kept.length > MOST) throw new Error(`${name}: ${kept.length} bytes, more than ${MOST}`);
    writeFileSync(path.join(folder, `${name}.webp`), kept);
    console.log(`${name}.webp ${kept.length} bytes`);
    await page.close();
  }
} finally {
  await browser.close();
  await site.close();
}
