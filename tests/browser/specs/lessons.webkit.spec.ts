// Every lesson played through in WebKit by its own checks; two also from the double-clicked file.

import { fasterClock, HANDS, type Act } from '../support/lessons.ts';
import { expect, test } from '../support/fixtures.ts';
import type { WebKitPage } from '../support/webkit.ts';

async function act(page: WebKitPage, deed: Act): Promise<void> {
  switch (deed[0]) {
    case 'knob':
      await page.fill(`.step [data-key="${deed[1]}"] .number`, deed[2]);
      await page.press('Enter');
      expect(await page.text('.step .wrong'), deed.join(' ')).toBe('');
      return;
    case 'choose':
      await page.choose(`.step [data-key="${deed[1]}"] select`, deed[2]);
      return;
    case 'press':
      await page.click(`.step [data-press="${deed[1]}"]`);
      return;
    case 'run':
      await page.click('.step [data-press="run"]');
  }
}

/** Only while something is waited for: painting is dear here, and would keep every command waiting. */
const haste = (page: WebKitPage, on: boolean): Promise<void> =>
  page.evaluate((wanted) => {
    // The longest step that the page takes as it is.
    Object.assign((globalThis as unknown as { fast: object }).fast, { on: wanted, step: 100 });
  }, on);

/** As the player in Chromium, by this driver's means. */
async function play(page: WebKitPage, key: string): Promise<void> {
  const hands = HANDS[key] ?? [];
  let next = 0;
  for (let i = 0; i < 60; i++) {
    const now = await page.evaluate(() => ({
      ended: document.querySelector('.lessonend') !== null,
      at: document.querySelector('.lessonhead .note')?.textContent ?? '',
      kind: document.querySelector<HTMLElement>('.step')?.dataset['kind'] ?? '',
      text: document.querySelector('.step')?.textContent.trim() ?? '',
    }));
    if (now.ended) {
      expect(next, 'all that was to be done was asked for').toBe(hands.length);
      return;
    }
    if (now.kind === 'predict') {
      if ((await page.count('.step input[type=text]')) > 0) await page.fill('.step input[type=text]', '1.5');
      else await page.click('.step label:last-child input');
      await page.click('.step .predict [type=submit]');
    } else if (now.kind === 'do') {
      const deeds = hands[next];
      if (deeds === undefined) throw new Error(`${key}, ${now.at}: nobody has said what to do: ${now.text}`);
      next += 1;
      for (const deed of deeds) await act(page, deed);
      await haste(page, true);
    } else {
      expect(now.text, 'nothing that is filled in may be missing').not.toMatch(/NaN|\{|undefined/);
      await page.click('.step .go');
    }
    await expect
      .poll(() => page.evaluate((at) => document.querySelector('.lessonend') !== null || document.querySelector('.lessonhead .note')?.textContent !== at, now.at), {
        message: `${key}, ${now.at}: ${now.text}`,
        timeout: 30_000,
        intervals: [100],
      })
      .toBe(true);
    if (now.kind === 'do') await haste(page, false);
  }
  throw new Error(`${key} does not end`);
}

async function playAll(page: WebKitPage, keys: readonly string[]): Promise<void> {
  await page.evaluate(fasterClock);
  await haste(page, false);
  for (const key of keys) {
    await test.step(key, async () => {
      await page.evaluate((hash) => {
        location.hash = hash;
      }, `#lesson=${key}`);
      await expect.poll(() => page.evaluate(() => document.querySelector<HTMLElement>('.lesson')?.dataset['lesson'] ?? '')).toBe(key);
      await play(page, key);
    });
  }
}

// Two minutes were not enough beside much other work.
test.describe.configure({ timeout: 300_000 });

test('page: every lesson is played through', async ({ openWebKit }) => {
  await playAll(await openWebKit('page'), Object.keys(HANDS));
});

test('file: two lessons are played through', async ({ openWebKit }) => {
  await playAll(await openWebKit('file'), ['stands', 'watts']);
});
