// Less motion: stills while the run goes on, and what a hand does shown at once.

import type { Page } from '@playwright/test';
import { settled } from '../support/everyone.ts';
import { expect, test } from '../support/fixtures.ts';
import { outcome, shown } from '../support/sheet.ts';

test.describe('less motion', () => {
  test.use({ reducedMotion: 'reduce' });

  /** How often the board's picture changed in a time, and how far the run went in it [s]. */
  const watched = (page: Page, ms: number): Promise<number> =>
    page.evaluate(
      (span) =>
        new Promise<number>((done) => {
          const canvas = document.querySelector<HTMLCanvasElement>('canvas.drawing');
          const begun = performance.now();
          let last = '';
          let changes = -1;
          const look = (now: number): void => {
            const picture = canvas?.toDataURL() ?? '';
            if (picture !== last) changes += 1;
            last = picture;
            if (now - begun < span) requestAnimationFrame(look);
            else done(changes);
          };
          requestAnimationFrame(look);
        }),
      ms,
    );

  test('the board shows stills while the run goes on in true time; a press shows motion', async ({ open, page }) => {
    await open('page');
    await settled(page);
    await expect(page.locator('.stills')).toContainText('A still each 0.5 s');
    await page.keyboard.press('k');
    const stills = await watched(page, 3000);
    expect(stills).toBeGreaterThanOrEqual(4);
    expect(stills).toBeLessThanOrEqual(8);
    // The same run, as long as it always is.
    await expect(outcome(page)).not.toHaveText(/in motion/, { timeout: 20_000 });
    const settling = page.locator('[data-measure="settling_time"] .value');
    const inStills = await settling.textContent();
    await page.getByRole('button', { name: 'show motion' }).click();
    await page.getByRole('button', { name: 'run again from rest' }).click();
    await page.keyboard.press('k');
    expect(await watched(page, 1500)).toBeGreaterThan(15);
    await expect(outcome(page)).not.toHaveText(/in motion/, { timeout: 20_000 });
    // What rested a moment longer before its kick swings on by a tick more or less.
    expect(await shown(settling)).toBeCloseTo(Number.parseFloat(inStills ?? ''), 1);
    await page.getByRole('button', { name: 'show stills' }).click();
    await expect(page.locator('.stills')).toContainText('A still each 0.5 s');
  });

  test('what a hand does is shown at once', async ({ open, page }) => {
    await open('page');
    await settled(page);
    await page.keyboard.press('k');
    await page.waitForTimeout(700);
    // Right after a still, so that the next one is half a second off.
    const took = await page.evaluate(
      () =>
        new Promise<number>((done) => {
          const canvas = document.querySelector<HTMLCanvasElement>('canvas.drawing');
          const grid = document.querySelectorAll<HTMLInputElement>('.layers input')[3];
          let last = canvas?.toDataURL();
          let pressed = 0;
          const look = (now: number): void => {
            const picture = canvas?.toDataURL();
            if (picture !== last && pressed === 0) {
              pressed = now;
              grid?.click();
            } else if (picture !== last) {
              done(now - pressed);
              return;
            }
            last = picture;
            requestAnimationFrame(look);
          };
          requestAnimationFrame(look);
        }),
    );
    expect(took).toBeLessThan(350);
  });
});
