// By hand: one's own delay; the contest by lever, keys, tilt and game pad; what falls silent; scored by the core, run again
// to the last bit; left, and all as before.

import type { Locator, Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { simulatedPad, stick, tilt } from '../support/hand.ts';
import { fasterClock } from '../support/lessons.ts';
import { ready } from '../support/sheet.ts';

test.describe.configure({ timeout: 120_000 });

const PLACE = 'By hand';
const openHand = async (page: Page): Promise<void> => {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: PLACE }).click();
  await expect(page.locator('.handsetup')).toBeVisible();
};
const panel = (page: Page): Locator => page.locator('.handpanel');
const said = (page: Page): Locator => page.locator('.handsaid');
const lever = (page: Page): Locator => page.getByRole('slider', { name: /^lever/ });
const begin = async (page: Page): Promise<void> => {
  await page.locator('.begin').click();
  await expect(panel(page)).toBeVisible();
};
const playing = (page: Page): Promise<void> => expect(page.locator('.handclock')).toHaveText(/\d+ s left/);
const value = async (page: Page, measure: string, column: number): Promise<string> =>
  (await page.locator(`.handresult [data-measure="${measure}"] td`).nth(column).textContent()) ?? '';
const within = async (page: Page, column: number): Promise<number> => Number.parseFloat(await value(page, 'within_band', column));
/** Waits for the end of a try, and its score. */
const scored = async (page: Page): Promise<void> => {
  await expect(panel(page)).toBeHidden({ timeout: 60_000 });
  await expect(said(page)).toHaveText(/You held it [\d.]+ of 20 s, the software [\d.]+ s\./, { timeout: 30_000 });
};
const YOU = 0;
const NOBODY = 1;
const SOFTWARE = 2;
const LATE = 3;

test('one who plays well does better than nobody, the software better still; the try runs again to the last bit and is kept', async ({ page, open }) => {
  await page.addInitScript(fasterClock);
  await page.addInitScript(simulatedPad);
  await open('page');
  await openHand(page);
  await page.locator('input[value=pad]').check();
  await stick(page, { gain: 0.12, rate: 0.012 });
  await begin(page);
  await scored(page);
  const [you, nobody, software] = [await within(page, YOU), await within(page, NOBODY), await within(page, SOFTWARE)];
  expect(nobody).toBeGreaterThan(2);
  expect(you).toBeGreaterThan(nobody + 2);
  expect(software).toBeGreaterThan(15);
  await expect(page.locator('.handresult')).toContainText('came out the same to the last bit');
  for (const measure of ['head_dip', 'power_mean', 'energy', 'current_peak']) {
    expect(await value(page, measure, YOU)).toMatch(/^[\d.]+ ?\S+$/);
  }
  // What one sees is announced: the words stand in a live region.
  await expect(said(page)).toHaveAttribute('role', 'status');
  await expect(page.locator('.handbest tbody tr')).toHaveCount(1);

  // Again with one press, the same kicks: nobody and software come out the very same.
  await stick(page, { gain: 0, axes: [0, 0, 0, 0] });
  await page.locator('.again').click();
  await expect(panel(page)).toBeVisible();
  await scored(page);
  expect(await within(page, NOBODY)).toBe(nobody);
  expect(await within(page, SOFTWARE)).toBe(software);
  // And who does nothing is nobody.
  expect(await within(page, YOU)).toBe(nobody);
  await expect(page.locator('.handbest tbody tr')).toHaveCount(2);
  await expect(page.locator('.handbest tbody tr').first()).toContainText(`${you.toFixed(1)} s`);

  await page.locator('.keeptry').click();
  await expect(said(page)).toContainText(/^Kept: /, { timeout: 30_000 });
  await page.locator('.placeindex').getByRole('button', { name: 'Kept runs' }).click();
  await expect(page.locator('.place')).toContainText('by hand, side view');
  await expectAccessible(page);
});

test('the lever by pointer and by keys, with role and words; Escape stops the try, and leaving gives all back', async ({ page, open }) => {
  await open('page');
  await ready(page);
  // As the visitor left it: software on, front view, a double.
  await page.getByRole('radio', { name: 'on', exact: true }).click();
  await page.getByRole('button', { name: 'turn the robot' }).click();
  await page.keyboard.press('d');
  await expect(page.locator('#double .label')).toHaveText('software off');
  await openHand(page);
  await page.locator('.contest select').first().selectOption('0');
  await begin(page);
  await expect(page.locator('.handclock')).toHaveText(/^in [123]$/);
  await expect(lever(page)).toBeFocused();
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  await page.keyboard.down('ArrowLeft');
  await expect(lever(page)).toHaveAttribute('aria-valuetext', '100 % to the left');
  await page.keyboard.up('ArrowLeft');
  await expect(lever(page)).toHaveAttribute('aria-valuenow', '0');
  const box = await lever(page).boundingBox();
  if (box === null) throw new Error('no lever');
  expect(box.height).toBeGreaterThanOrEqual(60);
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 0.75 * box.width, box.y + box.height / 2);
  await expect(lever(page)).toHaveAttribute('aria-valuetext', /^5\d % to the right$/);
  await playing(page);
  await expect(page.locator('#see')).not.toHaveText('');
  await page.mouse.up();
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  await expectAccessible(page);
  // The software's robot stands beside, and the speed lever of the page rests.
  await expect(page.locator('#double .label')).toHaveText('software');
  await page.keyboard.press('Escape');
  await expect(panel(page)).toBeHidden();
  await expect(said(page)).toHaveText('The try is stopped.');
  await expect(page.locator('.again')).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(page.locator('.handsetup')).toBeHidden();
  await expect(page.getByRole('radio', { name: 'on', exact: true })).toHaveAttribute('aria-checked', 'true');
  await expect(page.locator('.head')).toContainText('front view');
  await expect(page.locator('#double .label')).toHaveText('software off');
});

test('a pad that is pulled, a sensor that falls silent and a hidden page are said, and the lever goes to the middle', async ({ page, open }) => {
  await page.addInitScript(simulatedPad);
  await open('page');
  await openHand(page);
  await stick(page, { plugged: false });
  await page.locator('input[value=pad]').check();
  await page.locator('.begin').click();
  await expect(page.locator('.handinput')).toContainText('No game pad is seen');
  await expect(panel(page)).toBeHidden();
  await stick(page, { plugged: true, axes: [1, 0, 0, 0] });
  await begin(page);
  await playing(page);
  await expect(lever(page)).toHaveAttribute('aria-valuetext', '100 % to the right');
  await stick(page, { plugged: false });
  await expect(panel(page)).toContainText('The game pad is gone');
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  await stick(page, { plugged: true });
  await expect(panel(page)).toContainText('It is back');
  await page.evaluate(() => {
    Object.defineProperty(document, 'hidden', { configurable: true, get: () => true });
    document.dispatchEvent(new Event('visibilitychange'));
    Object.defineProperty(document, 'hidden', { configurable: true, get: () => false });
  });
  await expect(said(page)).toContainText('The page was hidden: the lever went to the middle');
  await expect(panel(page)).toBeHidden();
});

test('the tilt of the phone: what cannot be had is said; tilted it steers from where it was', async ({ page, open }) => {
  await open('page');
  await openHand(page);
  await page.locator('input[value=tilt]').check();
  await page.locator('.begin').click();
  await expect(page.locator('.handinput')).toContainText('No word from a sensor of tilt');
  // A browser that asks first, and is told no.
  await page.evaluate(() => {
    Object.assign(DeviceOrientationEvent, { requestPermission: () => Promise.resolve('denied') });
  });
  await page.locator('.begin').click();
  await expect(page.locator('.handinput')).toContainText('not given leave');
  await page.evaluate(() => {
    Object.assign(DeviceOrientationEvent, { requestPermission: () => Promise.resolve('granted') });
    const phone = { gamma: 10, on: true };
    Object.assign(window, { phone });
    setInterval(() => {
      if (phone.on) window.dispatchEvent(new DeviceOrientationEvent('deviceorientation', { alpha: 0, beta: 40, gamma: phone.gamma }));
    }, 20);
  });
  await begin(page);
  await playing(page);
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  const set = (phone: object): Promise<void> =>
    page.evaluate((to) => {
      Object.assign((window as unknown as { phone: object }).phone, to);
    }, phone);
  await set({ gamma: 22.5 });
  await expect(lever(page)).toHaveAttribute('aria-valuetext', '50 % to the right');
  await set({ on: false });
  await expect(panel(page)).toContainText('The sensor of tilt has fallen silent');
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  await set({ on: true, gamma: -5 });
  await expect(panel(page)).toContainText('It is back');
  // Where it stands now is the middle.
  await expect(lever(page)).toHaveAttribute('aria-valuetext', 'in the middle');
  expect(await tilt(page, -17.5)).toBe(true);
});

test('what stops a try is said: the switch, a knob, the clock, a new run', async ({ page, open }) => {
  await open('page');
  await openHand(page);
  for (const [act, words] of [
    [() => page.getByRole('radio', { name: 'on', exact: true }).click(), 'The switch was used'],
    [() => page.keyboard.press('p'), 'The clock was stopped'],
    [() => page.keyboard.press('r'), 'The run was begun anew'],
    [() => page.keyboard.press('t'), 'The robot was turned round'],
  ] as const) {
    await begin(page);
    await act();
    await expect(said(page)).toContainText(words);
    await expect(panel(page)).toBeHidden();
  }
  // The switch is alive again.
  await page.getByRole('radio', { name: 'on', exact: true }).click();
  await expect(page.getByRole('radio', { name: 'on', exact: true })).toHaveAttribute('aria-checked', 'true');
});

test('the delay: false starts told, median and spread, and the same delay is poison for the software', async ({ page, open }) => {
  await open('page');
  await openHand(page);
  const sign = page.locator('.handsign');
  await page.locator('[data-kind=press].act').click();
  await expect(sign).toBeFocused();
  await expect(sign).toContainText('wait … (1 of 5)');
  await page.keyboard.press('Space');
  await expect(page.locator('.handpart')).toContainText(['', 'Too soon']);
  // A person who needs 250 ms.
  await page.evaluate(() => {
    const element = document.querySelector('.handsign');
    if (!(element instanceof HTMLElement)) throw new Error('no sign');
    new MutationObserver(() => {
      if (element.dataset['now'] !== 'press') return;
      setTimeout(() => element.dispatchEvent(new PointerEvent('pointerdown')), 250);
    }).observe(element, { attributes: true, attributeFilter: ['data-now'] });
  });
  const delays = page.locator('.handdelays');
  await expect(delays).toBeVisible({ timeout: 40_000 });
  const median = Number.parseFloat((await delays.locator('.median').textContent()) ?? '');
  expect(median).toBeGreaterThan(235);
  expect(median).toBeLessThan(340);
  await expect(delays.locator('td').last()).toHaveText('1');
  const software = page.locator('.handpart').filter({ hasText: 'looks every 10 ms' });
  await expect(software).toContainText('its output is 1 tick late: 10 ms');
  await expect(software).toContainText(/Your delay would be \d\d ticks for it/);

  await page.getByRole('button', { name: 'give the software my delay' }).click();
  await expect(page.getByRole('radio', { name: 'on', exact: true })).toHaveAttribute('aria-checked', 'true');
  await expect(page.locator('.revisions').first()).toContainText('delay of the visitor');
  await expect(page.locator('.outcome')).toContainText(/went over|sways|oscillation|head lost|left the floor/, { timeout: 30_000 });
  await page.getByRole('button', { name: 'give it its own delay again' }).click();
  await expect(software).toContainText('its output is 1 tick late: 10 ms');
  await expect(page.locator('.outcome')).toContainText('settled', { timeout: 30_000 });
});

test('the delay by the lever, to where the sign points; then the contest has the software so late beside', async ({ page, open }) => {
  await page.addInitScript(simulatedPad);
  await open('page');
  await openHand(page);
  await page.evaluate(() => {
    const element = document.querySelector('.handsign');
    if (!(element instanceof HTMLElement)) throw new Error('no sign');
    new MutationObserver(() => {
      const key = { left: 'ArrowLeft', right: 'ArrowRight' }[element.dataset['now'] ?? ''];
      if (key === undefined) return;
      setTimeout(() => {
        window.dispatchEvent(new KeyboardEvent('keydown', { key }));
        setTimeout(() => window.dispatchEvent(new KeyboardEvent('keyup', { key })), 60);
      }, 200);
    }).observe(element, { attributes: true, attributeFilter: ['data-now'] });
  });
  await page.locator('[data-kind=lever].act').click();
  await expect(page.locator('.handdelays [data-kind=lever]')).toBeVisible({ timeout: 40_000 });
  const median = Number.parseFloat((await page.locator('.handdelays .median').textContent()) ?? '');
  expect(median).toBeGreaterThan(185);
  expect(median).toBeLessThan(300);

  await begin(page);
  await scored(page);
  await expect(page.locator('.handresult thead')).toContainText('software with your delay');
  expect(await within(page, LATE)).toBeLessThan((await within(page, SOFTWARE)) / 2);
  await expect(said(page)).toContainText(/The software with your delay of \d+ ms: [\d.]+ s/);
});

test('damaged best tries are said and not fatal', async ({ page, open }) => {
  await page.addInitScript(() => {
    const good = { at: 1, robot: 'Cobnut', settings: '00', view: 'side', kicks: 1, input: 'lever', rate: 1, within: 9.9, software: 17 };
    localStorage.setItem('kickstill-hand', JSON.stringify({ version: 1, tries: [good, { within: 'x' }, null] }));
  });
  await open('page');
  await openHand(page);
  await expect(page.locator('.damaged')).toContainText('damaged');
  await expect(page.locator('.handbest tbody tr')).toHaveCount(1);
  await expect(page.locator('.handbest')).toContainText('Cobnut, other settings');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'forget the best tries' }).click();
  await expect(page.locator('.handbest')).toHaveCount(0);
});

test('German, night, touch and a narrow screen: usable, targets wide enough, accessible', async ({ browser, site }) => {
  const context = await browser.newContext({ locale: 'de', colorScheme: 'dark', viewport: { width: 390, height: 844 }, hasTouch: true, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(site.page);
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'Von Hand' }).click();
  await expect(page.locator('.handsetup')).toContainText('du gegen die Software');
  await expectAccessible(page);
  await page.locator('.begin').click();
  await expect(panel(page)).toBeVisible();
  await expect(page.locator('.handlever')).toBeInViewport({ ratio: 1 });
  await expect(page.locator('canvas.drawing:visible').first()).toBeInViewport();
  const box = await page.locator('.handlever').boundingBox();
  expect(box?.height).toBeGreaterThanOrEqual(64);
  for (const press of await page.locator('.hand button:visible').all()) {
    expect((await press.boundingBox())?.height, (await press.textContent()) ?? '').toBeGreaterThanOrEqual(44);
  }
  await expectAccessible(page);
  await page.locator('.handtop .stop').tap();
  await expect(said(page)).toHaveText('Der Versuch ist abgebrochen.');
  await context.close();
});
