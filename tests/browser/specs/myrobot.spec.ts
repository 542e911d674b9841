// My robot: ten numbers of an unseen robot, what its guesses do, marks, the parts ledger.

import type { Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { outcome, ready } from '../support/sheet.ts';

/** Waits for the worker. */
const LONG = { timeout: 45_000 };

async function openPlace(page: Page, section?: string): Promise<void> {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: 'My robot' }).click();
  await expect(page.locator('.ten [data-key="floor"]')).toBeVisible();
  if (section !== undefined) await page.locator('.robotindex').getByRole('button', { name: section }).click();
}

const field = (page: Page, key: string) => page.locator(`.ten [data-key="${key}"] .entry > :first-child`);

/** An invented robot, as its builder would type it. */
const INVENTED = [
  ['shell_diameter', '440mm'],
  ['shell_mass', '8 lb'],
  ['carriage_mass', '9.2'],
  ['carriage_below', '98 mm'],
  ['head_mass', '650 g'],
  ['head_above', '285'],
  ['gear_ratio', '8.5'],
  ['motor_count', '2'],
  ['motor_voltage', '24 V'],
  ['motor_speed', '4200 rpm'],
  ['motor_torque', '1.6 N·m'],
  ['servo_torque', '35 kg cm'],
  ['cells', '8'],
] as const;

async function type(page: Page): Promise<void> {
  await page.getByLabel('name', { exact: true }).fill('Pebble');
  for (const [key, text] of INVENTED) await field(page, key).fill(text);
  await field(page, 'drive').selectOption('rim');
  await field(page, 'chemistry').selectOption('lithium-iron-phosphate');
  await field(page, 'floor').selectOption('wood');
}

test('an unseen robot: ten numbers, the board, the switch, a kick, a verdict; one undo brings the other back', async ({ open }) => {
  const started = Date.now();
  const page = await open('page');
  await openPlace(page);
  await type(page);
  await expect(page.locator('.startside > .said')).toHaveText('All numbers can be taken.', LONG);
  await expect(page.locator('.summaryof')).toContainText('kg');
  await page.getByRole('button', { name: 'put it on the board' }).click();
  await expect(page.locator('.side')).toContainText('Pebble');
  const verdict = page.locator('.verdictof');
  await expect(verdict).toBeVisible(LONG);
  await expect(verdict.locator('.line1')).toHaveText(/^Pebble is steadied: after a kick it settled in [\d.]+ s/);
  await page.getByRole('button', { name: 'switch on and kick it' }).click();
  await expect(outcome(page)).toHaveText(/^settled/, { timeout: 20_000 });
  expect(Date.now() - started).toBeLessThan(300_000);
  await expectAccessible(page);
  // What was typed is kept; the robot before is one undo away.
  await page.reload();
  await openPlace(page);
  await expect(field(page, 'shell_mass')).toHaveValue('8 lb');
  await expect(page.locator('.side')).toContainText('Pebble');
  await page.locator('.revisions').getByRole('button', { name: /^undo/ }).click();
  await expect(page.locator('.side')).toContainText('Cobnut');
});

test('a robot that is not ready yet says why, and what to change next', async ({ open }) => {
  const page = await open('page');
  await openPlace(page);
  await type(page);
  // Too heavy a head on too weak a servo.
  await field(page, 'head_mass').fill('2.9 kg');
  await field(page, 'servo_torque').fill('2 N·m');
  await page.getByRole('button', { name: 'put it on the board' }).click();
  const verdict = page.locator('.verdictof');
  await expect(verdict.locator('.line1')).toHaveText(/(not ready yet|break)/, LONG);
  await expect(verdict.locator('.broken').first()).toHaveText(/view, steadied: .+/);
  await expect(verdict).toContainText('Change next:');
  await expect(page.locator('#news')).toContainText('Change next:');
  await verdict.locator('summary').click();
  await expect(verdict.locator('tbody tr').first()).toBeVisible();
  await expectAccessible(page);
});

test('in inches and pounds the form shows and takes them', async ({ open }) => {
  const page = await open('page');
  await openPlace(page);
  await page.getByLabel('units').selectOption('inch');
  await expect(field(page, 'shell_diameter')).toHaveAttribute('placeholder', '15.7 in');
  await field(page, 'shell_diameter').fill('400');
  await field(page, 'shell_diameter').blur();
  await expect(page.locator('.ten [data-key="shell_diameter"] .wrong')).toContainText('4.72 in to 59.1 in', LONG);
  await field(page, 'shell_diameter').fill('17.3');
  await expect(page.locator('.summaryof')).toContainText('lb');
});

test('wrong numbers are told beside their fields, all at once, and nothing is put on the board', async ({ open }) => {
  const page = await open('page');
  await openPlace(page);
  await field(page, 'shell_diameter').fill('44 m');
  await field(page, 'carriage_mass').fill('heavy');
  await field(page, 'cells').fill('7.5');
  await page.getByRole('button', { name: 'put it on the board' }).click();
  const wrong = (key: string) => page.locator(`.ten [data-key="${key}"] .wrong`);
  await expect(wrong('shell_diameter')).toContainText('expected: 120 mm to 1500 mm', LONG);
  await expect(wrong('shell_diameter')).toContainText('400 mm kept');
  await expect(wrong('carriage_mass')).toContainText('expected');
  await expect(wrong('cells')).toContainText('whole');
  await expect(field(page, 'shell_diameter')).toBeFocused();
  await expect(field(page, 'shell_diameter')).toHaveAttribute('aria-invalid', 'true');
  await expect(page.locator('.startside > .said')).toHaveText('3 numbers are wrong.');
  await expect(page.locator('.side')).toContainText('Cobnut');
  await expectAccessible(page);
  // A head that the weight below cannot hold up.
  await field(page, 'shell_diameter').fill('');
  await field(page, 'carriage_mass').fill('1 kg');
  await field(page, 'cells').fill('8');
  await field(page, 'head_mass').fill('3 kg');
  await expect(page.locator('.startside > .said')).toHaveText(/wrong/);
  await field(page, 'head_mass').blur();
  await expect(wrong('head_mass')).toContainText('does not stand');
});

test('what the guesses do: ranges, verdicts, and what to measure next', async ({ open }) => {
  const page = await open('page');
  await openPlace(page, 'What the guesses do');
  await page.getByRole('button', { name: 'mark every unmarked value as guessed' }).click();
  await expect(page.locator('.next h3')).toHaveText('Measure this next', LONG);
  await expect(page.locator('.next strong')).not.toBeEmpty();
  await expect(page.locator('.next')).toContainText('how:');
  await expect(page.locator('.trialof')).toHaveCount(3);
  await expect(page.locator('.trialof .holds').first()).toHaveText(/^holds in \d+ of \d+/);
  expect(await page.locator('svg.range').count()).toBeGreaterThanOrEqual(6);
  await expect(page.locator('#news')).toContainText('Measure next');
  await expectAccessible(page);
  // Cancelled, it says so and keeps what was found.
  await page.getByRole('button', { name: 'run the variants' }).click();
  await page.locator('.job').getByRole('button', { name: 'cancel' }).click();
  await expect(page.locator('.job .said')).toHaveText('Cancelled.');
  await expect(page.locator('.trialof')).toHaveCount(3);
});

test('marks are set one by one and by group, and come back by undo', async ({ open }) => {
  const page = await open('page');
  await openPlace(page, 'Every value’s mark');
  const pick = page.locator('.markrow[data-key="head.mass"] select');
  await pick.selectOption('measured');
  await expect(pick).toHaveValue('measured');
  await page.getByLabel('shell: mark all shown').selectOption('sheet');
  await expect(page.locator('.markrow[data-key="shell.mass"] select')).toHaveValue('sheet');
  await page.getByLabel('show', { exact: true }).selectOption('measured');
  await expect(page.locator('.markrow:visible')).toHaveCount(1);
  await page.getByLabel('show', { exact: true }).selectOption('all');
  await page.locator('.revisions').getByRole('button', { name: /^undo/ }).click();
  await expect(page.locator('.markrow[data-key="shell.mass"] select')).toHaveValue('');
  await expect(pick).toHaveValue('measured');
  await expectAccessible(page);
});

test('the ledger: a part added, off, on, undone; grams left with its bracket', async ({ open }) => {
  const page = await open('page');
  await openPlace(page, 'Parts ledger');
  const rows = page.locator('.ledgerof tbody tr');
  const before = await rows.count();
  const carriage = page.locator('.partslist .bodies').getByText('carriage').locator('..');
  const was = await carriage.locator('.mass').first().textContent();
  await page.locator('#part-name').fill('brass feet');
  await page.locator('#part-mass').fill('heavy');
  await page.locator('#part-height').fill('-150 mm');
  await page.getByRole('button', { name: 'add it' }).click();
  await expect(page.locator('#part-mass-wrong')).toContainText('expected');
  await expect(page.locator('#part-mass')).toBeFocused();
  await page.locator('#part-mass').fill('500');
  await page.getByRole('button', { name: 'add it' }).click();
  await expect(rows).toHaveCount(before + 1);
  await expect(carriage.locator('.mass').first()).not.toHaveText(was ?? '');
  const on = page.getByLabel('brass feet is on the robot');
  await on.uncheck();
  await expect(carriage.locator('.mass').first()).toHaveText(was ?? '');
  await on.check();
  await page.locator('.revisions').getByRole('button', { name: /^undo/ }).click();
  await expect(on).not.toBeChecked();
  await page.getByRole('button', { name: 'reckon it' }).click();
  await expect(page.locator('.leftof .answer')).toHaveText(/\d g left for the head, within a dip of 4/, LONG);
  await expect(page.locator('.leftof')).toContainText('sharp: 2 % less holds, 2 % more breaks');
  await expect(page.locator('.leftof tbody tr')).toHaveCount(3);
  await expect(rows.first()).not.toContainText('NaN');
  await expectAccessible(page);
});
