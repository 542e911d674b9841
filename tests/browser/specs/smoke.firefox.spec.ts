import { digestsInPage } from '../support/digests.ts';
import { expect, test } from '../support/fixtures.ts';
import { committedDigests, shippedCore } from '../support/site.mjs';

for (const where of ['page', 'file'] as const) {
  test(`${where}: the first robot is drawn, quietly`, async ({ openFirefox }) => {
    const page = await openFirefox(where);
    expect(await page.title()).toMatch(/Kickstill/);
    await expect
      .poll(() => page.evaluate(() => performance.getEntriesByName('robot').length))
      .toBeGreaterThan(0);
  });
}

test('the shipped core gives the committed digests', async ({ openFirefox }) => {
  const page = await openFirefox('core');
  expect(await page.evaluate(digestsInPage, shippedCore())).toEqual(committedDigests());
});
