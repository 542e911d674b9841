// Kept runs: kept, compared, replayed, exported, imported; and what must not be lost when
// storage, file or another tab gets in the way.

import { readFileSync } from 'node:fs';
import type { BrowserContext, Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { number, ready } from '../support/sheet.ts';

const runs = (page: Page) => page.locator('.keptruns > div > .tablebox').first().locator('tbody tr');
const told = (page: Page) => page.locator('.kept .told');

async function openPlace(page: Page): Promise<void> {
  await page.locator('.placeindex').getByRole('button', { name: 'Kept runs' }).click();
  await expect(page.locator('.kept')).toBeVisible();
}

/** Kicks, waits for the verdict, keeps. The place is open. */
async function kickAndKeep(page: Page): Promise<void> {
  const before = await runs(page).count();
  await page.locator('.controls').getByRole('button', { name: 'kick', exact: true }).click();
  // First that of the run before goes away.
  await expect(page.locator('.outcome')).toHaveAttribute('data-class', 'going');
  await expect(page.locator('.outcome')).not.toHaveAttribute('data-class', /going|none/, { timeout: 20_000 });
  await page.getByRole('button', { name: 'keep the present run' }).click();
  await expect(told(page)).toContainText('Kept:', { timeout: 15_000 });
  await expect(runs(page)).toHaveCount(before + 1);
}

async function exported(page: Page): Promise<string> {
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'export all' }).click();
  const download = await saving;
  expect(download.suggestedFilename()).toMatch(/^kickstill-kept-[\d-]+\.json$/);
  return readFileSync(await download.path(), 'utf8');
}

async function imported(page: Page, text: string, name = 'kept.json'): Promise<void> {
  await page
    .locator('.importfile')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

async function replayed(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'replay it' }).click();
  await expect(page.locator('.detail .note').first()).toHaveText('Replayed: the digest is equal, bit for bit.', {
    timeout: 20_000,
  });
}

const digest = (page: Page) => page.locator('.facts div', { hasText: 'digest' }).locator('dd');

async function fresh(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(address);
  await ready(page);
  await openPlace(page);
  return page;
}

test('before and after: Cobnut locked against steadied, kept, exported, replayed in a fresh browser', async ({
  open,
  site,
  browser,
}) => {
  test.slow();
  const page = await open('page', '#k1=cobnut;l=1;d=off');
  await ready(page);
  await expect(page.locator('.runs .letter')).toBeVisible();
  await openPlace(page);
  await kickAndKeep(page);
  await page.locator('.switch .level-2').click();
  await kickAndKeep(page);
  await page.locator('.compare select').selectOption({ index: 2 });
  const compared = page.locator('.measures tbody tr').filter({ hasText: 'settling time' });
  await expect(compared.locator('td').last()).toHaveText(/./);
  await replayed(page);
  const made = (await digest(page).textContent()) ?? '';
  expect(made).toMatch(/^[0-9a-f]{16}$/);
  const file = await exported(page);

  const context = await browser.newContext();
  const other = await fresh(context, site.page);
  await expect(other.locator('.keptruns')).toContainText('Nothing is kept yet');
  await imported(other, file);
  await expect(told(other)).toContainText('Imported 2 runs');
  await expect(runs(other)).toHaveCount(2);
  await runs(other).first().getByRole('button').click();
  await expect(digest(other)).toHaveText(made);
  await replayed(other);
  // Once more: all is known already, nothing comes twice.
  await imported(other, file);
  await expect(told(other)).toContainText('Imported 0 runs');
  await expect(runs(other)).toHaveCount(2);
  // Kept over a reload, and its robot comes back as a revision.
  await other.reload();
  await ready(other);
  await openPlace(other);
  await expect(runs(other)).toHaveCount(2);
  await expect(other.locator('.overtime tbody tr')).toHaveCount(2);
  await other.locator('.overtime').getByRole('button').first().click();
  await context.close();
});

test('a knob turned in the middle of a run is replayed too; a deleted run can be put back', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await number(page, 'head.mass').fill('1.4 kg');
  await number(page, 'head.mass').press('Enter');
  await kickAndKeep(page);
  await replayed(page);
  await page.getByLabel(/^name of/).first().fill('Saturday');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'delete' }).click();
  await expect(runs(page)).toHaveCount(0);
  await page.getByRole('button', { name: 'put it back' }).click();
  await expect(page.getByLabel('name of Saturday')).toHaveValue('Saturday');
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await runs(page).getByRole('button').click();
  await page.getByRole('button', { name: 'put its robot on the board' }).click();
  await expect(number(page, 'head.mass')).toHaveValue('1.40 kg');
  await expect(page.locator('.revisions .line .name').first()).toContainText('from Saturday');
  await page.locator('.revisions').getByRole('button', { name: 'undo' }).click();
  await expect(number(page, 'head.mass')).toHaveValue('2.00 kg');
});

test('a damaged export: each damaged record is refused by itself, with its place', async ({ open }) => {
  test.slow();
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  await kickAndKeep(page);
  const file = await exported(page);
  const whole = JSON.parse(file) as { runs: Record<string, unknown>[]; robots: { file: { shell: object } }[] };
  const problems = page.locator('.problems');
  const clear = async (): Promise<void> => {
    for (let left = await runs(page).count(); left > 0; left--) {
      if ((await page.locator('.detail').count()) === 0) await runs(page).first().getByRole('button').click();
      await page.getByRole('button', { name: 'delete', exact: true }).click();
      await expect(runs(page)).toHaveCount(left - 1);
    }
  };
  await clear();

  const bent = { ...whole, runs: [{ ...whole.runs[0], digest: 'none', at: 'yesterday' }, whole.runs[1]] };
  await imported(page, JSON.stringify(bent));
  await expect(told(page)).toContainText('Imported 1 run');
  for (const text of ['runs[0].digest', '16 hexadecimal digits', 'runs[0].at', 'the others came in']) {
    await expect(problems).toContainText(text);
  }
  await clear();

  // Cut in the middle of the second run.
  const second = file.indexOf(`"id":"${String(whole.runs[1]?.['id'])}"`);
  await imported(page, file.slice(0, file.lastIndexOf('\n', second) + 200));
  await expect(told(page)).toContainText('Imported 1 run');
  await expect(problems).toContainText(/line \d+/);
  await expect(problems).toContainText('cut off');
  await clear();

  for (const [text, says] of [
    ['', 'a file that this page exported'],
    ['{"format": "kickstill-kept", "version": 99}', 'version 1 or older'],
    ['{"format": "kickstill-robot", "version": 1}', 'a file that this page exported'],
    ['[]', 'a file that this page exported'],
    ['\u0000\u0001', 'a file that this page exported'],
  ] as const) {
    await imported(page, text);
    await expect(problems).toContainText(says);
    await expect(problems).toContainText('nothing was imported');
    await expect(runs(page)).toHaveCount(0);
  }
});

test('storage full: said, the run stays, it can be exported, and is stored when there is room again', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await page.evaluate(() => {
    const held = window as unknown as { put: IDBObjectStore['put'] };
    held.put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('no room', 'QuotaExceededError');
    };
  });
  await kickAndKeep(page);
  await expect(page.locator('.kept .trouble')).toContainText('storage is full');
  await expect(runs(page)).toContainText('in memory only');
  expect((JSON.parse(await exported(page)) as { runs: unknown[] }).runs).toHaveLength(1);
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = (window as unknown as { put: IDBObjectStore['put'] }).put;
  });
  await kickAndKeep(page);
  await expect(page.locator('.kept .trouble')).toBeHidden();
  await page.reload();
  await ready(page);
  await openPlace(page);
  await expect(runs(page)).toHaveCount(2);
});

test('storage refused: said, and all goes on in memory', async ({ page, open }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'indexedDB', {
      get: () => {
        throw new DOMException('not in a private window', 'SecurityError');
      },
    });
  });
  await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await expect(page.locator('.kept .trouble')).toContainText('gives the page no storage');
  await kickAndKeep(page);
  await replayed(page);
  expect((JSON.parse(await exported(page)) as { runs: unknown[] }).runs).toHaveLength(1);
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await page.locator('.revisions').getByRole('button', { name: 'undo' }).click();
  await expect(number(page, 'head.mass')).toHaveValue('0.900 kg');
});

test('a newer page in another tab takes the storage over: said, nothing is lost', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('kickstill', 99);
        request.onsuccess = () => {
          request.result.close();
          resolve();
        };
        request.onerror = () => {
          reject(new Error('not opened'));
        };
      }),
  );
  await expect(page.locator('.kept .trouble')).toContainText('newer page');
  await kickAndKeep(page);
  expect((JSON.parse(await exported(page)) as { runs: unknown[] }).runs).toHaveLength(2);
});

test('two tabs at once: each shows what the other keeps, and neither loses a thing', async ({ open, site, context }) => {
  test.slow();
  const one = await open('page', '#k1=cobnut;l=2');
  await ready(one);
  await openPlace(one);
  const two = await context.newPage();
  await two.goto(`${site.page}#k1=thimble;l=2`);
  await ready(two);
  await openPlace(two);
  await two.bringToFront();
  await kickAndKeep(two);
  await one.bringToFront();
  await expect(runs(one)).toHaveCount(1);
  await kickAndKeep(one);
  await expect(runs(two)).toHaveCount(2);
  await number(one, 'head.mass').fill('1.1 kg');
  await number(one, 'head.mass').press('Enter');
  await expect(two.locator('.allrevisions')).toContainText('0.900 → 1.10 kg');
  // Its own robot is left alone.
  await expect(two.locator('#see')).toContainText('Thimble');
  await two.close();
  await one.reload();
  await ready(one);
  await openPlace(one);
  await expect(runs(one)).toHaveCount(2);
  await expect(one.locator('.allrevisions')).toContainText('Thimble opened');
});

for (const colorScheme of ['light', 'dark'] as const) {
  test.describe(colorScheme, () => {
    test.use({ colorScheme });
    test('axe finds nothing in the place', async ({ open }) => {
      const page = await open('page', '#k1=cobnut;l=2');
      await ready(page);
      await openPlace(page);
      await expectAccessible(page);
      await kickAndKeep(page);
      await kickAndKeep(page);
      await page.locator('.keptstrip summary').first().click();
      await expectAccessible(page);
      await page.setViewportSize({ width: 390, height: 844 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
    });
  });
}
