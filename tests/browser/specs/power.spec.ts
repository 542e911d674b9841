// The place of power: verdict, band, watts, advice, programme, cells; for everyone.

import { readFileSync } from 'node:fs';
import path from 'node:path';
import { byNightAndDay, expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';
import type { Locator, Page } from '@playwright/test';

const HAYRICK = path.resolve(import.meta.dirname, '../../../crates/robot/demos/hayrick.json');

interface Wiring {
  area: number;
  holder: number;
  connectors: number;
  switch: number;
  battery: number;
}
/** A supply path that bears any fuse of the size [m², A]. */
const STRONG: Wiring = { area: 50e-6, holder: 120, connectors: 120, switch: 120, battery: 120 };

const place = (page: Page): Locator => page.locator('.power');
const verdict = (page: Page): Locator => page.locator('.fusepart .outcome');
const row = (page: Page, key: string): Locator => page.locator(`.power [data-row="${key}"] td`).first();
const advice = (page: Page): Locator => page.locator('.advicepart');
/** A number with its unit, as the page writes it. */
const number = (text: string): number => Number.parseFloat(text.replace('−', '-'));

async function openPower(page: Page, robot = 'hayrick'): Promise<void> {
  await ready(page);
  if (robot !== 'cobnut') await page.getByRole('combobox', { name: 'robot' }).selectOption(robot);
  await page.getByRole('button', { name: 'Power', exact: true }).click();
  await expect(verdict(page)).toHaveText(/Main fuse: /, { timeout: 30_000 });
}

/**
 * Hayrick's hardest reverse: as tuned its duty's slew keeps every reverse below the band, so the slew is opened and
 * the loop made later, as in crates/rig/tests/supply.rs.
 */
async function hardestReverse(page: Page, wiring: Partial<Wiring> = {}): Promise<void> {
  await ready(page);
  const robot = JSON.parse(readFileSync(HAYRICK, 'utf8')) as {
    travel: { slew: number };
    timing: { delay_ticks: number };
    wiring: Wiring;
  };
  robot.travel.slew = 10;
  robot.timing.delay_ticks += 4;
  Object.assign(robot.wiring, wiring);
  await page.locator('input[type=file]').first().setInputFiles({
    name: 'hard.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(robot)),
  });
  const press = page.getByRole('button', { name: 'Power', exact: true });
  if ((await press.getAttribute('aria-expanded')) === 'false') await press.click();
  await expect(verdict(page)).toHaveText(/Main fuse: /, { timeout: 30_000 });
  const ramp = page.locator('.power [data-number="ramp"]');
  await ramp.fill('2');
  await ramp.press('Tab');
  await settled(page);
}

/** Until nothing runs any more. */
async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(600);
  await expect(page.locator('.power .running')).toBeHidden({ timeout: 30_000 });
}

test('Hayrick’s hardest reverse: the fuse may open or opens, with time and watts', async ({ open }) => {
  const page = await open('page');
  await hardestReverse(page);
  await expect(verdict(page)).toHaveText(/Main fuse: (may open, from [\d.]+ s on|opens, between [\d.]+ s and [\d.]+ s)\./);
  await expect(row(page, 'fuse_rms')).toHaveText(/^(bears it|may open|opens).* as [\d.]+ A steady for as long/);
  // 35 A at 24 V (common practice, no published source).
  await expect(row(page, 'fuse_power')).toHaveText('840 W');
  expect(number((await row(page, 'fuse_peak').textContent()) ?? '')).toBeGreaterThan(35);
  expect(number((await row(page, 'fuse_peak_power').textContent()) ?? '')).toBeGreaterThan(700);
  const band = page.getByRole('img', { name: /Time-current band of the 35/ });
  await expect(band).toHaveAccessibleName(/This run: [\d.]+ A, [\d.]+ s\..* Verdict: (may open|opens)/);
  await expect(band.locator('.cross')).toHaveCount(1);
  await expect(page.locator('#news')).toHaveText(/Main fuse/);
});

test('advice lowers the demand first; a larger fuse is named only with what bears it', async ({ open }) => {
  test.slow();
  const page = await open('page');
  const larger = advice(page).locator('.larger');
  const first = advice(page).locator('ol.advice > li');
  await hardestReverse(page);
  await expect(first).toHaveCount(4);
  await expect(first.first()).toContainText("lower the drivers' current limit");
  await expect(first.locator('button[aria-label*="fuse"]')).toHaveCount(0);
  // As it is, its parts do not bear the next rating.
  await expect(larger).toContainText(/no larger fuse: [a-z]+ rated [\d.]+ A, less than the [\d.]+ A it would let through/);
  await expect(larger.locator('button')).toHaveCount(0);
  // One weak or unknown part is enough for a refusal that names it.
  for (const [weak, told] of [
    [{ ...STRONG, area: 3.31e-6 }, /no larger fuse: wire rated/],
    [{ ...STRONG, holder: 36 }, /no larger fuse: holder rated 36 A/],
    [{ ...STRONG, switch: 0 }, /no larger fuse: what switch can bear is not known/],
  ] as const) {
    await hardestReverse(page, weak);
    await expect(larger).toContainText(told);
    await expect(larger.locator('button')).toHaveCount(0);
  }
  // All strong: named in one line with what each bears, none below it.
  await hardestReverse(page, STRONG);
  const text = (await larger.textContent()) ?? '';
  const rating = number(/a (\d+) A fuse, which/.exec(text)?.[1] ?? '');
  expect(rating).toBeGreaterThan(35);
  for (const part of ['wire', 'holder', 'connectors', 'switch', 'battery']) {
    const bears = new RegExp(`${part} \\(([\\d.]+) A\\)`).exec(text)?.[1];
    expect(number(bears ?? '0'), part).toBeGreaterThanOrEqual(rating);
  }
  await expect(larger.locator('button')).toHaveAccessibleName(new RegExp(`fuse rating 35\\.0 A → ${rating}`));
  await expect(first).toHaveCount(4);
});

test('a piece of advice is a press: a revision, a stale report, a new run that bears it', async ({ open }) => {
  const page = await open('page');
  await hardestReverse(page);
  const first = advice(page).locator('ol.advice > li').first();
  await expect(first.locator('.tried')).toHaveText(/current limit, travel 70\.0 A → [\d.]+ A: bears it/);
  await first.locator('button').focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('.power .stale')).toBeVisible();
  await expect(verdict(page)).toHaveText(/Main fuse: bears it/, { timeout: 30_000 });
  await expect(page.locator('.power .stale')).toBeHidden();
  await expect(page.locator('.revisions .line .name').first()).toHaveText(/^advice on the fuse: .*current limit, travel 70\.0 → [\d.]+ A$/);
  // The focus is not lost with the press.
  await expect(verdict(page)).toBeFocused();
  await page.keyboard.press('Control+z');
  await expect(verdict(page)).toHaveText(/(may open|opens)/, { timeout: 30_000 });
});

test('the moment’s watts add up wherever the slider stands', async ({ open }) => {
  const page = await open('page');
  await openPower(page);
  await settled(page);
  const slider = page.getByRole('slider', { name: 'moment of the run' });
  const read = async (): Promise<number[]> => (await page.locator('.power td[data-then]').allTextContents()).map(number);
  const at = async (): Promise<number[]> => {
    const all = await read();
    const [source = 0] = all;
    const [sum = 0, left = 0] = all.slice(-2);
    const parts = all.slice(1, -2);
    expect(parts).toHaveLength(10);
    // Each is written with one digit.
    expect(Math.abs(parts.reduce((a, b) => a + b, 0) - sum)).toBeLessThan(0.6);
    expect(Math.abs(source - sum - left)).toBeLessThan(0.2);
    expect(Math.abs(left)).toBeLessThan(0.1);
    return all;
  };
  const peak = await at();
  expect(peak[0]).toBeGreaterThan(100);
  await slider.focus();
  await page.keyboard.press('Home');
  const start = await at();
  expect(start).not.toEqual(peak);
  for (let i = 0; i < 40; i++) await page.keyboard.press('ArrowRight');
  const later = await at();
  expect(later).not.toEqual(start);
  await expect(slider).toHaveAttribute('aria-valuetext', /^[\d.]+ seconds, −?[\d.]+ W from the cells$/);
  const flow = page.locator('.power svg.flow');
  await expect(flow).toHaveAccessibleName(/Flow of power, [\d.]+ s/);
  await page.getByLabel('the whole run, means').check();
  await expect(flow).toHaveAccessibleName(/the whole run/);
  // Means add up too.
  const means = (await page.locator('.power td[data-mean]').allTextContents()).map(number);
  const [mean = 0, ...parts] = means;
  expect(Math.abs(parts.reduce((a, b) => a + b, 0) - mean)).toBeLessThan(0.05 * Math.max(1, Math.abs(mean)));
});

test('a programme: its run time, and its errors by line', async ({ open }) => {
  const page = await open('page');
  await openPower(page);
  const box = page.getByLabel(/^programme/);
  await box.fill('20 s this trial\n60 s idle\n30 s 40 W');
  await settled(page);
  const long = number((await row(page, 'programme_time').textContent()) ?? '');
  expect(long).toBeGreaterThan(0);
  await box.fill('20 s this trial\nsoon idle\n30 s 40 W\n5 weeks idle');
  const wrong = page.locator('#power-programme-wrong li');
  await expect(wrong).toHaveCount(2);
  await expect(wrong.nth(0)).toHaveText(/^line 2: “soon idle” – expected a time and what is taken/);
  await expect(wrong.nth(1)).toHaveText(/^line 4: “5 weeks idle”.*s, min or h/);
  await expect(box).toHaveAttribute('aria-invalid', 'true');
  // Nothing but idle ends with an empty battery, hours later.
  await box.fill('1 h idle');
  await expect(wrong).toHaveCount(0);
  await settled(page);
  await expect(row(page, 'programme_time')).toHaveText(/^[\d.]+ h, then the charge is used/);
});

test('other cells by a press; axle and rim side by side; cautions stand by', async ({ open }) => {
  const page = await open('page');
  await openPower(page);
  await settled(page);
  const cells = page.locator('.cellspart tbody tr');
  await expect(cells).toHaveCount(4);
  await cells.filter({ hasText: 'lead-glass-mat' }).getByRole('button').click();
  await expect(cells.filter({ hasText: 'lead-glass-mat' })).toContainText('in the robot', { timeout: 30_000 });
  await expect(page.locator('.revisions .line .name').first()).toHaveText(/^cells: lead-glass-mat, 12 in series/);
  await expect(place(page)).toContainText(/Charge with air around it/);
  await expect(place(page)).toContainText(/fuse as close to the battery as can be/);
  const axle = page.locator('.axlepart');
  await expect(axle).toContainText('rim drive (this robot’s)');
  // Rim radius over roller radius is 5: a fifth (common practice, no published source).
  await expect(axle).toContainText('20.0 % of the torque');
  await axle.getByLabel('swing held').fill('30°');
  await axle.getByLabel('swing held').press('Tab');
  await expect(axle).toContainText('Holding 30.0°', { timeout: 30_000 });
});

test('the board’s last run, and a kick that the fuse bears', async ({ open }) => {
  const page = await open('page');
  await openPower(page, 'cobnut');
  await page.keyboard.press('k');
  await page.waitForTimeout(1500);
  await page.getByLabel('what is looked at').selectOption('live');
  await expect(page.locator('.fusepart')).toContainText('the board’s last run', { timeout: 30_000 });
  await expect(verdict(page)).toHaveText(/Main fuse: bears it/);
  await expect(advice(page)).toContainText('nothing is to be done');
});

test('inches are said and taken', async ({ open }) => {
  const page = await open('page');
  await openPower(page);
  await page.getByRole('combobox', { name: 'units' }).selectOption('inch');
  await expect(row(page, 'wire')).toHaveText(/AWG, 31\.5 in one way/, { timeout: 30_000 });
  await expect(page.locator('.axlepart')).toContainText(/ at [\d.]+ ft\/s/);
});

for (const viewport of [
  { width: 1440, height: 900 },
  { width: 390, height: 844 },
]) {
  test.describe(`${viewport.width}`, () => {
    test.use({ viewport, hasTouch: viewport.width < 500 });
    test('axe finds nothing; nothing is wider than the window', async ({ open }) => {
      const page = await open('page');
      await hardestReverse(page);
      await byNightAndDay(page, async () => {
        await expectAccessible(page);
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
        const outside = await page.evaluate(() =>
          [...document.querySelectorAll<SVGTextElement>('.power svg text')]
            .filter((text) => {
              const [box, of] = [text.getBoundingClientRect(), text.ownerSVGElement?.getBoundingClientRect()];
              return of !== undefined && (box.left < of.left - 1 || box.right > of.right + 1);
            })
            .map((text) => text.textContent),
        );
        expect(outside, 'words cut off').toEqual([]);
      });
    });
  });
}

test.describe('forced colours', () => {
  test.use({ forcedColors: 'active' });
  test('the band’s lines and hatch stay', async ({ open }) => {
    const page = await open('page');
    await openPower(page);
    await expectAccessible(page);
    const stroke = await page.locator('.power .band .slow').evaluate((line) => getComputedStyle(line).stroke);
    const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(stroke).not.toBe(paper);
  });
});
