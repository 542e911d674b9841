// The place of maps: what it shows, what hands and keys do on it, what is kept and saved; and that
// the storage of before there were kept maps opens with all that was in it.

import { readFileSync } from 'node:fs';
import type { Locator, Page } from '@playwright/test';
import { contour } from '../../../www/src/places/map/contour.ts';
import { expect, test } from '../support/fixtures.ts';
import { field, line, mapped } from '../support/map.ts';
import { finger, number, ready } from '../support/sheet.ts';

const canvas = (page: Page): Locator => page.locator('.thismap .mapcanvas');
const readout = (page: Page): Locator => page.locator('.thismap .readout');
const revisions = (page: Page): Locator => page.locator('.revisions li');

async function openMap(page: Page, cells = '16'): Promise<void> {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Map', exact: true }).click();
  await expect(readout(page)).toHaveText(/:/, { timeout: 30_000 });
  await field(page, 'cells each way').selectOption(cells);
  await mapped(page);
}

/** A place on the cells, as shares of their width and height from the lower left. */
async function at(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
  const box = await canvas(page).boundingBox();
  if (box === null) throw new Error('no canvas');
  // Left of the cells stands the axis, above them 8 px; see layout.ts.
  const wide = await page.evaluate(() => {
    const width = document.querySelector('.thismap .mapcanvas')?.clientWidth ?? 0;
    const side = width >= 520 ? Math.min(Math.max(width * 0.19, 100), 170) + 22 : 0;
    return width - 60 - 14 - side;
  });
  const high = await page.evaluate((least) => {
    const place = document.querySelector('.place')?.clientHeight ?? 0;
    const most = innerWidth < 1100 ? innerHeight * 0.5 : Math.max(place - 108, 240);
    return Math.round(Math.min(Math.max(least * 0.74, 220), Math.max(most, 220)));
  }, wide);
  return { x: box.x + 60 + x * wide, y: box.y + 8 + (1 - y) * high };
}

/** A field of cells from a function of x and y. */
const cells = (nx: number, ny: number, of: (x: number, y: number) => number): Float64Array =>
  Float64Array.from({ length: nx * ny }, (_, index) => of(index % nx, Math.floor(index / nx)));
const pairs = (line: Float64Array): [number, number][] =>
  Array.from({ length: line.length / 2 }, (_, index) => [line[2 * index] ?? NaN, line[2 * index + 1] ?? NaN]);

test('contours: a circle is one closed line, a slope one open line, a saddle two, and where there is no value there is none', () => {
  const circle = contour(cells(33, 33, (x, y) => Math.hypot(x - 16, y - 16)), 33, 33, 10);
  expect(circle).toHaveLength(1);
  const round = pairs(circle[0] ?? new Float64Array(0));
  expect(round[0]).toEqual(round.at(-1));
  // A straight cut between cells misses the circle by no more than the sagitta of one cell: 1/(8·10).
  for (const [x, y] of round) expect(Math.abs(Math.hypot(x - 16, y - 16) - 10)).toBeLessThan(0.0125);
  // On a plane the cut is exact.
  const slope = contour(cells(9, 6, (x, y) => x + 2 * y), 9, 6, 7.25);
  expect(slope).toHaveLength(1);
  for (const [x, y] of pairs(slope[0] ?? new Float64Array(0))) expect(x + 2 * y).toBeCloseTo(7.25, 12);
  expect(contour(cells(2, 2, (x, y) => (x === y ? 1 : 0)), 2, 2, 0.5)).toHaveLength(2);
  // The mean, .55, lies above .5: the two high corners are joined, each line cuts off a low one.
  for (const cut of contour(cells(2, 2, (x, y) => (x === y ? 1.1 : 0)), 2, 2, 0.5)) {
    const [[ax, ay] = [NaN, NaN], [bx, by] = [NaN, NaN]] = pairs(cut);
    expect(Math.sign((ax + bx) / 2 - 0.5), 'lower right or upper left').toBe(-Math.sign((ay + by) / 2 - 0.5));
  }
  expect(contour(cells(4, 4, () => NaN), 4, 4, 0)).toHaveLength(0);
  const holed = contour(cells(9, 3, (x, y) => (x === 4 ? NaN : y)), 9, 3, 0.5);
  expect(holed).toHaveLength(2);
  expect(holed.flatMap(pairs).every(([x, y]) => (x <= 3 || x >= 5) && y === 0.5)).toBe(true);
});

test('opened it maps by itself; a press becomes the cell as one revision, and undo takes both knobs back', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  // The whole map is in sight, whatever lines stand above it.
  await page.setViewportSize({ width: 1280, height: 1000 });
  await openMap(page);
  await expect(page.locator('.thismap h2')).toHaveText(/damping/);
  await expect(canvas(page)).toHaveAttribute('aria-label', /^Map: /);
  await expect(page.locator('#map-summary')).toHaveText(/^16 × 16 cells, 256 runs\. Settled in \d+ % of them\..*The robot stands at /);
  const [damping, calm] = [number(page, 'travel.damping').first(), number(page, 'travel.dead_band').first()];
  const [wasDamping, wasCalm] = [await damping.inputValue(), await calm.inputValue()];
  const before = await revisions(page).count();
  const spot = await at(page, 0.3, 0.3);
  await page.mouse.move(spot.x, spot.y);
  const told = (await readout(page).textContent()) ?? '';
  await page.mouse.down();
  await page.mouse.up();
  await expect(damping).not.toHaveValue(wasDamping);
  await expect(calm).not.toHaveValue(wasCalm);
  await expect(revisions(page)).toHaveCount(before + 1);
  await expect(revisions(page).first()).toContainText('from the map');
  // What the cell said is what the robot now is.
  await page.mouse.move(5, 5);
  await expect(readout(page)).toHaveText(told);
  // The two knobs move the crosshair and map nothing anew.
  await page.waitForTimeout(900);
  await expect(line(page)).toBeHidden();
  await page.locator('.revisions').getByRole('button', { name: 'undo' }).click();
  await expect(damping).toHaveValue(wasDamping);
  await expect(calm).toHaveValue(wasCalm);
});

test('another knob maps anew within the same ranges; a stale map is dropped, a cancelled one stays as far as it came', async ({ open }) => {
  test.slow();
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  const digest = await page.locator('.thismap .digest').textContent();
  const from = await field(page, 'damping D, from').inputValue();
  await number(page, 'head.mass').first().fill('1.3 kg');
  await number(page, 'head.mass').first().press('Enter');
  await expect(page.locator('.thismap .digest')).not.toHaveText(digest ?? '', { timeout: 30_000 });
  await mapped(page);
  await expect(field(page, 'damping D, from')).toHaveValue(from);
  await field(page, 'cells each way').selectOption('128');
  await expect(line(page)).toBeVisible();
  await page.locator('.mapline').getByRole('button', { name: 'cancel' }).click();
  await expect(line(page)).toBeHidden();
  await expect(page.locator('.thismap .digest')).not.toHaveText(/digest/);
});

test('press and hold plays the cell on a board of its own; let go, the page is exactly where it was', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  await page.locator('.controls').getByRole('button', { name: 'pause', exact: true }).click();
  const seen = (): Promise<string> => page.locator('.board canvas').first().evaluate((board: HTMLCanvasElement) => board.toDataURL());
  const before = { board: await seen(), rows: await revisions(page).count() };
  const spot = await at(page, 0.5, 0.5);
  await page.mouse.move(spot.x, spot.y);
  await page.mouse.down();
  await expect(page.locator('.mapplay')).toBeVisible();
  await expect(readout(page)).toHaveText(/^playing: /, { timeout: 15_000 });
  const played = (): Promise<string> => page.locator('.mapplay canvas').evaluate((board: HTMLCanvasElement) => board.toDataURL());
  const first = await played();
  await expect.poll(played).not.toBe(first);
  await page.mouse.up();
  await expect(page.locator('.mapplay')).toHaveCount(0);
  await expect(revisions(page)).toHaveCount(before.rows);
  expect(await seen()).toBe(before.board);
  await expect(page.locator('.controls').getByRole('button', { name: 'run on' })).toBeVisible();
});

test('by keys: arrows tell cells, Enter becomes one, P held plays it, Escape lets go before it closes', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  await canvas(page).focus();
  const own = await readout(page).textContent();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Shift+ArrowRight');
  await expect(readout(page)).not.toHaveText(own ?? '');
  // The readout may still be on its way to the second key's cell.
  await expect.poll(async () => (await page.locator('#news').textContent()) === (await readout(page).textContent())).toBe(true);
  await page.keyboard.down('p');
  await expect(page.locator('.mapplay')).toBeVisible();
  await page.keyboard.up('p');
  await expect(page.locator('.mapplay')).toHaveCount(0);
  await page.keyboard.press('Enter');
  await expect(page.locator('#news')).toHaveText(/^Set from the map: /);
  await page.keyboard.press('Escape');
  await expect(canvas(page)).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(canvas(page)).toBeHidden();
});

test('ranges are typed with their unit; what is wrong is said and the map stays', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  await field(page, 'calm zone (dead band), to').fill('0.035 rad');
  await field(page, 'calm zone (dead band), to').press('Enter');
  await mapped(page);
  await canvas(page).focus();
  await page.keyboard.press('End');
  await expect(readout(page)).toContainText('calm zone (dead band) 2.01°');
  await field(page, 'calm zone (dead band), to').fill('3 kg');
  await field(page, 'calm zone (dead band), to').press('Enter');
  await expect(page.locator('.thismap .refusal')).toContainText('expected');
  await expect(page.locator('.thismap .digest')).toHaveText(/digest/);
  await page.getByRole('button', { name: 'ranges around the knobs as they stand' }).click();
  await mapped(page);
  await expect(page.locator('.thismap .refusal')).toBeEmpty();
  await field(page, 'line at').fill('1.5 s');
  await field(page, 'line at').press('Enter');
  await expect(page.locator('.thismap .mapkey')).toContainText('thick line: 1.5 s');
  await field(page, 'line at').fill('none');
  await field(page, 'line at').press('Enter');
  await expect(page.locator('.thismap .mapkey')).not.toContainText('thick line');
});

test('worst case over spreads: said of each cell; a spread that is none is refused with its range', async ({ open }) => {
  test.slow();
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  await page.locator('.spreads > summary').click();
  await field(page, 'head weight, both ways').fill('20 %');
  await field(page, 'head weight, both ways').press('Enter');
  await mapped(page);
  await expect(readout(page)).toContainText('worst of its runs: ');
  const runs = /^16 × 16 cells, (\d+) runs/.exec((await page.locator('#map-summary').textContent()) ?? '')?.[1];
  expect(Number(runs)).toBeGreaterThan(256);
  await field(page, 'delay, further ticks').fill('2.5');
  await field(page, 'delay, further ticks').press('Enter');
  await expect(page.locator('.thismap .refusal')).toContainText('delay, further ticks: 2.5 – expected 0 … 16');
});

test('kept maps: over a reload, renamed, beside the present one without running, deleted and put back', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  const summary = (await page.locator('#map-summary').textContent()) ?? '';
  await page.getByRole('button', { name: 'keep this map' }).click();
  await expect(page.locator('.keptmaps')).toContainText('Kept: Cobnut');
  await page.locator('.keptmaps input').fill('Saturday');
  await page.locator('.keptmaps input').press('Enter');
  // A record that is none stays where it is and takes no other with it.
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('kickstill');
        request.onsuccess = () => {
          const put = request.result.transaction('maps', 'readwrite').objectStore('maps').put({ id: 'torn', version: 1 });
          put.onsuccess = () => {
            request.result.close();
            resolve();
          };
          put.onerror = () => {
            reject(new Error('not put'));
          };
        };
      }),
  );
  await page.reload();
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Map', exact: true }).click();
  await expect(page.locator('.keptmaps')).toContainText('1 kept map could not be read');
  await page.getByRole('button', { name: 'show Saturday beside' }).click();
  await expect(page.locator('.besidemap h2')).toHaveText('Saturday');
  await expect(page.locator('#map-kept-summary')).toHaveText(summary);
  await page.getByRole('button', { name: 'delete: Saturday' }).click();
  await expect(page.locator('.besidemap')).toBeHidden();
  await page.getByRole('button', { name: 'put it back' }).click();
  await expect(page.locator('.keptmaps input')).toHaveValue('Saturday');
});

test('saved as numbers and as a picture', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openMap(page);
  const saved = async (name: string): Promise<Buffer> => {
    const saving = page.waitForEvent('download');
    await page.locator('.thismap').getByRole('button', { name }).click();
    return readFileSync(await (await saving).path());
  };
  const rows = (await saved('save numbers')).toString('utf8').trim().split('\n');
  const head = rows.filter((row) => row.startsWith('#'));
  expect(head.join('\n')).toMatch(/# robot: Cobnut\n# trial: kick, .*\n# measure: .*\n# model version: \d+\n# digest: [0-9a-f]{16}\n/);
  const [names = '', ...cells] = rows.slice(head.length);
  expect(names).toContain('travel.dead_band [SI]');
  expect(cells).toHaveLength(256);
  const picture = await saved('save picture');
  expect([...picture.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  expect(picture.readUInt32BE(16)).toBe(1760);
});

test('the storage of before there were kept maps opens, with its runs, and takes a map', async ({ open, site }) => {
  test.slow();
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Kept runs' }).click();
  await page.locator('.controls').getByRole('button', { name: 'kick', exact: true }).click();
  await expect(page.locator('.outcome')).toHaveAttribute('data-class', 'going');
  await expect(page.locator('.outcome')).not.toHaveAttribute('data-class', /going|none/, { timeout: 20_000 });
  await page.getByRole('button', { name: 'keep the present run' }).click();
  await expect(page.locator('.kept .told')).toContainText('Kept:', { timeout: 15_000 });
  // The same records in a storage as it was made before.
  await page.goto(site.core);
  const held = await page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => {
          resolve(request.result);
        };
        request.onerror = () => {
          reject(new Error(String(request.error)));
        };
      });
    const shelves = ['runs', 'revisions', 'facts'];
    const now = await asked(indexedDB.open('kickstill'));
    const records = new Map<string, unknown[]>();
    for (const shelf of shelves) records.set(shelf, await asked(now.transaction(shelf).objectStore(shelf).getAll()));
    const version = now.version;
    now.close();
    await asked(indexedDB.deleteDatabase('kickstill'));
    const opening = indexedDB.open('kickstill', 1);
    opening.onupgradeneeded = () => {
      for (const shelf of shelves) opening.result.createObjectStore(shelf, { keyPath: 'id' });
    };
    const old = await asked(opening);
    for (const shelf of shelves) {
      const store = old.transaction(shelf, 'readwrite').objectStore(shelf);
      for (const record of records.get(shelf) ?? []) await asked(store.put(record));
    }
    const names = [...old.objectStoreNames];
    old.close();
    return { version, names, runs: records.get('runs')?.length };
  });
  expect(held).toEqual({ version: 2, names: ['facts', 'revisions', 'runs'], runs: 1 });
  await page.goto(site.page);
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Kept runs' }).click();
  await expect(page.locator('.keptruns tbody tr')).toHaveCount(1);
  await expect(page.locator('.kept .trouble')).toBeHidden();
  await openMap(page);
  await page.getByRole('button', { name: 'keep this map' }).click();
  await expect(page.locator('.keptmaps tbody tr')).toHaveCount(1);
  await page.reload();
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Map', exact: true }).click();
  await expect(page.locator('.keptmaps tbody tr')).toHaveCount(1);
});

test.describe('with a finger', () => {
  test.use({ hasTouch: true, viewport: { width: 390, height: 844 } });

  test('held it plays and opens no menu, a tap becomes the cell, a swipe scrolls and changes nothing', async ({ open }) => {
    const page = await open('page', '#k1=cobnut;l=2');
    await ready(page);
    await page.locator('.placeindex').getByRole('button', { name: 'Map', exact: true }).tap();
    await page.locator('.mapform .choices > summary').tap();
    await field(page, 'cells each way').selectOption('16');
    await mapped(page);
    await page.evaluate(() => {
      window.addEventListener('contextmenu', (event) => {
        document.body.dataset['menu'] = String(!event.defaultPrevented);
      });
    });
    await canvas(page).evaluate((it) => {
      it.scrollIntoView({ block: 'center', behavior: 'instant' });
    });
    const before = await revisions(page).count();
    const spot = await at(page, 0.4, 0.4);
    const held = finger(page, spot, spot, 1600);
    await expect(page.locator('.mapplay')).toBeVisible();
    const over = await page.locator('.mapplay').boundingBox();
    expect(over !== null && spot.y > over.y && spot.y < over.y + over.height, 'the hand covers nothing').toBe(false);
    await held;
    await expect(page.locator('.mapplay')).toHaveCount(0);
    await expect(page.locator('body')).not.toHaveAttribute('data-menu', 'true');
    await expect(revisions(page)).toHaveCount(before);
    const top = await page.evaluate(() => scrollY);
    await finger(page, spot, { x: spot.x, y: spot.y - 160 }, 0);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(top + 60);
    await expect(revisions(page)).toHaveCount(before);
    const again = await at(page, 0.4, 0.8);
    await finger(page, again, again, 60);
    await expect(revisions(page)).toHaveCount(before + 1);
  });
});
