// What the board says and lets the hands do: ends of runs, units, the plumb-bob, steady layout.

import type { Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ball, finger, measure, number, outcome, ready, track } from '../support/sheet.ts';

/** Sets any knob by "all knobs", as typed. */
async function turn(page: Page, key: string, typed: string): Promise<void> {
  const find = page.getByRole('searchbox', { name: 'find a knob' });
  await find.fill(key);
  const field = page.locator(`.allknobs [data-key="${key}"] .number`);
  await field.fill(typed);
  await field.press('Enter');
  await expect(page.locator(`.allknobs [data-key="${key}"] .wrong`)).toHaveText('');
  await find.fill('');
}

const said = (page: Page): ReturnType<Page['locator']> => page.locator('.ended').getByRole('alert');

test('a brown-out is said in words, and the robot stands up again when asked or pushed', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await expect(page.locator('.ended')).toBeHidden();
  await page.getByRole('button', { name: 'all knobs' }).click();
  await turn(page, 'battery.resistance', '2 ohm');
  await page.getByRole('radio', { name: 'steadied' }).click();
  const forward = page.getByRole('button', { name: 'drive forward' });
  await forward.hover();
  await page.mouse.down();
  await expect(said(page)).toHaveText(/Brown-out/, { timeout: 15_000 });
  await page.mouse.up();
  await expect(outcome(page)).toHaveText(/^brown-out/);
  await expectAccessible(page);

  await page.locator('.ended').getByRole('button', { name: 'run again from rest' }).click();
  await expect(page.locator('.ended')).toBeHidden();
  await expect(page.locator('#see')).toContainText('at the start');
  await forward.hover();
  await page.mouse.down();
  await expect(said(page)).toHaveText(/Brown-out/, { timeout: 15_000 });
  await page.mouse.up();
  // Motors off a kick needs no battery: it stands the robot up and rocks it.
  await page.getByRole('radio', { name: 'motors off' }).click();
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(page.locator('.ended')).toBeHidden();
  await expect.poll(() => page.locator('#see').textContent()).toMatch(/has swung [2-9]/);
});

test('a head that comes off is said, drawn on the floor, and put back on', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'all knobs' }).click();
  await turn(page, 'hold.force', '0.5 N');
  await turn(page, 'hold.shear', '0.05');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(said(page)).toHaveText(/head has come off/);
  await expect(page.locator('#see')).toContainText('the head has come off');
  await expect(outcome(page)).toHaveText(/^head lost/, { timeout: 20_000 });
  await page.getByRole('button', { name: 'knobs as they were' }).click();
  await page.locator('.ended').getByRole('button').click();
  await expect(page.locator('.ended')).toBeHidden();
  await expect(page.locator('#see')).toContainText('the head is upright');
});

test('inches and pounds: shown, typed, remembered, either understood', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const units = page.getByRole('combobox', { name: 'units' });
  await units.selectOption('inch');
  const head = number(page, 'head.mass');
  await expect(head).toHaveValue('1.98 lb');
  await expect(page.locator('.line.sum .mass')).toHaveText('36.6 lb');
  await expect(page.locator('.summary')).toContainText('18.9 in');
  await head.fill('2');
  await head.press('Enter');
  await expect(head).toHaveValue('2.00 lb');
  await head.fill('1 kg');
  await head.press('Enter');
  await expect(head).toHaveValue('2.20 lb');
  // A refusal speaks the same units.
  await head.fill('900');
  await head.press('Enter');
  await expect(page.locator('.callouts [data-key="head.mass"] .wrong')).toHaveText(/ lb.* 2\.20 lb kept$/);
  await head.press('Escape');
  await page.keyboard.press('Escape');
  await head.blur();
  await page.keyboard.press('k');
  await expect(measure(page, 'drift')).toHaveText(/ in$/, { timeout: 15_000 });
  await page.waitForTimeout(700);
  await page.reload();
  await ready(page);
  await expect(head).toHaveValue('2.20 lb');
  await units.selectOption('metric');
  await expect(head).toHaveValue('1.00 kg');
});

test('the plumb-bob is pulled, stepped and put back; across it a kick is aimed', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const bob = page.getByRole('slider', { name: 'hangs below centre', exact: true }).first();
  const at = async (): Promise<number> => Number(await bob.getAttribute('aria-valuenow'));
  const opened = await at();
  const box = await bob.boundingBox();
  if (box === null) throw new Error('no plumb-bob');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x, y + 14, { steps: 3 });
  await page.mouse.move(x, y + 24, { steps: 3 });
  const lower = await at();
  expect(lower).toBeGreaterThan(opened + 5);
  await page.mouse.up();
  // The drawing's bob went with the hand.
  const moved = await bob.boundingBox();
  expect(Math.abs((moved?.y ?? 0) - box.y - 24)).toBeLessThan(4);
  await expect(outcome(page)).toHaveText('no run yet');
  await bob.focus();
  await page.keyboard.press('ArrowUp');
  expect(await at()).toBeLessThan(lower);
  await page.keyboard.press('Delete');
  expect(await at()).toBe(opened);

  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 80, y, { steps: 6 });
  await page.mouse.up();
  await expect(page.locator('.trial')).toHaveText(/^kick/);
  expect(await at()).toBe(opened);
});

test('the parts list follows the knobs, folds its details out, and hides nothing', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const head = page.locator('.bodies > :nth-child(3) summary');
  await expect(head).toContainText('head');
  await expect(head.locator('.mass')).toHaveText('0.900 kg');
  await number(page, 'head.mass').fill('1.5 kg');
  await number(page, 'head.mass').press('Enter');
  await expect(head.locator('.mass')).toHaveText('1.50 kg');
  const clipped = await page.locator('.drawer').evaluate((drawer) => drawer.scrollHeight - drawer.clientHeight);
  expect(clipped, 'nothing of the folded list is cut off').toBeLessThanOrEqual(0);
  await page.locator('.bodies summary').first().focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('.bodies li').first()).toBeVisible();
  await expectAccessible(page);
});

test('nothing jumps while a knob is dragged', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const places = (): Promise<string> =>
    page.evaluate(() =>
      [...document.querySelectorAll('.callouts .label, .callouts .number, .callouts .track, .results, .drawings')]
        .map((element) => element.getBoundingClientRect())
        .map(({ x, y, width, height }) => [x, y, width, height].map(Math.round).join(' '))
        .join('\n'),
    );
  const before = await places();
  for (const value of ['0', '333', '777', '1000']) {
    await track(page, 'head.mass').fill(value);
    await track(page, 'travel.damping').fill(value);
    expect(await places()).toBe(before);
  }
});

test('a number that is not there yet is said small', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('s');
  await page.keyboard.press('k');
  await expect(outcome(page)).toHaveText(/^settled/, { timeout: 15_000 });
  const sizes = await page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('.cell .value')].map((cell) => ({
      words: /^[a-z]/.test(cell.textContent ?? ''),
      size: Number.parseFloat(getComputedStyle(cell).fontSize),
    })),
  );
  for (const { words, size } of sizes) expect(size < 15).toBe(words);
});

test('pulling along a strip looks back', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('k');
  await page.waitForTimeout(2000);
  const box = await page.locator('.strip canvas').first().boundingBox();
  if (box === null) throw new Error('no strip');
  await page.mouse.move(box.x + 60, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.up();
  await expect(page.locator('.clock .at')).toHaveText(/^−[12]\.\d\d s$/);
  await expect(page.getByRole('button', { name: 'run on' })).toBeVisible();
});

test.describe('reduced motion', () => {
  test.use({ contextOptions: { reducedMotion: 'reduce' } });
  test('the view steps after the ball instead of gliding', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    await page.keyboard.press('s');
    await page.keyboard.down('ArrowRight');
    const slopes = await page.evaluate(async () => {
      // The plumb-bob's place on the sheet runs with the ball and jumps back at a step.
      const seen: number[] = [];
      for (let i = 0; i < 150; i++) {
        await new Promise(requestAnimationFrame);
        seen.push(document.querySelector('.plumb')?.getBoundingClientRect().x ?? 0);
      }
      return seen;
    });
    await page.keyboard.up('ArrowRight');
    const steps = slopes.slice(1).map((x, i) => x - (slopes[i] ?? 0));
    expect(Math.min(...steps), 'one step of the view').toBeLessThan(-100);
    expect(Math.max(...slopes) - Math.min(...slopes)).toBeGreaterThan(200);
  });
});

test.describe('by touch', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  test('the bob is pulled by a finger, and a tap on it kicks', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    const bob = page.locator('.plumb:visible');
    const box = await bob.boundingBox();
    if (box === null) throw new Error('no plumb-bob');
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const opened = Number(await bob.getAttribute('aria-valuenow'));
    await finger(page, middle, { x: middle.x, y: middle.y + 16 }, 30);
    expect(Number(await bob.getAttribute('aria-valuenow'))).toBeGreaterThan(opened);
    expect(await page.evaluate(() => scrollY)).toBe(0);
    await page.touchscreen.tap(middle.x, middle.y + 10);
    await expect(page.locator('.trial')).toHaveText(/^kick/);
  });

  test('beside the ball a finger scrolls the page', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    const { y } = await ball(page);
    await finger(page, { x: 24, y }, { x: 24, y: y - 200 }, 30);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(50);
  });
});
