// The one file is packed: what is seen when it cannot be unpacked, and when nothing can run.

import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { expect, expectAccessible, test } from '../support/fixtures.ts';

/** A copy of the file that differs in one character, so far through what is packed. */
function damaged(site: { file: string }, share: number, copy: string): string {
  const html = readFileSync(fileURLToPath(site.file), 'utf8');
  const start = html.indexOf('id="packed">');
  expect(start, 'the file has packed content').toBeGreaterThan(0);
  const at = Math.floor(start + share * (html.indexOf('</script>', start) - start));
  writeFileSync(copy, html.slice(0, at) + (html[at] === 'A' ? 'B' : 'A') + html.slice(at + 1));
  return pathToFileURL(copy).href;
}

for (const share of [0.2, 0.6, 0.999]) {
  test(`a file damaged after ${share} of it says so in both languages`, async ({ page, site, watch }, info) => {
    const file = damaged(site, share, info.outputPath('damaged.html'));
    watch.allow(file);
    await page.goto(file);
    await expect(page.getByRole('alert')).toContainText('this file is damaged');
    await expect(page.locator('[role="alert"] [lang="de"]')).toContainText('Diese Datei ist beschädigt');
    await expect(page.getByRole('status')).toHaveCount(0);
    await expectAccessible(page);
    // Either it could not be unpacked, or the browser refused what came out.
    watch.expected(/^console error: /);
  });
}

test('without JavaScript the file says what it needs', async ({ browser, site }) => {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(site.file);
  // The driver's own look-up of texts passes over <noscript>; what is laid out is asked instead.
  const said = await page.locator('noscript').boundingBox();
  expect(said?.height).toBeGreaterThan(20);
  await context.close();
});
