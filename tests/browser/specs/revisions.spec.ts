// The history of the robot's changes: its rules, and the table that shows it.

import { History, letters, PAUSE, type Change, type Revision } from '../../../www/src/revisions.ts';
import { expect, test } from '../support/fixtures.ts';
import { knob, number, ready, shown, track } from '../support/sheet.ts';

const setting = (value: number) => ({ opened: 'robot', now: `robot ${value}` });
const start: Revision = {
  id: 'start',
  parent: '',
  at: 0,
  kind: 'start',
  robot: 'Cobnut',
  steps: [],
  why: '',
  name: '',
  setting: setting(0),
};
const turn = (from: number, to: number, key = 'head.mass'): Change => ({
  kind: 'knobs',
  robot: 'Cobnut',
  why: '',
  steps: [{ key, label: key, from, to, fromText: `${from} kg`, toText: `${to} kg` }],
});

test.describe('rules', () => {
  test('letters go on after Z as a drawing’s do', () => {
    expect([0, 25, 26, 51, 52, 701, 702].map(letters)).toEqual(['A', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA']);
  });

  test('a drag is one row, a pause or another knob begins the next', () => {
    const history = new History(start);
    for (let i = 1; i <= 50; i++) history.add(turn(i - 1, i), setting(i), i * 20, `r${i}`);
    expect(history.rows).toHaveLength(2);
    expect(history.current.steps[0]).toMatchObject({ from: 0, to: 50 });
    history.add(turn(50, 51), setting(51), 1000 + PAUSE + 1, 'later');
    expect(history.rows).toHaveLength(3);
    history.add(turn(1, 2, 'shell.mass'), setting(52), 1000 + PAUSE + 2, 'other');
    expect(history.rows).toHaveLength(4);
    // A pointer that is held still is the same drag.
    history.add(turn(2, 3, 'shell.mass'), setting(53), 60_000, 'held', true);
    expect(history.rows).toHaveLength(4);
  });

  test('dragged away and back again leaves no row', () => {
    const history = new History(start);
    history.add(turn(0, 1), setting(1), 10, 'a');
    expect(history.add(turn(1, 0), setting(0), 20, 'b')).toBeUndefined();
    expect(history.rows).toEqual([start]);
    expect(history.current).toBe(start);
  });

  test('undo and redo through a hundred rows; a new change keeps what was undone', () => {
    const history = new History(start);
    for (let i = 1; i <= 100; i++) history.add(turn(i - 1, i), setting(i), i * 10_000, `r${i}`);
    for (let i = 0; i < 100; i++) history.moveTo(history.before?.id ?? '');
    expect(history.current.id).toBe('start');
    expect(history.before).toBeUndefined();
    for (let i = 0; i < 100; i++) history.moveTo(history.after?.id ?? '');
    expect(history.current.id).toBe('r100');
    expect(history.after).toBeUndefined();
    for (let i = 0; i < 10; i++) history.moveTo(history.before?.id ?? '');
    history.add(turn(90, 7), setting(7), 2_000_000, 'new');
    expect(history.rows).toHaveLength(102);
    expect(history.find('r100')).toBeDefined();
    expect(history.leads('r100')).toBe(false);
    expect(history.leads('r90')).toBe(true);
    expect(history.before?.id).toBe('r90');
  });

  test('a row with a name is finished and is never thinned', () => {
    const history = new History(start);
    history.add(turn(0, 1), setting(1), 10, 'named');
    history.name('named', 'show floor, Saturday');
    history.add(turn(1, 2), setting(2), 20, 'next');
    expect(history.rows).toHaveLength(3);
    for (let i = 0; i < 1000; i++) history.add(turn(i, i + 1), setting(i), 1e5 + i * 1e4, `x${i}`);
    expect(history.rows.length).toBeLessThanOrEqual(400);
    expect(history.find('named')?.name).toBe('show floor, Saturday');
    expect(history.before).toBeDefined();
  });

  test('the visit before goes on if its robot stands there; if not, a new start stays', () => {
    const before = new History(start);
    before.add(turn(0, 1), setting(1), 10, 'a');
    const same = new History({ ...start, id: 'again', at: 99, setting: setting(1) });
    same.resume(before.rows);
    expect(same.current.id).toBe('a');
    expect(same.rows.map(({ id }) => id)).toEqual(['start', 'a']);
    expect(same.before?.id).toBe('start');
    const other = new History({ ...start, id: 'again', at: 99, setting: setting(5) });
    other.resume(before.rows);
    expect(other.current.id).toBe('again');
    expect(other.rows).toHaveLength(3);
  });

  test('what was changed before the earlier rows were read follows the row found', () => {
    const before = new History(start);
    before.add(turn(0, 1), setting(1), 10, 'a');
    const now = new History({ ...start, id: 'again', at: 99, setting: setting(1) });
    now.add(turn(1, 2), setting(2), 120, 'quick');
    now.resume(before.rows);
    expect(now.current.id).toBe('quick');
    expect(now.before?.id).toBe('a');
  });
});

const rows = '.revisions .line .name';

test('a drag is one row; undo and redo turn the knob while the run goes on', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('k');
  const opened = await number(page, 'head.mass').inputValue();
  const box = await track(page, 'head.mass').boundingBox();
  if (box === null) throw new Error('no track');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  for (let i = 1; i <= 12; i++) await page.mouse.move(box.x + box.width * (0.5 + i / 30), box.y + box.height / 2);
  await page.mouse.up();
  await expect(page.locator(rows)).toHaveCount(2);
  await expect(page.locator(rows).first()).toHaveText(/^head weight 0\.900 → \d\.\d+ kg$/);
  const heavy = await number(page, 'head.mass').inputValue();
  expect(heavy).not.toBe(opened);
  await page.keyboard.press('Control+z');
  await expect(number(page, 'head.mass')).toHaveValue(opened);
  await expect(page.locator('.revisions .undone')).toHaveCount(1);
  await page.keyboard.press('Control+Shift+Z');
  await expect(number(page, 'head.mass')).toHaveValue(heavy);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+y');
  await expect(number(page, 'head.mass')).toHaveValue(heavy);
  // Still the run that the kick began.
  await expect(page.locator('.trial')).toHaveText(/kick/);
});

test('typed, put back, opened: each is a row, and undo of an opened robot brings the old one', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  await number(page, 'carriage.mass').fill('12 kg');
  await number(page, 'carriage.mass').press('Enter');
  await page.getByRole('button', { name: 'knobs as they were' }).click();
  await expect(page.locator(rows).first()).toHaveText('knobs as they were (2)');
  await page.getByRole('combobox', { name: 'robot' }).selectOption('hayrick');
  await expect(page.locator(rows).first()).toHaveText('Hayrick opened');
  const undo = page.locator('.revisions').getByRole('button', { name: 'undo' });
  await undo.click();
  await expect(page.locator('#see')).toContainText('Cobnut');
  await undo.click();
  await expect(number(page, 'head.mass')).toHaveValue('1.30 kg');
  await expect(number(page, 'carriage.mass')).toHaveValue('12.0 kg');
  await undo.click();
  await undo.click();
  await expect(knob(page, 'head.mass')).not.toHaveClass(/changed/);
  await expect(undo).toHaveAttribute('aria-disabled', 'true');
  // Pressed once too often: nothing.
  await undo.click({ force: true });
  const redo = page.locator('.revisions').getByRole('button', { name: 'redo' });
  for (let i = 0; i < 4; i++) await redo.click();
  await expect(page.locator('#see')).toContainText('Hayrick');
  await expect(redo).toHaveAttribute('aria-disabled', 'true');
});

test('what is being typed has its own undo', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  await number(page, 'head.mass').click();
  await page.keyboard.type('2');
  await page.keyboard.press('Control+z');
  await expect(page.locator(rows).first()).toHaveText('head weight 0.900 → 1.30 kg');
  await expect(page.locator('.revisions .undone')).toHaveCount(0);
});

test('a name, the way back to it, and both over a reload', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  await page.locator('.revisions').getByRole('button', { name: /^all/ }).click();
  await page.getByLabel('name of revision B').fill('show floor, Saturday');
  await page.keyboard.press('Enter');
  await expect(page.locator(rows).first()).toHaveText('show floor, Saturday');
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await expect(page.locator(rows)).toHaveCount(3);
  await page.waitForTimeout(700);
  await page.reload();
  await ready(page);
  await expect(page.locator(rows)).toHaveCount(3);
  expect(await page.locator(rows).allTextContents()).toEqual([
    'head weight 1.30 → 2.00 kg',
    'show floor, Saturday',
    'Cobnut, as found',
  ]);
  await page.keyboard.press('Control+z');
  await expect(number(page, 'head.mass')).toHaveValue('1.30 kg');
  await page.keyboard.press('Control+y');
  await page.locator('.revisions').getByRole('button', { name: 'show floor, Saturday' }).click();
  await expect(number(page, 'head.mass')).toHaveValue('1.30 kg');
  await expect(page.locator(rows).first()).toHaveText(/^back to show floor, Saturday: head weight 2\.00 → 1\.30 kg$/);
  await page.keyboard.press('Control+z');
  await expect(number(page, 'head.mass')).toHaveValue('2.00 kg');
  expect(await shown(page.locator('.partslist .sum .mass'))).toBeGreaterThan(0);
});

test('the newest three rows fit the right column', async ({ page, open }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await open('page');
  await ready(page);
  for (const mass of ['1', '1.1', '1.2', '1.3']) {
    await number(page, 'head.mass').fill(`${mass} kg`);
    await number(page, 'head.mass').press('Enter');
    await page.waitForTimeout(PAUSE + 50);
  }
  await expect(page.locator(rows)).toHaveCount(3);
  const over = await page.locator('.drawer').evaluate((drawer) => drawer.scrollHeight - drawer.clientHeight);
  expect(over).toBeLessThanOrEqual(0);
});
