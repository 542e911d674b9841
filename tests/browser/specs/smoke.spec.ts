import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { digestsInPage } from '../support/digests.ts';
import { committedDigests, shippedCore } from '../support/site.mjs';

for (const where of ['page', 'file'] as const) {
  test(`${where}: the first robot is drawn, quietly`, async ({ open }) => {
    const page = await open(where);
    await expect(page).toHaveTitle(/Kickstill/);
    await expect
      .poll(() => page.evaluate(() => performance.getEntriesByName('robot').length))
      .toBeGreaterThan(0);
  });

  test(`${where}: axe finds nothing`, async ({ open }) => {
    const page = await open(where);
    await expect
      .poll(() => page.evaluate(() => performance.getEntriesByName('robot').length))
      .toBeGreaterThan(0);
    await expectAccessible(page);
  });

  test(`${where}: the policy refuses inline script, eval and foreign hosts`, async ({ open, watch }) => {
    const page = await open(where);
    const ran = await page.evaluate(async () => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.intruder = true';
      document.head.append(script);
      // Text run by a timer is eval by another name (eval itself is allowed to a test driver).
      setTimeout('globalThis.intruder = true');
      const image = new Image();
      const blocked = new Promise((resolve) => image.addEventListener('error', resolve));
      image.src = 'http://outside.invalid/pixel.png';
      await blocked;
      await new Promise((resolve) => setTimeout(resolve, 50));
      return 'intruder' in globalThis;
    });
    expect(ran).toBe(false);
    // Over http both the header and the page state the policy, so a breach may be told twice.
    for (const breach of [/policy breach: script-src.* inline/, /policy breach: script-src.* eval/, /policy breach: img-src/]) {
      await expect.poll(() => watch.seen.filter((entry) => breach.test(entry)).length).toBeGreaterThan(0);
    }
    watch.expected(/Content Security Policy|policy breach|outside\.invalid|unsafe-eval/);
  });
}

test('the shipped core gives the committed digests', async ({ open }) => {
  const page = await open('core');
  expect(await page.evaluate(digestsInPage, shippedCore())).toEqual(committedDigests());
});

test('a browser that names its language as no language is named is shown the page all the same', async ({ page, open }) => {
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'language', { configurable: true, get: () => 'C' });
  });
  await open('page');
  await expect.poll(() => page.evaluate(() => performance.getEntriesByName('robot').length)).toBeGreaterThan(0);
});
