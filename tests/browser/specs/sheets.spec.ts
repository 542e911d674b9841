// The place of sheets and clips: what is recorded, saved and printed is what the board shows and the command
// line says.

import { readFileSync } from 'node:fs';
import type { Download, Locator, Page } from '@playwright/test';
import { kickstill } from '../support/cli.ts';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

/** The cli may have to be built first. */
test.setTimeout(180_000);

const place = (page: Page): Locator => page.locator('.sheets');
const bar = (page: Page): Locator => page.locator('.recordingbar');

async function openSheets(page: Page, robot = 'cobnut'): Promise<void> {
  await ready(page);
  if (robot !== 'cobnut') await page.getByRole('combobox', { name: /^(robot|Roboter)$/ }).selectOption(robot);
  await page.locator('.placeindex [aria-controls=place]').filter({ hasText: /clips|Clips/ }).click();
  await expect(page.locator('.gainspart tbody tr')).not.toHaveCount(0, { timeout: 30_000 });
}

async function saved(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const waits = page.waitForEvent('download', { timeout: 90_000 });
  await press();
  return read(await waits);
}

async function read(download: Download): Promise<{ name: string; bytes: Buffer }> {
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

const act = (page: Page, name: string): Locator => page.locator(`.sheets [data-act="${name}"]`);

const today = (): string => {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** Width and height of a PNG (its header is fixed: PNG specification, 11.2.2). */
const pixels = (png: Buffer): readonly [number, number] => [png.readUInt32BE(16), png.readUInt32BE(20)];

// Clips.

test('a clip of five seconds is a film of that length with the board in it', async ({ open, context }) => {
  const page = await open('page');
  await openSheets(page);
  await page.locator('.clippart').getByLabel('length').selectOption('5');
  await page.keyboard.press('k');
  const began = Date.now();
  let board: { width: number; height: number } | null = null;
  const { name, bytes } = await saved(page, async () => {
    await act(page, 'record').click();
    await expect(bar(page)).toBeVisible();
    board = await page.locator('.drawings').boundingBox();
  });
  const { width, height } = board ?? { width: 0, height: 0 };
  expect(Date.now() - began).toBeGreaterThan(4500);
  expect(name).toMatch(/^cobnut-clip-\d{4}-\d\d-\d\d-\d{4}\.webm$/);
  // EBML's mark, with which every WebM begins (RFC 8794).
  expect(bytes.subarray(0, 4).toString('hex')).toBe('1a45dfa3');
  expect(bytes.includes(Buffer.from('webm'))).toBe(true);
  expect(bytes.length).toBeGreaterThan(20_000);
  await expect(bar(page)).toHaveCount(0);
  // Played elsewhere: the page's own policy lets it show no film.
  const other = await context.newPage();
  const seen = await other.evaluate(async (data) => {
    const film = document.createElement('video');
    film.muted = true;
    film.src = URL.createObjectURL(new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))], { type: 'video/webm' }));
    await new Promise((resolve, reject) => {
      film.onloadeddata = resolve;
      film.onerror = () => {
        reject(new Error(film.error?.message ?? 'no film'));
      };
    });
    const seek = (to: number): Promise<void> =>
      new Promise((resolve) => {
        film.addEventListener('seeked', () => resolve(), { once: true });
        film.currentTime = to;
      });
    // The recorder writes no length; the player finds it by going to the end.
    await seek(1e6);
    const seconds = film.currentTime;
    // At the end there may be no picture to be had; in the middle there is, though not always at once.
    await seek(seconds / 2);
    const canvas = document.createElement('canvas');
    canvas.width = film.videoWidth;
    canvas.height = film.videoHeight;
    const pen = canvas.getContext('2d');
    let dots = new Uint8ClampedArray();
    for (let tries = 0; tries < 50 && (dots[3] ?? 0) === 0; tries += 1) {
      await new Promise((resolve) => setTimeout(resolve, 100));
      pen?.drawImage(film, 0, 0);
      dots = pen?.getImageData(0, 0, canvas.width, canvas.height).data ?? dots;
    }
    if ((dots[3] ?? 0) === 0) throw new Error('the film shows no picture');
    let dark = 0;
    for (let at = 0; at < dots.length; at += 4) if ((dots[at] ?? 255) < 110) dark += 1;
    return { width: film.videoWidth, height: film.videoHeight, seconds, dark: dark / (dots.length / 4) };
  }, bytes.toString('base64'));
  expect(Math.abs(seen.width - width)).toBeLessThanOrEqual(2);
  expect(Math.abs(seen.height - (height + 46))).toBeLessThanOrEqual(2);
  // A film encoder takes a moment to begin, more of it on a busy machine.
  expect(seen.seconds).toBeGreaterThan(3);
  expect(seen.seconds).toBeLessThan(6.5);
  // Ink on paper: some of it, far from all.
  expect(seen.dark).toBeGreaterThan(0.005);
  expect(seen.dark).toBeLessThan(0.4);
  await other.close();
});

test('it goes on while the place is closed, and is stopped or dropped on the board', async ({ open }) => {
  const page = await open('page');
  await openSheets(page);
  await page.locator('.clippart').getByLabel('length').selectOption('0');
  await act(page, 'record').click();
  await expect(place(page)).toHaveCount(0);
  await expect(bar(page).getByRole('button', { name: 'stop and save' })).toBeFocused();
  await expect(bar(page)).toContainText(/Recording: [1-9] s of 60 s/);
  await expectAccessible(page);
  const { bytes } = await saved(page, () => bar(page).getByRole('button', { name: 'stop and save' }).click());
  expect(bytes.subarray(0, 4).toString('hex')).toBe('1a45dfa3');
  await expect(bar(page)).toHaveCount(0);
  await page.locator('.placeindex').getByRole('button', { name: 'Sheets and clips' }).click();
  let taken = 0;
  page.on('download', () => {
    taken += 1;
  });
  await act(page, 'record').click();
  await expect(bar(page)).toContainText(/Recording: [1-9] s/);
  await page.locator('.placeindex').getByRole('button', { name: 'Sheets and clips' }).click();
  await expect(act(page, 'record')).toHaveText('stop and save');
  await bar(page).getByRole('button', { name: 'stop and drop' }).click();
  await expect(page.locator('.clippart [role=status]')).toHaveText('Recording dropped.');
  await expect(act(page, 'record')).toHaveText('record');
  expect(taken).toBe(0);
});

test('a browser that cannot record says so, and still saves pictures', async ({ open, page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'MediaRecorder', { value: undefined });
  });
  await open('page');
  await openSheets(page);
  await expect(page.locator('.clippart .cannot')).toContainText('cannot record');
  await expect(act(page, 'record')).toHaveCount(0);
  await expect(act(page, 'png')).toBeEnabled();
});

// Pictures.

test('a PNG has the board’s size times the scale, by day or night, with both views', async ({ open }) => {
  const page = await open('page');
  await openSheets(page);
  await page.keyboard.press('v');
  const board = await page.locator('.drawings').boundingBox();
  const still = page.locator('.stillpart');
  for (const [scale, colours] of [
    ['1', 'day'],
    ['3', 'night'],
  ] as const) {
    await still.getByLabel('size').selectOption(scale);
    await still.getByLabel('colours').selectOption(colours);
    const { name, bytes } = await saved(page, () => act(page, 'png').click());
    expect(name).toMatch(/^cobnut-board-.*\.png$/);
    const [width, height] = pixels(bytes);
    expect(Math.abs(width - Number(scale) * (board?.width ?? 0))).toBeLessThanOrEqual(2);
    expect(Math.abs(height - Number(scale) * (board?.height ?? 0))).toBeLessThanOrEqual(2);
    const { corner, halves } = await page.evaluate(async (data) => {
      const picture = new Image();
      picture.src = `data:image/png;base64,${data}`;
      await picture.decode();
      const canvas = document.createElement('canvas');
      canvas.width = picture.width;
      canvas.height = picture.height;
      const pen = canvas.getContext('2d', { willReadFrequently: true });
      pen?.drawImage(picture, 0, 0);
      const inks = (from: number): number => {
        const dots = pen?.getImageData(from, 0, picture.width / 2, picture.height).data ?? [];
        const first = dots[0] ?? 0;
        let other = 0;
        for (let at = 0; at < dots.length; at += 4) if (Math.abs((dots[at] ?? 0) - first) > 60) other += 1;
        return other;
      };
      return {
        corner: [...(pen?.getImageData(1, 1, 1, 1).data ?? [])].slice(0, 3),
        halves: [inks(0), inks(picture.width / 2)],
      };
    }, bytes.toString('base64'));
    expect(corner).toEqual(colours === 'day' ? [0xfb, 0xf8, 0xef] : [0x17, 0x23, 0x2e]);
    expect(Math.min(...halves)).toBeGreaterThan(1000);
  }
  // The board itself goes on as it was.
  const paper = await page.evaluate(() => document.documentElement.dataset['theme']);
  expect(paper).toBe('day');
});

test('an SVG of the whole robot is, byte for byte, the command line’s of the same pose', async ({ open }) => {
  const page = await open('page');
  await openSheets(page);
  await page.keyboard.press('r');
  await page.keyboard.press('k');
  await page.waitForTimeout(1500);
  // Looking back is by whole ticks; at the present the board may stand between two.
  await page.locator('input.scrub').fill('-0.2');
  await page.waitForTimeout(200);
  const still = page.locator('.stillpart');
  await still.getByLabel('SVG shows').selectOption('whole');
  await still.getByLabel('colours').selectOption('night');
  const { name, bytes } = await saved(page, () => act(page, 'svg').click());
  expect(name).toMatch(/^cobnut-board-side-.*\.svg$/);
  const text = bytes.toString('utf8');
  const said = (svg: string): number => Number(/ at (\d+\.\d+) s,/.exec(svg)?.[1]);
  const time = said(text);
  expect(time).toBeGreaterThan(0.5);
  // The board's clock began before the kick, the command line's with it: by so many ticks, found by the pose.
  const ticks = Array.from({ length: 60 }, (_, tick) => tick);
  const found = ticks.find((tick) => {
    const at = (time - tick / 100).toFixed(2);
    const svg = kickstill('draw', 'cobnut', '--software', 'off', '--at', `${at} s`, '--night');
    expect(said(svg)).toBeCloseTo(Number(at), 6);
    return svg.replace(/ at \d+\.\d+ s,/, ` at ${time.toFixed(2)} s,`) === text;
  });
  expect(found, 'no time at which the command line draws the same').toBeDefined();
});

test('an SVG of the board as seen has its size, its layers and both views, and parses', async ({ open }) => {
  const page = await open('page');
  await openSheets(page);
  await page.keyboard.press('v');
  await page.keyboard.press('k');
  await page.waitForTimeout(400);
  await page.keyboard.press('p');
  const downloads: Download[] = [];
  page.on('download', (download) => downloads.push(download));
  await act(page, 'svg').click();
  await expect.poll(() => downloads.length).toBe(2);
  const panes = page.locator('.drawings .pane:visible');
  for (const [index, download] of downloads.entries()) {
    const { name, bytes } = await read(download);
    expect(name).toContain(index === 0 ? '-side-' : '-front-');
    const box = await panes.nth(index).boundingBox();
    const found = await page.evaluate((text) => {
      const document = new DOMParser().parseFromString(text, 'image/svg+xml');
      const root = document.documentElement;
      return { name: root.nodeName, width: Number(root.getAttribute('width')), parts: document.querySelectorAll('[data-part]').length };
    }, bytes.toString('utf8'));
    expect(found.name).toBe('svg');
    expect(Math.abs(found.width - (box?.width ?? 0))).toBeLessThanOrEqual(1);
    expect(found.parts).toBeGreaterThan(4);
  }
});

// Paper.

/** Opens the print window without one. */
const printed = async (page: Page, name: string): Promise<Buffer> => {
  await act(page, name).click();
  await expect(page.locator('.printsheet .paper')).toHaveCount(1);
  return page.pdf({ preferCSSPageSize: true });
};
/** Pages of a PDF, with their sizes [pt]; the browser writes page objects plainly. */
const pagesOf = (pdf: Buffer): { count: number; box: string } => {
  const text = pdf.toString('latin1');
  return { count: [...text.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length, box: /\/MediaBox\s*\[([^\]]*)\]/.exec(text)?.[1]?.trim() ?? '' };
};
const BOXES = { a4: /^0 0 59[45]\.?\d* 84[12]\.?\d*$/, letter: /^0 0 612 792$/ };

for (const robot of ['cobnut', 'hayrick']) {
  test(`the lid’s sheet of ${robot} is one page on either paper, and so is the card`, async ({ open, page }) => {
    await page.addInitScript(() => {
      window.print = () => undefined;
    });
    await open('page');
    await openSheets(page, robot);
    for (const [part, make] of [
      ['.lidpart', 'lid'],
      ['.cardpart', 'card'],
    ] as const) {
      await act(page, make).click();
      const paper = page.locator(`${part} .paper`);
      await expect(paper).toBeVisible({ timeout: 90_000 });
      for (const size of ['a4', 'letter'] as const) {
        await page.locator(part).getByLabel('paper').selectOption(size);
        const [content, room] = await paper.evaluate((element) => [element.scrollHeight, element.clientHeight] as const);
        expect(content).toBeLessThanOrEqual(room + 1);
        const type = await paper.evaluate((element) => Number.parseFloat(element.style.fontSize));
        expect(type).toBeGreaterThanOrEqual(6);
        const { count, box } = pagesOf(await printed(page, `print-${make}`));
        expect(count).toBe(1);
        expect(box).toMatch(BOXES[size]);
        await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
        await expect(page.locator('.printsheet')).toHaveCount(0);
      }
    }
  });
}

test('the lid’s sheet says what the command line says', async ({ open }) => {
  const page = await open('page');
  await openSheets(page, 'thimble');
  await act(page, 'lid').click();
  const paper = page.locator('.lidpart .paper');
  await expect(paper).toBeVisible({ timeout: 60_000 });
  // The sheet of the command line holds the usual trials too, as Markdown.
  const table = kickstill('sheet', 'thimble').replaceAll('\\', '');
  const rows = paper.locator('.ruled tbody tr:has(td)');
  expect(await rows.count()).toBeGreaterThan(10);
  for (const row of await rows.all()) {
    const [measure, limit, found] = await row.locator('td').allTextContents();
    const line = table.split('\n').find((text) => text.includes(measure ?? '?') && text.includes(limit ?? '?') && text.includes(found ?? '?'));
    expect(line, `${measure ?? ''} ${limit ?? ''} ${found ?? ''}`).toBeDefined();
  }
  const gains = JSON.parse(kickstill('gains', 'thimble', '--format', 'json')) as { digest: string; gains: { label: string; words: string }[] };
  await expect(paper.locator('.digest')).toContainText(gains.digest);
  const software = await paper.locator('.software tr:has(td)').allTextContents();
  expect(software).toHaveLength(gains.gains.length);
  // Two columns: their order on the page is not the file's.
  for (const { label, words } of gains.gains) expect(software.some((row) => row.startsWith(label + words)), label).toBe(true);
  await expect(paper.locator('.cautions')).toContainText('A fuse protects the wire.');
  await expect(paper.locator('.figures svg')).toHaveCount(2);
  await expect(paper.getByRole('img', { name: 'this setting, to be scanned' })).toBeVisible();
});

test('the card predicts what the command line predicts, and the CSV file is its', async ({ open }) => {
  const page = await open('page');
  await openSheets(page, 'thimble');
  await page.locator('.cardpart summary').click();
  const ticked = page.locator('.cardpart .choices input:checked');
  while ((await ticked.count()) > 0) await ticked.first().uncheck();
  await act(page, 'card').click();
  await expect(page.locator('.cardpart [role=status]').first()).toHaveText('Choose at least one trial.');
  await page.locator('.cardpart .choices').getByLabel('stop, side view, steadied', { exact: true }).check();
  await page.locator('.cardpart .choices').getByLabel('radio-lost, side view, steadied').check();
  await act(page, 'card').click();
  await expect(page.locator('.cardpart .paper tbody')).toHaveCount(2, { timeout: 60_000 });
  const { bytes } = await saved(page, () => act(page, 'card-csv').click());
  expect(bytes.toString('utf8')).toBe(kickstill('card', 'thimble', '--trials', 'stop/side/on,radio-lost/side/on', '--format', 'csv'));
  await expect(page.locator('.cardpart .paper td.box')).toHaveCount(8);
  await expect(page.locator('.cardpart [role=status]').first()).toContainText('No number of this robot is marked');
});

test('with marked numbers every prediction has its span', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const robot = JSON.parse(kickstill('demo', 'thimble')) as { marks?: Record<string, string> };
  robot.marks = { 'head.mass': 'guessed', 'carriage.below_centre': 'sheet' };
  await page.locator('input[type=file]').first().setInputFiles({
    name: 'marked.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(robot)),
  });
  await openSheets(page);
  await act(page, 'card').click();
  await expect(page.locator('.cardpart .paper')).toBeVisible({ timeout: 90_000 });
  await expect(page.locator('.cardpart .predicted p').first()).toHaveText(/^[\d.]+.* … [\d.]+/);
  await expect(page.locator('.cardpart .paper .key')).toContainText('20 variants');
});

// Gains.

test('gains are the command line’s: header, Markdown, CSV; copied as saved', async ({ open, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const page = await open('page');
  await openSheets(page);
  for (const [format, name] of [
    ['c', 'kickstill_gains.h'],
    ['markdown', /^cobnut-gains-.*\.md$/],
    ['csv', /^cobnut-gains-.*\.csv$/],
  ] as const) {
    const file = await saved(page, () => act(page, `gains-${format}`).click());
    expect(file.name).toMatch(name);
    const own = kickstill('gains', 'cobnut', '--format', format, '--date', today(), '--revision', 'A');
    expect(file.bytes.toString('utf8')).toBe(own);
  }
  await page.getByRole('button', { name: 'copy C header' }).click();
  await expect.poll(() => page.evaluate(() => navigator.clipboard.readText())).toContain('#ifndef KICKSTILL_GAINS_H');
});

test('a hostile name stays a name: in file names, on paper, in the header', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const name = '*/ </h3><img src=x onerror=alert(1)> ../../\\ "q" ' + 'W'.repeat(20);
  const robot = JSON.parse(kickstill('demo', 'cobnut')) as { name: string };
  robot.name = name;
  await page.locator('input[type=file]').first().setInputFiles({
    name: 'hostile.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(robot)),
  });
  await openSheets(page);
  const { bytes } = await saved(page, () => act(page, 'gains-c').click());
  const text = bytes.toString('utf8');
  expect(text.slice(0, text.indexOf('#ifndef')).match(/\*\//g)).toHaveLength(1);
  const png = await saved(page, () => act(page, 'png').click());
  expect(png.name).toMatch(/^[\p{L}\p{N}-]+\.png$/u);
  await act(page, 'lid').click();
  const paper = page.locator('.lidpart .paper');
  await expect(paper).toBeVisible({ timeout: 60_000 });
  await expect(paper.locator('h3')).toContainText('</h3><img');
  await expect(paper.locator('img')).toHaveCount(0);
  const [content, room] = await paper.evaluate((element) => [element.scrollHeight, element.clientHeight] as const);
  expect(content).toBeLessThanOrEqual(room + 1);
});

// For every eye and hand.

for (const [viewport, language, colorScheme] of [
  [{ width: 1440, height: 900 }, 'en', 'light'],
  [{ width: 390, height: 844 }, 'de', 'dark'],
  [{ width: 820, height: 1180 }, 'de', 'light'],
] as const) {
  test.describe(`${viewport.width} ${language} ${colorScheme}`, () => {
    test.use({ viewport, colorScheme, hasTouch: viewport.width < 1000, locale: language });
    test('axe finds nothing; nothing is wider than the window; targets are large enough', async ({ open }) => {
      const page = await open('page');
      await openSheets(page);
      await act(page, 'lid').click();
      await expect(page.locator('.lidpart .paper')).toBeVisible({ timeout: 90_000 });
      await act(page, 'card').click();
      await expect(page.locator('.cardpart .paper')).toBeVisible({ timeout: 90_000 });
      await page.locator('.gainspart summary').click();
      await expectAccessible(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      if (viewport.width >= 1000) return;
      const small = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('.sheets button, .sheets select, .sheets summary, .sheets .tick')]
          .filter((element) => element.offsetParent !== null && element.getBoundingClientRect().height < 43.5)
          .map((element) => `${element.className} ${element.textContent} ${element.getBoundingClientRect().height}`),
      );
      expect(small).toEqual([]);
    });
  });
}
