// How the stall looks: targets, contrast, axe in both languages, forced colours.

import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { chosen, half, middle, openStallPlace, press, says, stands } from '../support/stall.ts';

const SIZES = [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
  // A tablet lying, and 1440 × 900 with everything at 200 %.
  { width: 1024, height: 600 },
  { width: 720, height: 450 },
] as const;

for (const viewport of SIZES) {
  for (const two of [false, true]) {
    test.describe(`${viewport.width} × ${viewport.height}, ${two ? 'two robots' : 'one robot'}`, () => {
      test.use({ viewport, hasTouch: true });

      test('targets of 64 px at least, all in sight, no word cut off', async ({ open, page }) => {
        for (const language of ['en', 'de']) {
          await page.addInitScript(() => localStorage.clear());
          await chosen(page, { two, presses: ['kick', 'software', 'drive', 'home'] }, language);
          await open('page', '#stall');
          if (language === 'de') await page.reload();
          await stands(page);
          const measure = (): Promise<string[]> =>
            page.evaluate(() => {
              const wrong: string[] = [];
              for (const element of document.querySelectorAll<HTMLElement>('.stalllayer button')) {
                if (!element.checkVisibility()) continue;
                const box = element.getBoundingClientRect();
                const name = `${element.className} ${element.textContent} ${box.width.toFixed(0)}×${box.height.toFixed(0)}`;
                if (box.width < 64 || box.height < 64) wrong.push(`small: ${name}`);
                if (box.left < 0 || box.top < 0 || box.right > innerWidth || box.bottom > innerHeight) wrong.push(`out of sight: ${name}`);
                if (element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1) wrong.push(`cut off: ${name}`);
              }
              for (const view of document.querySelectorAll('.stalllayer .view')) {
                const { width, height } = view.getBoundingClientRect();
                if (height < 120 || width < 150) wrong.push(`drawing ${width}×${height}`);
              }
              for (const shown of document.querySelectorAll('.stalllayer .says, .stalllayer .what')) {
                const caption = shown.getBoundingClientRect();
                const size = Number.parseFloat(getComputedStyle(shown).fontSize);
                if (size < (shown.classList.contains('says') ? 20 : 15)) wrong.push(`letters of ${size} px`);
                if (caption.right > innerWidth) wrong.push('caption out of sight');
              }
              return wrong;
            });
          expect(await measure()).toEqual([]);
          await press(page, 'kick').tap();
          await press(page, 'software').tap();
          await expect(says(page)).not.toHaveText('');
          expect(await measure()).toEqual([]);
          await press(page, 'home').tap();
          await expect(half(page).locator('.stallhome svg')).toBeVisible();
          expect(await measure()).toEqual([]);
          const code = await half(page).locator('.stallhome .code svg').boundingBox();
          expect(Math.min(code?.width ?? 0, code?.height ?? 0)).toBeGreaterThan(viewport.height < 700 || two ? 110 : 200);
        }
      });
    });
  }
}

for (const contrast of ['page', 'sunlight', 'dark'] as const) {
  for (const language of ['en', 'de'] as const) {
    test.describe(`${contrast}, ${language}`, () => {
      test('axe finds nothing; captions and presses have 7 : 1 at least', async ({ open, page }) => {
        await chosen(page, { contrast, two: true }, language);
        await open('page', '#stall');
        await stands(page);
        await byNightAndDay(page, () => expectAccessible(page));
        await press(page, 'software').click();
        await press(page, 'home', 1).click();
        await expect(half(page, 1).locator('.stallhome svg')).toBeVisible();
        await byNightAndDay(page, async () => {
          await expectAccessible(page);
          const ratios = await page.evaluate(() => {
            const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
            if (canvas === null) throw new Error('no canvas');
            const light = (colour: string): number => {
              canvas.clearRect(0, 0, 1, 1);
              canvas.fillStyle = colour;
              canvas.fillRect(0, 0, 1, 1);
              const [r = 0, g = 0, b = 0] = [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3).map((byte) => {
                const share = byte / 255;
                return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
              });
              return 0.2126 * r + 0.7152 * g + 0.0722 * b;
            };
            const ground = (element: Element | null): string => {
              for (let at = element; at !== null; at = at.parentElement) {
                const colour = getComputedStyle(at).backgroundColor;
                if (!/rgba\(.*, 0\)|transparent/.test(colour)) return colour;
              }
              return 'white';
            };
            return [...document.querySelectorAll('.stalllayer .says, .stalllayer .what, .stalllayer .count, .stalllayer .letter, .stallhome p, .stallhome h2, .stallhome .back')].map((element) => {
              const [a, b] = [light(getComputedStyle(element).color), light(ground(element))];
              return { name: element.className || element.tagName, ratio: (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) };
            });
          });
          expect(ratios.length).toBeGreaterThan(8);
          for (const { name, ratio } of ratios) expect(ratio, name).toBeGreaterThanOrEqual(7);
        });
        const ring = await middle(page.locator('.corner'));
        await page.mouse.move(ring.x, ring.y);
        await page.mouse.down();
        await expect(page.locator('.leave')).toBeVisible();
        await page.mouse.up();
        await expectAccessible(page);
      });

      if (contrast === 'page') {
        test('the place: axe finds nothing', async ({ open, page }) => {
          await chosen(page, {}, language);
          await open('page');
          await openStallPlace(page);
          await byNightAndDay(page, () => expectAccessible(page));
        });
      }
    });
  }
}

test.describe('forced colours', () => {
  test.use({ forcedColors: 'active' });
  test('axe finds nothing, place and stall', async ({ open, page }) => {
    await chosen(page, { contrast: 'sunlight' });
    await open('page');
    await openStallPlace(page);
    await expectAccessible(page);
    await page.locator('.openstall').click();
    await press(page, 'software').click();
    await expectAccessible(page);
  });
});
