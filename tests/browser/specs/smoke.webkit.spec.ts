// The page in WebKit, from the folder and from the double-clicked file. Its language is "C" here.

import { digestsInPage } from '../support/digests.ts';
import { expect, test } from '../support/fixtures.ts';
import { committedDigests, shippedCore } from '../support/site.mjs';
import { tell, type WebKitPage } from '../support/webkit.ts';

async function ready(page: WebKitPage): Promise<void> {
  await expect.poll(() => page.evaluate(() => performance.getEntriesByName('robot').length)).toBeGreaterThan(0);
}

const sentence = (page: WebKitPage): Promise<string> => page.text('.guide .sentence');

/** A drag from the ball to the right. */
async function kick(page: WebKitPage): Promise<void> {
  const ball = await page.evaluate(() => {
    const drawing = [...document.querySelectorAll('canvas.drawing')].find((one) => one.checkVisibility());
    const box = drawing?.getBoundingClientRect();
    return box === undefined ? undefined : { x: box.x + box.width / 2, y: box.y + 0.52 * box.height };
  });
  if (ball === undefined) throw new Error('no drawing');
  await page.drag(ball, { x: ball.x + 90, y: ball.y });
}

for (const where of ['page', 'file'] as const) {
  test(`${where}: the robot stands, is kicked, settles`, async ({ openWebKit }) => {
    const page = await openWebKit(where);
    await ready(page);
    expect(await page.title()).toMatch(/Kickstill/);
    await expect.poll(() => sentence(page)).toBe('Kick it: drag from the ball, or press K.');
    await expect.poll(() => page.text('#see')).toMatch(/stands/);
    await kick(page);
    await expect.poll(() => sentence(page)).toBe('Now switch the software on.');
    await expect.poll(async () => Number.parseFloat(await page.text('[data-measure="peak"] .value'))).toBeGreaterThan(3);
    await page.press('s');
    await expect.poll(() => sentence(page)).toBe('Kick it again.');
    await expect.poll(() => page.text('#see')).toMatch(/stands/);
    await kick(page);
    await expect.poll(() => page.text('.outcome'), { timeout: 15_000 }).toMatch(/^settled/);
  });
}

test('the core is loaded once, by the preload', async ({ openWebKit }) => {
  const page = await openWebKit('page');
  await ready(page);
  const loads = await page.evaluate(() =>
    performance.getEntriesByType('resource').filter(({ name }) => name.includes('kickstill_bg')).map((one) => (one as PerformanceResourceTiming).initiatorType),
  );
  expect(loads).toEqual(['link']);
});

test('the first minute by keyboard alone', async ({ openWebKit }) => {
  const page = await openWebKit('page');
  await ready(page);
  await page.press('k');
  await expect.poll(() => sentence(page)).toBe('Now switch the software on.');
  await page.press('s');
  await expect.poll(() => sentence(page)).toBe('Kick it again.');
  await expect.poll(() => page.text('#see')).toMatch(/stands/);
  await page.press('k');
  await expect.poll(() => sentence(page), { timeout: 15_000 }).toBe('Hold → to drive, let go.');
  await page.press('ArrowRight', 1200);
  await expect.poll(() => sentence(page)).toBe('Now make the head heavier.');

  const head = (): Promise<boolean> => page.evaluate(() => document.activeElement?.matches('[data-key="head.mass"] .track') === true);
  for (let i = 0; i < 60 && !(await head()); i++) await page.press('Tab');
  expect(await head(), 'the head’s knob can be reached by Tab').toBe(true);
  for (let i = 0; i < 6; i++) await page.press('ArrowRight');
  await expect.poll(() => sentence(page)).toMatch(/Kick it once more/);
  await page.press('k');
  await expect.poll(() => sentence(page)).toMatch(/All knobs/);
});

// This also shows that what is refused and not caught would be seen: the watch is empty otherwise.
for (const where of ['page', 'file'] as const) {
  test(`${where}: the policy refuses inline script and foreign hosts`, async ({ openWebKit, watch }) => {
    const page = await openWebKit(where);
    await ready(page);
    const ran = await page.evaluate(async () => {
      const script = document.createElement('script');
      script.textContent = 'globalThis.intruder = true';
      document.head.append(script);
      const image = new Image();
      const blocked = new Promise((resolve) => image.addEventListener('error', resolve));
      image.src = 'http://outside.invalid/pixel.png';
      document.body.append(image);
      await blocked;
      setTimeout(() => {
        throw new Error('on purpose');
      });
      await new Promise((resolve) => setTimeout(resolve, 100));
      return 'intruder' in globalThis;
    });
    expect(ran).toBe(false);
    await tell(page, watch);
    for (const seen of [/policy breach: script-src.* inline/, /policy breach: img-src/, /^failed: <img/, /^uncaught: /]) watch.expected(seen);
  });
}

test('the shipped core gives the committed digests', async ({ openWebKit }) => {
  const page = await openWebKit('core');
  expect(await page.evaluate(digestsInPage, shippedCore())).toEqual(committedDigests());
});
