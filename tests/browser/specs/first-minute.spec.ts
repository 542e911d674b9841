// The first minute, played whole: by mouse, by touch, by keyboard alone.

import { expect, test } from '../support/fixtures.ts';
import { ball, dragKick, finger, measure, number, outcome, ready, sentence, track } from '../support/sheet.ts';

const KICK = 'Kick it: drag from the ball, or press K.';
const SWITCH = 'Now switch the software on.';
const AGAIN = 'Kick it again.';
const DRIVE = 'Hold → to drive, let go.';
const HEAVIER = 'Now make the head heavier.';
/** On a narrow page of fingers. */
const KICK_BY_TOUCH = 'Kick it: drag from the ball, or press “kick”.';
const HEAVIER_BELOW = 'Now make the head heavier: slider 4, under the drawing.';
const LAST = /Kick it once more/;

test.describe.configure({ timeout: 90_000 });

test('by mouse', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await expect(sentence(page)).toHaveText(KICK);
  await expect(page.getByRole('radio')).toHaveCount(2);

  await dragKick(page);
  await expect(sentence(page)).toHaveText(SWITCH);
  await expect.poll(async () => Number.parseFloat((await measure(page, 'peak').textContent()) ?? '')).toBeGreaterThan(3);

  await page.getByRole('radio', { name: 'on' }).click();
  await expect(sentence(page)).toHaveText(AGAIN);
  await page.waitForTimeout(1500);
  await dragKick(page);
  await expect(outcome(page)).toHaveText(/^settled/, { timeout: 15_000 });
  await expect(sentence(page)).toHaveText(DRIVE);
  await expect(page.locator('.verdict .was')).toHaveText(/^was /);

  const forward = page.getByRole('button', { name: 'drive forward' });
  await forward.hover();
  await page.mouse.down();
  await expect.poll(() => page.locator('#see').textContent(), { timeout: 15_000 }).toMatch(/rolls forward at/);
  // A mere tap of the lever is no drive.
  await page.waitForTimeout(500);
  await page.mouse.up();
  await expect(sentence(page)).toHaveText(HEAVIER);
  await expect(page.locator('.trial')).toHaveText(/^stop/);

  const before = await number(page, 'head.mass').inputValue();
  await track(page, 'head.mass').fill('640');
  await expect(number(page, 'head.mass')).not.toHaveValue(before);
  await expect(sentence(page)).toHaveText(LAST);
  await dragKick(page);
  await expect(sentence(page)).toHaveText(/All knobs/);
});

test.describe('by touch', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('by touch', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    await expect(sentence(page)).toHaveText(KICK_BY_TOUCH);
    const at = await ball(page);
    await page.touchscreen.tap(at.x, at.y);
    await expect(sentence(page)).toHaveText(SWITCH);
    await page.getByRole('radio', { name: 'on' }).tap();
    await expect(sentence(page)).toHaveText(AGAIN);
    await page.waitForTimeout(1500);
    // A drag across the drawing aims; the page must not scroll under it.
    await finger(page, at, { x: at.x + 80, y: at.y }, 50);
    expect(await page.evaluate(() => scrollY)).toBe(0);
    await expect(page.locator('.trial')).toHaveText(/kick/);
    await expect(outcome(page)).toHaveText(/^settled/, { timeout: 15_000 });
    await expect(sentence(page)).toHaveText(DRIVE);

    const forward = page.getByRole('button', { name: 'drive forward' });
    await forward.scrollIntoViewIfNeeded();
    const box = await forward.boundingBox();
    if (box === null) throw new Error('no button');
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    await finger(page, middle, middle, 1200);
    await expect(sentence(page)).toHaveText(HEAVIER_BELOW);
    await track(page, 'head.mass').fill('640');
    await expect(sentence(page)).toHaveText(LAST);
    await page.getByRole('button', { name: 'kick' }).tap();
    await expect(sentence(page)).toHaveText(/All knobs/);
  });

  test('a finger going up the drawing scrolls the page', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    const at = await ball(page);
    await finger(page, at, { x: at.x, y: at.y - 200 }, 50);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(50);
    await expect(sentence(page)).toHaveText(KICK_BY_TOUCH);
  });
});

test('by keyboard alone', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await expect(sentence(page)).toHaveText(KICK);
  await page.keyboard.press('k');
  await expect(sentence(page)).toHaveText(SWITCH);
  await page.keyboard.press('s');
  await expect(page.getByRole('radio', { name: 'on' })).toBeChecked();
  await page.waitForTimeout(1500);
  await page.keyboard.press('k');
  await expect(outcome(page)).toHaveText(/^settled/, { timeout: 15_000 });
  await expect(sentence(page)).toHaveText(DRIVE);
  // Even with the focus on the switch that turned it on.
  await page.getByRole('radio', { name: 'on' }).focus();
  await page.keyboard.down('ArrowRight');
  await page.waitForTimeout(1200);
  await page.keyboard.up('ArrowRight');
  await expect(page.getByRole('radio', { name: 'on' })).toBeChecked();
  await expect(sentence(page)).toHaveText(HEAVIER);

  const head = (): Promise<boolean> =>
    page.evaluate(() => document.activeElement?.matches('[data-key="head.mass"] .track') === true);
  for (let i = 0; i < 60 && !(await head()); i++) await page.keyboard.press('Tab');
  expect(await head(), 'the head’s knob can be reached by Tab').toBe(true);
  for (let i = 0; i < 6; i++) await page.keyboard.press('ArrowRight');
  await expect(sentence(page)).toHaveText(LAST);
  await page.keyboard.press('k');
  await expect(sentence(page)).toHaveText(/All knobs/);
});

test('in another order: the guide asks for nothing twice', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('s');
  await expect(sentence(page)).toHaveText(AGAIN);
  await page.keyboard.press('s');
  await expect(sentence(page)).toHaveText(SWITCH);
  await page.getByRole('button', { name: 'skip the guide' }).click();
  await expect(sentence(page)).toHaveText(/All knobs/);
  await page.getByRole('button', { name: 'show the guide again' }).click();
  await expect(sentence(page)).toHaveText(KICK);
});

test('the front view has its own kick and its own knobs', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'turn the robot' }).click();
  await expect(page.locator('.views .view')).toHaveText('front view');
  await expect(track(page, 'lean.correction')).toBeVisible();
  await page.keyboard.press('k');
  await expect(page.locator('.trial')).toHaveText(/kick · front view/);
  await expect.poll(() => page.locator('#see').textContent()).toMatch(/leans [1-9]/);
  await page.getByRole('button', { name: 'both views' }).click();
  await expect(page.locator('canvas.drawing:visible')).toHaveCount(2);
});
