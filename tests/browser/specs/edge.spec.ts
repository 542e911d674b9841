// The place Edge and the spans on the knobs' tracks: what is asked when, what follows the knobs, what
// swings on the board, what hands and keys do on the drawings.

import type { Locator, Page } from '@playwright/test';
import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { finger, number, ready, track } from '../support/sheet.ts';

const place = (page: Page): Locator => page.locator('.edgeplace');
const verdict = (page: Page): Locator => place(page).locator('.outcome');
const part = (page: Page, title: string): Locator => place(page).locator('details.part', { has: page.getByRole('heading', { name: title }) });
const motions = (page: Page): Locator => place(page).locator('table.poles tbody button');
const pieces = (page: Page, key: string): Locator => page.locator(`.callouts [data-key="${key}"] .pieces i`);
const caption = (page: Page): Locator => page.locator('.board .swung');

async function openEdge(page: Page): Promise<void> {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Edge', exact: true }).click();
  await expect(motions(page).first()).toBeVisible({ timeout: 30_000 });
}

/** Where the carriage's centre was painted [px]. */
const carriage = (page: Page): Promise<string> =>
  page.locator('.plumb').first().evaluate((element) => (element as HTMLElement).style.transform);

test('tracks show where the robot stays steady from the first turn of a knob on, and in words', async ({ open, page }) => {
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await open('page', '#k1=cobnut;l=2');
  await ready(page);
  await page.waitForTimeout(1500);
  expect(asked.filter((url) => /lab_bg/.test(url)), 'workers are not needed yet').toEqual([]);
  await expect(pieces(page, 'travel.damping')).toHaveCount(0);
  await track(page, 'travel.damping').press('ArrowRight');
  await expect(pieces(page, 'travel.damping').first()).toBeAttached({ timeout: 30_000 });
  await expect(track(page, 'travel.damping')).toHaveAttribute('aria-description', /steady|friction/i);
  const before = await pieces(page, 'travel.damping').last().getAttribute('style');
  // Another knob moves its edge.
  await number(page, 'head.mass').fill('2.5 kg');
  await page.keyboard.press('Enter');
  await expect(pieces(page, 'travel.damping').last()).not.toHaveAttribute('style', before ?? '');
  await expectAccessible(page);
});

test('a motion swings on the board until it is ended, and the run knows nothing of it', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openEdge(page);
  await expect(verdict(page)).not.toHaveText('looking…');
  const hanging = await carriage(page);
  const first = motions(page).and(page.locator(':not([disabled])')).first();
  await first.click();
  await expect(first).toHaveAttribute('aria-pressed', 'true');
  await expect(caption(page)).toBeVisible();
  await expect.poll(() => carriage(page)).not.toBe(hanging);
  // Escape ends it and closes nothing.
  await page.keyboard.press('Escape');
  await expect(caption(page)).toBeHidden();
  await expect(place(page)).toBeVisible();
  await expect.poll(() => carriage(page)).toBe(hanging);
  await first.click();
  await page.keyboard.press('k');
  await expect(caption(page)).toBeHidden();
});

test.describe('motion kept low', () => {
  test.use({ contextOptions: { reducedMotion: 'reduce' } });

  test('a motion stands still at four places, one press after the other', async ({ open }) => {
    const page = await open('page', '#k1=cobnut;l=2');
    await openEdge(page);
    await motions(page).and(page.locator(':not([disabled])')).first().click();
    const next = caption(page).getByRole('button', { name: 'next position' });
    const places = new Set<string>();
    for (let press = 0; press < 4; press++) {
      await page.waitForTimeout(120);
      const there = await carriage(page);
      await page.waitForTimeout(250);
      expect(await carriage(page), 'it stands').toBe(there);
      places.add(there);
      await next.click();
    }
    expect(places.size).toBeGreaterThan(1);
  });
});

test('the root track moves its knob by keys and by hand; poles and sentence follow', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openEdge(page);
  const grip = place(page).locator('.grip');
  await expect(grip).toBeVisible({ timeout: 30_000 });
  const value = number(page, 'travel.damping');
  const began = await value.inputValue();
  const table = place(page).locator('table.poles tbody');
  const poles = await table.innerText();
  await grip.focus();
  await grip.press('PageUp');
  await expect(value).not.toHaveValue(began);
  await expect.poll(() => table.innerText()).not.toBe(poles);
  await grip.press('End');
  const stand = verdict(page);
  const most = await stand.innerText();
  await grip.press('Home');
  await expect(stand).not.toHaveText(most);
  // By hand along the track.
  const least = await value.inputValue();
  const box = await grip.boundingBox();
  if (box === null) throw new Error('no grip');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x - 70, box.y - 60, { steps: 8 });
  await page.mouse.up();
  await expect(value).not.toHaveValue(least);
});

test('what is open is asked: the open loop with its margins, predicted oscillation, both sides of an edge, hand methods', async ({ open }) => {
  test.setTimeout(180_000);
  const page = await open('page', '#k1=cobnut;l=2');
  await openEdge(page);
  await part(page, 'Gain and phase').locator('summary').first().click();
  await expect(place(page).locator('table.margins tbody tr').first()).toBeVisible();
  await expect(part(page, 'Gain and phase').getByRole('img').first()).toHaveAttribute('aria-label', /margin/);
  await part(page, 'Stable spans').getByRole('button', { name: /try both sides/ }).first().click();
  await expect(part(page, 'Stable spans').locator('.spanrows [role=status]').filter({ hasText: /simulation|model/ })).toBeVisible({ timeout: 60_000 });
  await part(page, 'Sustained oscillation').locator('summary').first().click();
  await page.getByRole('button', { name: 'simulate it' }).click();
  await expect(part(page, 'Sustained oscillation').getByText(/^Simulated:/)).toBeVisible({ timeout: 60_000 });
  await part(page, 'hand methods').locator('summary').first().click();
  await page.getByRole('button', { name: 'find Ku and Pu' }).click();
  const tries = part(page, 'hand methods').getByRole('button', { name: /^try/ });
  await expect(tries.first()).toBeVisible({ timeout: 90_000 });
  const rows = page.locator('.revisions li');
  const count = await rows.count();
  await tries.first().click();
  await expect(rows).toHaveCount(count + 1);
  await expectAccessible(page);
});

test('the other view has its own motions; locked and off close no loop', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await openEdge(page);
  const side = await verdict(page).innerText();
  await place(page).getByLabel('view', { exact: true }).selectOption('front');
  await expect(page.getByRole('button', { name: 'turn the robot' })).toBeVisible();
  await expect(verdict(page)).not.toHaveText(side);
  await place(page).getByLabel('software', { exact: true }).selectOption('off');
  await part(page, 'Gain and phase').locator('summary').first().click();
  await expect(part(page, 'Gain and phase')).toContainText('no loop is closed');
});

for (const viewport of [{ width: 1440, height: 900 }, { width: 820, height: 1180 }, { width: 390, height: 844 }]) {
  test.describe(`${viewport.width}`, () => {
    test.use({ viewport });
    test('axe finds nothing, nothing is wider than the window', async ({ open }) => {
      const page = await open('page', '#k1=cobnut;l=2');
      await openEdge(page);
      await part(page, 'Gain and phase').locator('summary').first().click();
      await part(page, 'Sustained oscillation').locator('summary').first().click();
      await motions(page).and(page.locator(':not([disabled])')).first().click();
      await byNightAndDay(page, async () => {
        await expectAccessible(page);
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      });
    });
  });
}

test.describe('fingers', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('a finger drags the knob along its root track, and presses have room', async ({ open }) => {
    const page = await open('page', '#k1=cobnut;l=2');
    await openEdge(page);
    const grip = place(page).locator('.grip');
    await expect(grip).toBeVisible({ timeout: 30_000 });
    await grip.scrollIntoViewIfNeeded();
    const box = await grip.boundingBox();
    if (box === null) throw new Error('no grip');
    const value = page.locator('.trackknob .number');
    const before = await value.inputValue();
    const from = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await finger(page, from, { x: from.x - 60, y: from.y - 40 }, 100);
    await expect(value).not.toHaveValue(before);
    const small = await place(page).evaluate((element) =>
      [...element.querySelectorAll<HTMLElement>('button, select, summary, input:not([type=checkbox]), [role=slider]')]
        .filter((one) => one.checkVisibility())
        .map((one) => ({ one, box: one.getBoundingClientRect() }))
        .filter((found) => found.box.width > 0 && (found.box.height < 43.5 || found.box.width < 43.5))
        .map((found) => `${found.one.className || found.one.tagName} ${found.one.textContent} ${found.box.width}×${found.box.height}`),
    );
    expect(small).toEqual([]);
  });
});
