// How lessons look: every kind of step at four sizes, by day and night; targets for fingers.

import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { fasterClock, item, lessons, play } from '../support/lessons.ts';
import { ready } from '../support/sheet.ts';

test.describe.configure({ timeout: 120_000 });

for (const viewport of [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
  // 1440 × 900 with everything at 200 %.
  { width: 720, height: 450 },
]) {
  test.describe(`${viewport.width}`, () => {
    test.use({ viewport, hasTouch: viewport.width < 700 });

    test('every kind of step: axe finds nothing, board and step are in sight together', async ({ open, page }) => {
      await page.addInitScript(fasterClock);
      await open('page');
      await ready(page);
      await lessons(page);
      const accessible = (): Promise<void> => byNightAndDay(page, () => expectAccessible(page));
      await accessible();
      await item(page, 'rocks').locator('.title').click();
      const kinds = new Set<string>();
      await play(page, 'rocks', async (kind) => {
        const look = await page.evaluate(() => {
          const box = (selector: string): DOMRect => (document.querySelector(selector) ?? document.body).getBoundingClientRect();
          const [board, heading] = [box('.board'), box('.step h3')];
          return {
            wide: document.documentElement.scrollWidth - innerWidth,
            // Whole, or as much as the window can show, and not over the step.
            board: board.top >= -1 && board.bottom <= innerHeight,
            step: heading.top >= board.bottom - 1 && heading.bottom <= innerHeight,
          };
        });
        expect({ board: look.board, step: look.step }, kind).toEqual({ board: true, step: true });
        expect(look.wide, kind).toBeLessThanOrEqual(0);
        if (viewport.width === 390) {
          const small = await page.evaluate(() =>
            [...document.querySelectorAll<HTMLElement>('.lessons button, .lessons input:not([type=radio]), .lessons label:has([type=radio]), .lessons a, .lessons select')]
              .filter((element) => element.checkVisibility())
              .map((element) => ({ element, rect: element.getBoundingClientRect() }))
              .filter(({ rect }) => rect.height < 43.5 || rect.width < 43.5)
              .map(({ element, rect }) => `${element.className || element.tagName} ${element.textContent} ${rect.width}×${rect.height}`),
          );
          expect(small).toEqual([]);
        }
        if (kinds.has(kind)) return;
        kinds.add(kind);
        await accessible();
      });
      expect([...kinds].sort()).toEqual(['do', 'predict', 'say', 'see']);
      await accessible();
    });
  });
}
