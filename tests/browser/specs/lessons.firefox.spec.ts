// A lesson played through in Firefox, from the folder and from the double-clicked file.

import { fasterClock, HANDS } from '../support/lessons.ts';
import { expect, test } from '../support/fixtures.ts';
import type { FirefoxPage } from '../support/firefox.ts';

test.describe.configure({ timeout: 120_000 });

const text = (page: FirefoxPage, selector: string): Promise<string> =>
  page.evaluate((one) => document.querySelector(one)?.textContent ?? '', selector);
const press = (page: FirefoxPage, selector: string): Promise<void> => page.locator(selector).click();

/** As the player in Chromium, by this library's means. */
async function play(page: FirefoxPage, key: string): Promise<string> {
  const said: string[] = [];
  let next = 0;
  for (let i = 0; i < 60; i++) {
    if ((await text(page, '.lessonend')) !== '') return said.join('\n');
    const at = await text(page, '.lessonhead .note');
    const kind = await page.evaluate(() => document.querySelector<HTMLElement>('.step')?.dataset['kind'] ?? '');
    said.push(await text(page, '.step'));
    if (kind === 'predict') {
      if ((await page.$('.step input[type=text]')) === null) await press(page, '.step label:last-child input');
      else await page.locator('.step input[type=text]').fill('1.5');
      await press(page, '.step button[type=submit]');
    } else if (kind === 'do') {
      for (const deed of HANDS[key]?.[next] ?? []) {
        if (deed[0] === 'knob') {
          await page.locator(`.step [data-key="${deed[1]}"] .number`).fill(deed[2]);
          await page.keyboard.press('Enter');
        } else if (deed[0] === 'press') {
          await press(page, `.step [data-press="${deed[1]}"]`);
        } else if (deed[0] === 'run') {
          await press(page, '.step [data-press="run"]');
        }
      }
      next += 1;
    } else {
      await press(page, '.step .go');
    }
    await expect
      .poll(async () => (await text(page, '.lessonend')) !== '' || (await text(page, '.lessonhead .note')) !== at, { message: `${key}, ${at}`, timeout: 30_000 })
      .toBe(true);
  }
  throw new Error(`${key} does not end`);
}

for (const where of ['page', 'file'] as const) {
  test(`${where}: two lessons are played through`, async ({ openFirefox }) => {
    const page = await openFirefox(where);
    await page.evaluateOnNewDocument(fasterClock);
    // Late parts of the page load when it is idle; a reload would cut them short.
    await page.waitForNetworkIdle({ idleTime: 3000 });
    await page.reload({ waitUntil: 'load' });
    for (const [key, shown] of [
      ['stands', /it is 4\.56 kg/],
      ['watts', /6\.0\d W while it stands/],
    ] as const) {
      await page.evaluate((hash) => {
        location.hash = hash;
      }, `#lesson=${key}`);
      await expect.poll(() => page.evaluate(() => document.querySelector<HTMLElement>('.lesson')?.dataset['lesson'] ?? '')).toBe(key);
      expect(await play(page, key)).toMatch(shown);
    }
  });
}
