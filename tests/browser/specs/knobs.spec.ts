// Knobs, time, memory.

import { expect, test } from '../support/fixtures.ts';
import { knob, number, ready, track } from '../support/sheet.ts';

test('a number can be typed with its unit, stepped, and put back', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const head = number(page, 'head.mass');
  const opened = await head.inputValue();
  for (const [typed, expected] of [
    ['2 lb', /^0\.907 kg$/],
    ['850 g', /^0\.850 kg$/],
    ['1.2', /^1\.20 kg$/],
  ] as const) {
    await head.fill(typed);
    await head.press('Enter');
    await expect(head).toHaveValue(expected);
  }
  await head.press('ArrowUp');
  await expect(head).toHaveValue(/^1\.2[1-9] kg$/);
  await knob(page, 'head.mass').locator('.label').dblclick();
  await expect(head).toHaveValue(opened);

  await track(page, 'travel.dead_band').focus();
  await page.keyboard.press('End');
  await expect(number(page, 'travel.dead_band')).toHaveValue(/°$/);
  await page.keyboard.press('Delete');
  await expect(knob(page, 'travel.dead_band')).not.toHaveClass(/changed/);
});

test('a refused number says what was expected and what was kept, and the robot goes on', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const head = number(page, 'head.mass');
  const opened = await head.inputValue();
  for (const typed of ['heavy', '900 kg', '-1', '3 volts', 'NaN', '1e999', '0']) {
    await head.fill(typed);
    await head.press('Enter');
    const wrong = knob(page, 'head.mass').getByRole('alert');
    await expect(wrong, typed).toHaveText(/expected/);
    await expect(wrong, typed).toContainText(opened);
    await head.press('Escape');
    await expect(head).toHaveValue(opened);
  }
  await page.keyboard.press('Escape');
  await head.blur();
  await page.keyboard.press('k');
  await expect(page.locator('.trial')).toHaveText(/kick/);
});

test('all knobs: grouped, found, with firmware numbers, and the third position of the switch', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'all knobs' }).click();
  await expect(page.getByRole('radio')).toHaveText(['motors off', 'locked', 'steadied']);
  const all = page.locator('.allknobs');
  expect(await all.locator('details').count()).toBeGreaterThan(12);
  await page.getByRole('searchbox', { name: 'find a knob' }).fill('damping D');
  const damping = all.locator('[data-key="travel.damping"]');
  await expect(damping).toBeVisible();
  await expect(all.locator('[data-key="shell.mass"]')).toBeHidden();
  const raw = damping.locator('.raw input');
  const before = await raw.inputValue();
  await damping.locator('.number').fill('0.7');
  await damping.locator('.number').press('Enter');
  await expect(raw).not.toHaveValue(before);
  await raw.fill(before);
  await raw.press('Enter');
  await expect(damping.locator('.number')).toHaveValue(/^0\.35/);
  await page.getByRole('radio', { name: 'locked' }).click();
  await page.keyboard.press('k');
  await expect(page.locator('.trial')).toHaveText(/locked/);
});

test('a kick can be aimed in numbers', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'all knobs' }).click();
  await page.getByText('kick and bump').click();
  const impulse = page.getByLabel('kick, backward below zero');
  await impulse.fill('-6.5');
  await impulse.press('Tab');
  const height = page.getByLabel('height of the kick');
  await height.fill('9000');
  await height.press('Enter');
  await expect(page.locator('.pushes').getByRole('alert').filter({ hasText: /expected/ })).toBeVisible();
  await height.fill('240');
  await height.press('Tab');
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(page.locator('.trial')).toHaveText(/6\.5 N·s/);
  await expect.poll(() => page.locator('#see').textContent()).toMatch(/behind the start/);
});

test('resetting the run and resetting the knobs are two things', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await track(page, 'head.mass').fill('700');
  const changed = await number(page, 'head.mass').inputValue();
  await page.keyboard.press('k');
  await page.waitForTimeout(600);
  await page.locator('.clock').getByRole('button', { name: 'run again from rest' }).click();
  await expect(number(page, 'head.mass')).toHaveValue(changed);
  await expect(page.locator('.outcome')).toHaveText('no run yet');
  await page.getByRole('button', { name: 'knobs as they were' }).click();
  await expect(number(page, 'head.mass')).not.toHaveValue(changed);
  await expect(page.getByRole('button', { name: 'knobs as they were' })).toBeHidden();
});

test('pause, one tick, slow motion, looking back', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const time = (): Promise<string> => page.locator('#see').textContent().then((text) => text ?? '');
  await page.keyboard.press('k');
  await page.waitForTimeout(1200);
  await page.keyboard.press('p');
  await expect(page.getByRole('button', { name: 'run on' })).toBeVisible();
  const stood = await page.locator('canvas.drawing:visible').screenshot();
  await page.waitForTimeout(300);
  expect(await page.locator('canvas.drawing:visible').screenshot()).toEqual(stood);
  for (let i = 0; i < 8; i++) await page.keyboard.press('.');
  expect(await page.locator('canvas.drawing:visible').screenshot()).not.toEqual(stood);
  await page.getByRole('slider', { name: 'look back' }).fill('-1');
  await expect(page.locator('.clock .at')).toHaveText('−1.00 s');
  await page.getByRole('button', { name: 'run on' }).click();
  await expect(page.locator('.clock .at')).toHaveText('now');
  await page.getByRole('combobox', { name: 'pace of time' }).selectOption('0.1');
  expect(await time()).toContain('Cobnut');
});

test('the page remembers, and damaged memory is said', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.5 kg');
  await number(page, 'head.mass').press('Enter');
  await page.keyboard.press('t');
  await page.waitForTimeout(700);
  await page.reload();
  await ready(page);
  await expect(number(page, 'head.mass')).toHaveValue('1.50 kg');
  await expect(page.locator('.views .view')).toHaveText('front view');
  await page.evaluate(() => localStorage.setItem('kickstill', '{"version":1,"opened":'));
  await page.reload();
  await ready(page);
  await expect(page.locator('.notice')).toHaveText(/could not be read/);
  await expect(number(page, 'head.mass')).not.toHaveValue('1.50 kg');
});

test('extreme knobs under kicks never break the page', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('s');
  for (const [key, typed] of [
    ['travel.damping', '4 s/rad'],
    ['head.mass', '9 kg'],
    ['travel.correction', '20 1/rad'],
  ] as const) {
    await number(page, key).fill(typed);
    await number(page, key).press('Enter');
    await number(page, key).blur();
    await page.keyboard.press('k');
    await page.waitForTimeout(900);
  }
  await page.waitForTimeout(2000);
  await expect(page.locator('.outcome')).not.toHaveText(/NaN|undefined/);
  await page.getByRole('button', { name: 'knobs as they were' }).click();
  await page.locator('.clock').getByRole('button', { name: 'run again from rest' }).click();
  await page.keyboard.press('k');
  await expect(page.locator('.outcome')).toHaveText(/^settled/, { timeout: 15_000 });
});
