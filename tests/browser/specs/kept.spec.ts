// Kept runs: kept, compared, replayed, exported, imported; and what must not be lost when
// storage, file or another tab gets in the way.

import { readFileSync } from 'node:fs';
import type { BrowserContext, Page } from '@playwright/test';
import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
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
  // Said in one place, once.
  await expect(page.getByText(/^Kept: /)).toHaveCount(1);
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
  // After nothing, the present run and the double: the other kept run.
  await page.locator('.compare select').selectOption({ index: 3 });
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

test('strips of a kept run: one cursor, keys, a table, its double beside it', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2;d=off');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  const strips = page.locator('.keptstrips .strip');
  await expect(strips).toHaveCount(4);
  await expect(strips.locator('.limit', { hasText: 'fuse' })).toHaveCount(1);
  // With a double it stands beside it at once.
  await expect(page.locator('.compare select')).toHaveValue('double');
  await expect(page.locator('.measures tbody tr').filter({ hasText: 'current' }).first().locator('td')).toHaveCount(3);
  await expect(page.locator('.compare option[value=double]')).toHaveText('double B: software off');

  const swing = page.getByRole('slider', { name: /^strip: swing, side view, kept run/ });
  await swing.focus();
  await swing.press('Home');
  await swing.press('Shift+ArrowRight');
  await swing.press('ArrowRight');
  const time = Number(await swing.getAttribute('aria-valuenow'));
  const begin = Number(await swing.getAttribute('aria-valuemin'));
  expect(time - begin).toBeCloseTo(0.55, 2);
  await expect(swing).toHaveAttribute('aria-valuetext', /^[\d.]+ s · A −?[\d.]+°.* · B −?[\d.]+°/);
  // The others stand at the same time.
  await expect(page.locator('.keptstrips .readings:visible')).toHaveCount(4);
  for (const text of await page.locator('.keptstrips .readings').allTextContents()) expect(text).toContain(`${time.toFixed(2)} s`);

  await strips.first().getByRole('button', { name: /^table of/ }).click();
  const dialog = page.getByRole('dialog', { name: /swing, side view, kept run/ });
  await expect(dialog.locator('thead th')).toHaveText(['time', 'A, the board’s robot', 'B, its double']);
  expect(await dialog.locator('tbody tr').count()).toBeGreaterThan(20);
  await dialog.getByRole('button', { name: 'close' }).click();

  // The double's traces are in the file and come back from it.
  const file = await exported(page);
  const kept = (JSON.parse(file) as { runs: { double: object; strips: Record<string, { double?: object }> }[] }).runs[0];
  expect(kept?.strips['swing']?.double).toBeDefined();
  expect(kept?.double).toBeDefined();
  await page.getByRole('button', { name: 'delete', exact: true }).click();
  await imported(page, file);
  await runs(page).getByRole('button').click();
  await expect(page.getByRole('slider', { name: /^strip: swing, side view, kept run/ })).toHaveAttribute('aria-valuetext', 'at the pen');
  await expect(page.locator('.compare select')).toHaveValue('double');
});

test('a kept run as the double: the same inputs reach both', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await page.getByRole('button', { name: 'make it the double' }).click();
  await expect(page.locator('#double .label')).toHaveText(/^Cobnut/);
  await page.locator('#double').getByRole('button', { name: 'swap' }).click();
  await expect(number(page, 'head.mass')).toHaveValue('0.900 kg');
});

test('a point of “my robot over time” brings its robot back, and so does its row', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await kickAndKeep(page);
  const chart = page.locator('.timechart .u-over');
  const points = async (index: number): Promise<void> => {
    const box = await chart.boundingBox();
    if (box === null) throw new Error('no chart');
    // Two runs, each in the middle of its half.
    await chart.click({ position: { x: (box.width * (index + 0.5)) / 2, y: box.height / 2 } });
  };
  await points(0);
  await expect(number(page, 'head.mass')).toHaveValue('0.900 kg');
  await points(1);
  await expect(number(page, 'head.mass')).toHaveValue('2.00 kg');
  // Between the two is nothing.
  const box = await chart.boundingBox();
  await chart.click({ position: { x: (box?.width ?? 0) / 2, y: 40 } });
  await expect(number(page, 'head.mass')).toHaveValue('2.00 kg');
  await page.locator('.overtime tbody tr').first().getByRole('button').click();
  await expect(number(page, 'head.mass')).toHaveValue('0.900 kg');
});

test('after five runs the page asks for an export, until there is one', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await page.getByRole('button', { name: 'Trials' }).click();
  const once = page.getByRole('button', { name: 'run it at once' });
  const reminder = page.getByText(/kept since the last export/);
  for (let i = 1; i <= 5; i++) {
    await once.click();
    await page.waitForFunction((count) => performance.getEntriesByName('trial').length >= count, i);
    await page.locator('.trialresult').getByRole('button', { name: /keep/ }).click();
    await expect(page.locator('.notice')).toContainText('Kept: ');
    if (i === 4) {
      await openPlace(page);
      await expect(runs(page)).toHaveCount(4);
      await expect(reminder).toHaveCount(0);
      await page.getByRole('button', { name: 'Trials' }).click();
    }
  }
  await openPlace(page);
  await expect(reminder).toHaveText(/^5 runs kept since the last export/);
  await exported(page);
  await expect(reminder).toHaveCount(0);
  // A trial's run is replayed as well, and all five are the same one.
  await runs(page).first().getByRole('button').click();
  await replayed(page);
});

test('a replay that differs says from which second on', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  // A rest first, which no change of the kick can reach.
  await page.waitForTimeout(2500);
  await kickAndKeep(page);
  const file = await exported(page);
  await page.getByRole('button', { name: 'delete', exact: true }).click();
  interface Made {
    runs: { marks?: string[]; modelVersion: number; source: { log: [number, string, ...number[]][] } }[];
  }
  const bend = (change: (run: Made['runs'][number]) => void): string => {
    const made = JSON.parse(file) as Made;
    const [run] = made.runs;
    if (run === undefined) throw new Error('no run');
    change(run);
    return JSON.stringify(made);
  };
  let kicked = 0;
  const changed = bend(({ marks, source }) => {
    const kick = source.log.find(([, word]) => word === 'kick');
    if (kick === undefined || marks === undefined) throw new Error('neither kick nor marks');
    kicked = kick[0] / 1e6;
    kick[2] = Number(kick[2]) * 1.01;
    expect(marks.length).toBeGreaterThan(Math.ceil(kicked));
  });
  expect(kicked).toBeGreaterThan(1);
  const told_ = page.locator('.detail .note').first();
  const replayOf = async (text: string): Promise<void> => {
    await imported(page, text);
    await expect(runs(page)).toHaveCount(1);
    if ((await page.locator('.detail').count()) === 0) await runs(page).getByRole('button').click();
    await page.getByRole('button', { name: 'replay it' }).click();
    await expect(told_).toContainText('Replayed:', { timeout: 20_000 });
  };
  await replayOf(changed);
  const second = Math.floor(kicked);
  await expect(told_).toContainText('it differs though the model has the same version');
  await expect(told_).toContainText(`It is equal up to t = ${second} s and differs by t = ${second + 1} s.`);
  await page.getByRole('button', { name: 'delete', exact: true }).click();

  // By an older model: said, and the second as well.
  await replayOf(bend((run) => {
    run.modelVersion = 0;
    const kick = run.source.log.find(([, word]) => word === 'kick');
    if (kick !== undefined) kick[2] = 1;
  }));
  await expect(told_).toContainText('it was made by model 0');
  await expect(told_).toContainText('It is equal up to');
  await page.getByRole('button', { name: 'delete', exact: true }).click();

  // A record of before there were marks is replayed all the same.
  await replayOf(bend((run) => {
    delete run.marks;
  }));
  await expect(told_).toHaveText('Replayed: the digest is equal, bit for bit.');
});

test('storage held by an older tab: said, all goes on in memory, and is stored when the tab lets go', async ({
  page,
  open,
  site,
  context,
}) => {
  const older = await context.newPage();
  await older.goto(site.core);
  await older.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('kickstill', 1);
        request.onupgradeneeded = () => {
          for (const shelf of ['runs', 'revisions', 'facts']) request.result.createObjectStore(shelf, { keyPath: 'id' });
        };
        request.onsuccess = () => {
          // It does not hear that another wants it.
          (window as unknown as { held: IDBDatabase }).held = request.result;
          resolve();
        };
        request.onerror = () => {
          reject(new Error('not opened'));
        };
      }),
  );
  // The page as a newer one would be: with the next version of the storage.
  await page.addInitScript(() => {
    const own = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (name, version) {
      return own.call(this, name, (version ?? 0) + 1);
    };
  });
  await page.bringToFront();
  await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await expect(page.locator('.kept .trouble')).toContainText('Another tab holds the storage');
  await kickAndKeep(page);
  await expect(runs(page)).toContainText('in memory only');
  await older.evaluate(() => {
    (window as unknown as { held: IDBDatabase }).held.close();
  });
  await expect(page.locator('.kept .trouble')).toBeHidden();
  await expect(runs(page)).not.toContainText('in memory only');
  await page.reload();
  await ready(page);
  await openPlace(page);
  await expect(runs(page)).toHaveCount(1);
});

test('storage lost in the middle: said, what is new stays in memory and can be exported', async ({ page, open }) => {
  await page.addInitScript(() => {
    const own = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...given) {
      const request = own.apply(this, given);
      request.addEventListener('success', () => {
        (window as unknown as { held: IDBDatabase }).held = request.result;
      });
      return request;
    };
  });
  await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  await kickAndKeep(page);
  // As a browser does that clears its storage or finds it damaged.
  await page.evaluate(() => {
    const { held } = window as unknown as { held: IDBDatabase };
    held.close();
    held.dispatchEvent(new Event('close'));
  });
  await expect(page.locator('.kept .trouble')).toContainText('The browser closed its storage');
  await kickAndKeep(page);
  await expect(runs(page)).toHaveCount(2);
  await expect(runs(page).first()).toContainText('in memory only');
  await expect(runs(page).last()).not.toContainText('in memory only');
  expect((JSON.parse(await exported(page)) as { runs: unknown[] }).runs).toHaveLength(2);
});

test('axe finds nothing in the place', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await openPlace(page);
  const look = (): Promise<void> => byNightAndDay(page, () => expectAccessible(page));
  await look();
  await kickAndKeep(page);
  await kickAndKeep(page);
  await page.locator('.keptstrips').getByRole('slider').first().press('Home');
  await look();
  await page.locator('.keptstrips').getByRole('button', { name: /^table of/ }).first().click();
  await look();
  await page.keyboard.press('Escape');
  await page.setViewportSize({ width: 390, height: 844 });
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
});
