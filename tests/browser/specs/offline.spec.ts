// After one visit the page needs no network; a newer version comes when it is asked for, and loses nothing.

import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from '@playwright/test';
import { startServer } from '../../../scripts/static-server.mjs';
import { expect, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';
import { distFolder } from '../support/site.mjs';

test.use({ serviceWorkers: 'allow' });

/** Waits until everything is kept. */
const installed = (page: Page): Promise<unknown> =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    // The worker claims the page when all is kept.
    if (navigator.serviceWorker.controller === null) {
      await new Promise((resolve) => navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }));
    }
  });

const place = (page: Page, name: string): Promise<void> =>
  page.locator('.placeindex').getByRole('button', { name, exact: true }).click();

test('a reload without network brings up the whole page, trials and places too', async ({ open, context, watch }) => {
  const page = await open('page');
  await ready(page);
  await installed(page);
  await context.setOffline(true);
  await page.reload();
  await ready(page);
  await place(page, 'Trials');
  await page.getByRole('button', { name: 'run it at once' }).click();
  await expect(page.locator('.place')).toContainText('settling time');
  for (const name of await page.locator('.placeindex button[aria-controls="place"]').allTextContents()) {
    await place(page, name);
    await expect(page.locator('.place .opening')).toHaveText('');
    await place(page, name);
  }
  expect(watch.seen).toEqual([]);
  await context.setOffline(false);
});

test('manifest and icons are there and fit', async ({ open, page, site }) => {
  await open('page');
  const href = await page.locator('link[rel="manifest"]').getAttribute('href');
  const address = new URL(href ?? '', site.page);
  const manifest = (await (await page.request.get(address.href)).json()) as {
    start_url: string;
    icons: { src: string; sizes: string; type: string }[];
  };
  expect(new URL(manifest.start_url, address).href).toBe(site.page);
  for (const { src, sizes, type } of manifest.icons) {
    const answer = await page.request.get(new URL(src, address).href);
    expect(answer.headers()['content-type']).toContain(type);
    if (type !== 'image/png') continue;
    // Width and height stand in the first chunk of a PNG.
    const bytes = await answer.body();
    expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes);
  }
  expect(manifest.icons.map(({ sizes }) => sizes)).toEqual(expect.arrayContaining(['192x192', '512x512']));
});

test('a newer version waits to be asked, and kept runs and knobs are still there', async ({ page, watch }) => {
  const folder = mkdtempSync(path.join(tmpdir(), 'kickstill-'));
  cpSync(distFolder, folder, { recursive: true });
  const { origin, close } = await startServer({ folders: { '/': folder } });
  try {
    watch.allow(`${origin}/`);
    await page.goto(`${origin}/`);
    await ready(page);
    await installed(page);
    await page.keyboard.press('s');
    await page.keyboard.press('k');
    await expect(page.locator('.outcome')).toHaveAttribute('data-class', 'settled', { timeout: 20_000 });
    await place(page, 'Kept runs');
    await page.getByRole('button', { name: 'keep the present run' }).click();
    const runs = page.locator('.keptruns > div > .tablebox').first().locator('tbody tr');
    await expect(runs).toHaveCount(1);

    // The newer version: another index.html, and the worker that tells so.
    const index = readFileSync(path.join(folder, 'index.html'), 'utf8');
    writeFileSync(path.join(folder, 'index.html'), index.replace('</title>', '</title><meta name="release" content="newer" />'));
    const worker = readFileSync(path.join(folder, 'sw.js'), 'utf8');
    const newer = worker.replace(/(url:"index\.html",revision:")\w+/, '$1newer').replace(/("index\.html",\s*"?revision"?:\s*")\w+/, '$1newer');
    expect(newer).not.toBe(worker);
    writeFileSync(path.join(folder, 'sw.js'), newer);
    // The browser looks when it has nothing more urgent to do, which a board drawn without a graphics card may not leave it.
    await page.keyboard.press('p');
    await page.evaluate(async () => {
      await (await navigator.serviceWorker.ready).update();
    });
    const offer = page.locator('.newer');
    await expect(offer).toContainText('A newer version is here');
    // Nothing happens by itself, not even at a reload.
    expect(await page.locator('meta[name="release"]').count()).toBe(0);
    await page.reload();
    await ready(page);
    expect(await page.locator('meta[name="release"]').count()).toBe(0);

    await page.locator('.newer').getByRole('button', { name: 'load it' }).click();
    await expect(page.locator('meta[name="release"]')).toHaveCount(1, { timeout: 15_000 });
    await ready(page);
    await place(page, 'Kept runs');
    await expect(runs).toHaveCount(1);
    await expect(page.locator('.newer')).toHaveCount(0);
  } finally {
    await close();
    rmSync(folder, { recursive: true });
  }
});
