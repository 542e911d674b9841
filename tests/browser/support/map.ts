// What the specs do in the place of maps.

import type { Locator, Page } from '@playwright/test';
import { expect } from './fixtures.ts';

export const line = (page: Page): Locator => page.locator('.mapline .running');
export const field = (page: Page, name: string): Locator => page.locator('.mapform').getByLabel(name, { exact: true });

/** Waits until the map is whole. */
export async function mapped(page: Page): Promise<void> {
  // What was changed rests a while before it is mapped.
  await page.waitForTimeout(700);
  await expect(line(page)).toBeHidden({ timeout: 45_000 });
  await expect(page.locator('.thismap .digest')).toHaveText(/digest [0-9a-f]{16}/);
}
