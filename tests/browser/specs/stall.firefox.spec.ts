// The stall in Firefox, from the folder and from the double-clicked file: it opens by its link,
// speaks, is played by press and key, is not left by a step back, and is left by the word.

import { expect, test } from '../support/fixtures.ts';

test.describe.configure({ timeout: 120_000 });

for (const where of ['page', 'file'] as const) {
  test(`the stall, ${where}`, async ({ openFirefox }) => {
    // Whatever robot another test left in this browser: the stall takes the page's own.
    const page = await openFirefox(where, '#k1=cobnut;l=0');
    await page.waitForSelector('main[data-ready]');
    await page.evaluate(() => {
      location.hash = '#stall';
    });
    const text = (selector: string): Promise<string> => page.evaluate((one) => document.querySelector(one)?.textContent ?? '', selector);
    await page.waitForSelector('.half canvas');
    await expect.poll(() => text('.says'), { timeout: 20_000 }).toMatch(/\S/);
    await page.locator('[data-press="software"]').click();
    await page.keyboard.press('1');
    await expect.poll(() => text('.says'), { timeout: 20_000 }).toMatch(/^Steady after \d/);
    await page.evaluate(() => {
      history.back();
    });
    await expect.poll(() => page.evaluate(() => location.hash)).toBe('#stall');
    expect(await page.evaluate(() => document.querySelector('.stalllayer') !== null)).toBe(true);
    await page.locator('[data-press="home"]').click();
    await expect.poll(() => text('.taken')).toContain(where === 'page' ? 'Hold your phone’s camera' : 'Cobnut');
    // What this browser has: a table of what it can do, with what to do where it cannot.
    await page.keyboard.type('leave');
    await expect.poll(() => page.evaluate(() => document.querySelector('.stalllayer') === null)).toBe(true);
    const rows = await page.evaluate(() => [...document.querySelectorAll<HTMLTableRowElement>('.browsercan tr')].map((row) => [row.dataset['row'], row.dataset['able'], row.cells[2]?.textContent ?? '']));
    expect(rows).toHaveLength(8);
    for (const [row, able, told] of rows) expect(told !== '', `${row} ${able}`).toBe(able === 'false');
    expect(rows.find(([row]) => row === 'file')?.[1]).toBe(String(where === 'page'));
  });
}
