// How the place of maps looks: at three sizes, by day and night, with all that it can show.

import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { field, mapped } from '../support/map.ts';
import { ready } from '../support/sheet.ts';

for (const [width, height] of [[1440, 900], [820, 1180], [390, 844]] as const) {
  test(`axe finds nothing, ${width} × ${height}`, async ({ page, open }) => {
    test.slow();
    await page.setViewportSize({ width, height });
    await open('page', '#k1=cobnut;l=2');
    await ready(page);
    await page.locator('.placeindex').getByRole('button', { name: 'Map', exact: true }).click();
    await expect(page.locator('.mapform')).toBeVisible();
    await page.evaluate(() => {
      for (const details of document.querySelectorAll<HTMLDetailsElement>('.mapplace details')) details.open = true;
    });
    await field(page, 'cells each way').selectOption('16');
    await mapped(page);
    await page.getByRole('button', { name: 'keep this map' }).click();
    await page.getByRole('button', { name: / beside$/ }).click();
    // These are worked out when they come into sight.
    for (const part of ['.matters', '.headstory']) {
      await page.locator(part).scrollIntoViewIfNeeded();
      await expect(page.locator(`${part} table`).first()).toBeVisible({ timeout: 45_000 });
    }
    await byNightAndDay(page, async () => {
      await expectAccessible(page);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, 'nothing is wider than the page').toBeLessThanOrEqual(0);
    });
  });
}
