// The place of suggested settings: what is asked, what is told while it searches, what is found, and
// that nothing is changed without a press.

import { readFileSync } from 'node:fs';
import type { Locator, Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

const place = (page: Page): Locator => page.locator('.suggest');
const act = (page: Page, name: string): Locator => place(page).locator(`[data-act="${name}"]`);
const found = (page: Page): Locator => page.locator('.suggested');
const revisions = (page: Page): Locator => page.locator('.revisions li');
const label = (page: Page): Locator => page.locator('.double .label');

test.beforeEach(async ({ open }) => {
  await open('page');
});

/** Opens the place and asks for a short search of the travel loop alone. */
async function openSuggest(page: Page): Promise<void> {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Suggest', exact: true }).click();
  await expect(act(page, 'search')).toBeEnabled();
  for (const loop of ['head', 'lean', 'carriage']) await place(page).locator(`[data-loop="${loop}"]`).uncheck();
  await place(page).getByLabel('how long to search').selectOption('short');
}

test('a search tells how far it is, shows the best so far on the double, and changes nothing until it is pressed', async ({ page }) => {
  test.setTimeout(180_000);
  await openSuggest(page);
  await act(page, 'search').click();
  const running = page.locator('.searching');
  await expect(running).toBeVisible();
  await expect(running.locator('.changes tbody tr').first()).toBeVisible({ timeout: 60_000 });
  await expect(label(page)).toHaveText('best so far');
  await expect(found(page)).toBeVisible({ timeout: 120_000 });
  await expect(found(page).locator('h2').first()).toHaveText('Suggested for Cobnut');
  await expect(label(page)).toHaveText('suggested');
  await expect(found(page)).toContainText('no permission');
  await expect(found(page).locator('[data-settings="as_it_stood"] svg')).toHaveAttribute('aria-label', /.+/);
  await expect(found(page).locator('[data-settings="suggested"]')).toContainText('all limits kept');
  await expect(revisions(page)).toHaveCount(1);
  await expectAccessible(page);

  // The file holds what the table says.
  const saving = page.waitForEvent('download');
  await act(page, 'save').click();
  const file = await saving;
  expect(file.suggestedFilename()).toBe('cobnut-suggested.robot.json');
  const saved = JSON.parse(readFileSync(await file.path(), 'utf8')) as { travel: Record<string, number> };

  await act(page, 'become').click();
  await expect(revisions(page)).toHaveCount(2);
  await expect(revisions(page).first()).toContainText('suggested: travel');
  await expect(found(page).locator('.stale')).toHaveText('The board’s robot has these settings.');
  await expect(act(page, 'become')).toBeDisabled();
  const onBoard = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const now = JSON.parse(readFileSync(await (await onBoard).path(), 'utf8')) as { travel: Record<string, number> };
  expect(now.travel).toEqual(saved.travel);

  await page.getByRole('button', { name: 'undo', exact: true }).click();
  await expect(act(page, 'become')).toBeEnabled();
  await expect(found(page).locator('.stale')).toBeHidden();
});

test('a stopped search keeps the best so far, and says that it was not judged', async ({ page }) => {
  test.setTimeout(120_000);
  await openSuggest(page);
  await act(page, 'search').click();
  await expect(page.locator('.searching .changes tbody tr').first()).toBeVisible({ timeout: 60_000 });
  await act(page, 'stop').click();
  await expect(found(page)).toContainText('not judged');
  await expect(found(page).locator('h2').first()).toBeFocused();
  await expect(act(page, 'save')).toBeHidden();
  await act(page, 'become').click();
  await expect(revisions(page)).toHaveCount(2);
});

test('what cannot be asked for is refused where it stands, and without a loop there is nothing to press', async ({ page }) => {
  await openSuggest(page);
  await place(page).getByLabel('settling time').fill('90 s');
  await act(page, 'search').click();
  await expect(place(page).locator('.refusal')).toContainText('90 s', { timeout: 30_000 });
  await expect(act(page, 'search')).toBeEnabled();
  await place(page).locator('[data-loop="travel"]').uncheck();
  await expect(act(page, 'search')).toBeDisabled();
  await expect(place(page)).toContainText('Choose at least one loop.');
});

test('a double that somebody put away stays away; less motion means none is put up', async ({ page }) => {
  test.setTimeout(120_000);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await openSuggest(page);
  await expect(act(page, 'double')).not.toBeChecked();
  await act(page, 'double').check();
  await act(page, 'search').click();
  await expect(label(page)).toHaveText('best so far', { timeout: 60_000 });
  await page.locator('.double').getByRole('button', { name: 'put away' }).click();
  await expect(act(page, 'double')).not.toBeChecked();
  await page.waitForTimeout(2500);
  await expect(page.locator('.double .runs')).toBeHidden();
});
