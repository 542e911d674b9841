// What the specs do on the sheet, in one place.

import type { Locator, Page } from '@playwright/test';
import { expect } from './fixtures.ts';

/** The robot is seen, and all that comes after it lies on the sheet. */
export const ready = async (page: Page): Promise<void> => {
  await expect.poll(() => page.evaluate(() => performance.getEntriesByName('robot').length)).toBeGreaterThan(0);
  await expect(page.locator('.sheet.furnished')).toBeAttached();
};

export const sentence = (page: Page): Locator => page.locator('.guide .sentence');
export const outcome = (page: Page): Locator => page.locator('.outcome');
export const measure = (page: Page, key: string): Locator => page.locator(`[data-measure="${key}"] .value`);
export const knob = (page: Page, key: string): Locator => page.locator(`.callouts [data-key="${key}"]`);
export const track = (page: Page, key: string): Locator => knob(page, key).locator('.track');
export const number = (page: Page, key: string): Locator => knob(page, key).locator('.number');

/** A place on the ball of the view shown [px of the window]. */
export async function ball(page: Page): Promise<{ x: number; y: number }> {
  const box = await page.locator('canvas.drawing:visible').first().boundingBox();
  if (box === null) throw new Error('no drawing');
  return { x: box.x + box.width / 2, y: box.y + 0.52 * box.height };
}

/** Kicks by dragging from the ball to the right. */
export async function dragKick(page: Page, way = 90): Promise<void> {
  const { x, y } = await ball(page);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + way / 2, y, { steps: 4 });
  await page.mouse.move(x + way, y, { steps: 4 });
  await page.mouse.up();
}

/** A number with unit, as shown, in the unit shown. */
export const shown = async (locator: Locator): Promise<number> =>
  Number.parseFloat(((await locator.textContent()) ?? '').replace('−', '-'));

/** Touches one place, moves, holds, lets go, as a finger does. */
export async function finger(
  page: Page,
  from: { x: number; y: number },
  to: { x: number; y: number },
  holdMs: number,
): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: { x: number; y: number }[]): Promise<unknown> =>
    devtools.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  await send('touchStart', [from]);
  const steps = from.x === to.x && from.y === to.y ? 0 : 8;
  for (let i = 1; i <= steps; i++) {
    const share = i / steps;
    await send('touchMove', [{ x: from.x + (to.x - from.x) * share, y: from.y + (to.y - from.y) * share }]);
  }
  await page.waitForTimeout(holdMs);
  await send('touchEnd', []);
  await devtools.detach();
}
