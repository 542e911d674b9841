// For everyone: axe, keyboard, targets, nothing clipped, in three sizes by day and night.

import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

const SIZES = [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
] as const;

for (const viewport of SIZES) {
  test.describe(`${viewport.width}`, () => {
    test.use({ viewport });

    test('axe finds nothing in any state; nothing is wider than the window', async ({ open }) => {
      const page = await open('page');
      await ready(page);
      const look = (): Promise<void> =>
        byNightAndDay(page, async () => {
          await expectAccessible(page);
          expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
        });
      await look();
      await page.keyboard.press('k');
      await page.waitForTimeout(600);
      await page.getByRole('button', { name: 'all knobs' }).click();
      await look();
      await page.keyboard.press('v');
      await page.getByText('keys', { exact: true }).click({ force: true, timeout: 2000 }).catch(() => undefined);
      await page.locator('input[type=file]').setInputFiles({
        name: 'bad.json',
        mimeType: 'application/json',
        buffer: Buffer.from('{"format": "kickstill-robot"}'),
      });
      await expect(page.locator('.problems')).toBeVisible();
      await look();
    });
  });
}

test.describe('fingers', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('everything to press is at least 44 px high and wide', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('button, select, summary, input:not([type=checkbox]), [role=slider]')]
        .filter((element) => element.checkVisibility())
        .map((element) => ({ element, box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
        .map(({ element, box }) => `${element.className || element.tagName} ${element.textContent} ${box.width}×${box.height}`),
    );
    expect(small).toEqual([]);
  });
});

test('single keys can be switched off; Space is left to what has the focus', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('Space');
  await expect(page.getByRole('button', { name: 'run on' })).toBeVisible();
  await page.keyboard.press('Space');
  await expect(page.getByRole('button', { name: 'pause' })).toBeVisible();
  await page.getByText('keys', { exact: true }).click();
  await page.getByLabel('single-key shortcuts').uncheck();
  await page.keyboard.press('k');
  await page.waitForTimeout(300);
  await expect(page.locator('.outcome')).toHaveText('no run yet');
  // Space on a button presses it, and only it.
  await page.getByRole('button', { name: 'kick' }).focus();
  await page.keyboard.press('Space');
  await expect(page.locator('.trial')).toHaveText(/kick/);
  await expect(page.getByRole('button', { name: 'pause' })).toBeVisible();
});

test('what the board shows stands as text, and results are announced', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const drawing = page.getByRole('img', { name: /Working drawing of the robot, side view/ });
  await expect(drawing).toHaveAttribute('aria-describedby', 'see');
  await expect(page.locator('#see')).toContainText('motors off: the ball stands, the carriage hangs straight down');
  await page.keyboard.press('s');
  await expect(page.locator('#news')).toHaveText(/Software: steadied/);
  await page.keyboard.press('k');
  await expect(page.locator('#news')).toHaveText(/settled/, { timeout: 15_000 });
});

test.describe('forced colours', () => {
  test.use({ forcedColors: 'active' });
  test('the drawing takes the system’s colours', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    await expectAccessible(page);
  });
});
