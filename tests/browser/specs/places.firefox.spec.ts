// Trials, kept runs and links in Firefox: worker, storage and packed addresses are the browser's own.

import { readFileSync } from 'node:fs';
import { expect, test } from '../support/fixtures.ts';
import { firefoxReady as ready, type FirefoxPage } from '../support/firefox.ts';

const digests = JSON.parse(readFileSync(new URL('../../digests/digests.json', import.meta.url), 'utf8')) as {
  name: string;
  digest: string;
}[];

const text = (page: FirefoxPage, selector: string): Promise<string> =>
  page.evaluate((one) => document.querySelector(one)?.textContent ?? '', selector);
const count = (page: FirefoxPage, selector: string): Promise<number> =>
  page.evaluate((one) => document.querySelectorAll(one).length, selector);

/** Presses a button by what it says, or is called, as soon as it is there. */
async function press(page: FirefoxPage, name: string): Promise<void> {
  const place = (): Promise<{ x: number; y: number } | undefined> =>
    page.evaluate((called) => {
      const buttons = [...document.querySelectorAll('button')];
      const button = buttons.find((one) => one.checkVisibility() && (one.ariaLabel ?? one.textContent.trim()) === called);
      button?.scrollIntoView({ block: 'center', behavior: 'instant' });
      const rect = button?.getBoundingClientRect();
      return rect === undefined || button?.disabled === true
        ? undefined
        : { x: rect.x + rect.width / 2, y: rect.y + rect.height / 2 };
    }, name);
  await expect.poll(place, `button ${name}`).toBeDefined();
  const at = await place();
  if (at === undefined) throw new Error(`the button ${name} went away`);
  await page.mouse.click(at.x, at.y);
}

async function openKept(page: FirefoxPage): Promise<void> {
  await press(page, 'Kept runs');
  await expect.poll(() => count(page, '.kept .linkbox')).toBe(1);
}

const KEPT = '.keptruns > div > .tablebox tbody tr';

for (const where of ['page', 'file'] as const) {
  test(`${where}: a trial in the worker has the committed digest`, async ({ openFirefox }) => {
    const page = await openFirefox(where);
    await ready(page);
    await press(page, 'Trials');
    await press(page, 'run it at once');
    const committed = digests.find(({ name }) => name === 'cobnut kick side steadied')?.digest ?? 'none';
    await expect.poll(() => text(page, '.trialresult .digest'), { timeout: 20_000 }).toContain(committed);
    expect(await text(page, '.trialresult .outcome')).toContain('settled in');
  });
}

test('a run is kept over a reload and replayed with equal digest', async ({ openFirefox }) => {
  test.slow();
  const page = await openFirefox('page', '#k1=cobnut;l=2;d=off');
  await ready(page);
  await openKept(page);
  await page.keyboard.press('k');
  await expect.poll(() => text(page, '.outcome'), { timeout: 20_000 }).toContain('settled');
  await press(page, 'keep the present run');
  await expect.poll(() => count(page, KEPT), { timeout: 15_000 }).toBe(1);
  await expect.poll(() => text(page, KEPT)).not.toContain('in memory only');
  await page.reload({ waitUntil: 'load' });
  await ready(page);
  await openKept(page);
  await expect.poll(() => count(page, KEPT)).toBe(1);
  await page.locator(`${KEPT} button`).click();
  await expect.poll(() => count(page, '.keptstrips .strip')).toBe(4);
  await press(page, 'replay it');
  await expect
    .poll(() => text(page, '.detail .note'), { timeout: 20_000 })
    .toBe('Replayed: the digest is equal, bit for bit.');
});

test('a packed link and its double are read, and the link written is the one that was read', async ({ openFirefox }) => {
  const page = await openFirefox('page', '#k1=thimble,head.mass=0.3;v=front;l=2;d=hayrick');
  await ready(page);
  await expect.poll(() => text(page, '.notice')).toContain('from the link');
  await expect.poll(() => text(page, '#see')).toContain('Thimble');
  await expect.poll(() => text(page, '#double .label')).toBe('from the link');
  await openKept(page);
  const link = (): Promise<string> => page.evaluate(() => document.querySelector<HTMLTextAreaElement>('.linktext')?.value ?? '');
  await expect.poll(link).toMatch(/#k1=thimble,head\.mass=0\.3;v=front;l=2;.*d=hayrick$/);
  await expect.poll(() => count(page, '.linkbox svg')).toBe(1);

  const old = JSON.parse(readFileSync(new URL('../links/k1.json', import.meta.url), 'utf8')) as {
    link: string;
    values: { name?: string };
  }[];
  const whole = old.find(({ link: one }) => one.startsWith('#k1=~'));
  if (whole === undefined) throw new Error('no packed link is committed');
  await page.evaluate((hash) => {
    location.hash = hash;
  }, whole.link);
  await expect.poll(() => text(page, '#see')).toContain(whole.values.name ?? 'none');
});
