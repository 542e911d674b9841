// Links: the whole setting in the address, old ones too.

import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, test } from '../support/fixtures.ts';
import { number, ready } from '../support/sheet.ts';

interface OldLink {
  readonly link: string;
  readonly values: Readonly<Record<string, number | string>>;
  readonly view: 'side' | 'front' | 'both';
  readonly level: 'off' | 'locked' | 'on';
  readonly double?: { readonly label: string; readonly values: Readonly<Record<string, number | string>> };
}
const OLD = JSON.parse(readFileSync(new URL('../links/k1.json', import.meta.url), 'utf8')) as OldLink[];

/** The robot on the board, as its file. */
async function robot(page: Page): Promise<Record<string, unknown>> {
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  return JSON.parse(readFileSync(await (await saving).path(), 'utf8')) as Record<string, unknown>;
}

const at = (file: Record<string, unknown>, key: string): unknown =>
  key.split('.').reduce<unknown>((part, name) => (part as Record<string, unknown> | undefined)?.[name], file);

/** A choice of two is yes or no to people and true or false in the file. */
const inFile = (value: number | string): unknown => (value === 'yes' ? true : value === 'no' ? false : value);

/** Copies the link by its button and gives what would be in the clipboard. */
async function copied(page: Page): Promise<string> {
  await page.evaluate(() => {
    const held = window as unknown as { copied: string };
    held.copied = '';
    navigator.clipboard.writeText = (text) => {
      held.copied = text;
      return Promise.resolve();
    };
  });
  await page.getByRole('button', { name: 'copy link' }).click();
  await page.waitForFunction(() => (window as unknown as { copied: string }).copied !== '');
  return page.evaluate(() => (window as unknown as { copied: string }).copied);
}

for (const [index, { link, values, view, level, double }] of OLD.entries()) {
  test(`the committed link ${index + 1} is still read: ${link.slice(0, 60)}`, async ({ open }) => {
    const page = await open('page', link);
    await ready(page);
    await expect(page.locator('.notice')).toContainText('from the link');
    expect(page.url()).not.toContain('#');
    const file = await robot(page);
    for (const [key, value] of Object.entries(values)) expect(at(file, key), key).toEqual(inFile(value));
    await expect(page.locator('.views .view')).toHaveText(view === 'both' ? 'both views' : `${view} view`);
    const switched = { off: /level-0/, locked: /level-1/, on: /level-2/ }[level];
    await expect(page.locator('.switch button[aria-checked="true"]')).toHaveClass(switched);
    if (double === undefined) {
      await expect(page.locator('#double')).toBeHidden();
      return;
    }
    await expect(page.locator('#double .label')).toHaveText(double.label);
    // Swapped, the double is the robot that is saved.
    await page.keyboard.press('x');
    const beside = await robot(page);
    for (const [key, value] of Object.entries(double.values)) expect(at(beside, key), `double: ${key}`).toEqual(inFile(value));
  });
}

test('what a link was copied from comes back by it, in another browser, and is one undo away', async ({
  open,
  browser,
}) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  await page.keyboard.press('s');
  await page.keyboard.press('t');
  const link = await copied(page);
  expect(link).toMatch(/#k1=cobnut,head\.mass=1\.3;v=front;l=2/);
  const made = await robot(page);

  const context = await browser.newContext();
  const other = await context.newPage();
  await other.goto(link.replace(/#.*/, ''));
  await ready(other);
  await other.getByRole('combobox', { name: 'robot' }).selectOption('thimble');
  // Typed into the address of a page that is open.
  await other.evaluate((hash) => {
    location.hash = hash;
  }, link.replace(/^[^#]*#/, ''));
  await expect(other.locator('.revisions .line .name').first()).toHaveText('link: Cobnut opened');
  expect(await robot(other)).toEqual(made);
  await expect(other.locator('.views .view')).toHaveText('front view');
  await other.locator('.revisions').getByRole('button', { name: 'undo' }).click();
  await expect(other.locator('#see')).toContainText('Thimble');
  await context.close();
});

test('a robot of one’s own goes by its whole file', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const own = { ...(await robot(page)), name: 'Burdock' };
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({ name: 'own.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(own)) });
  await expect(page.locator('#see')).toContainText('Burdock');
  const made = await robot(page);
  const link = await copied(page);
  expect(link).toContain('#k1=~');
  await page.getByRole('combobox', { name: 'robot' }).selectOption('cobnut');
  await page.goto(link);
  await expect(page.locator('#see')).toContainText('Burdock');
  expect(await robot(page)).toEqual(made);
});

test('a bad or a newer link says what is wrong and keeps the robot', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  const problems = page.locator('.problems');
  for (const [hash, says] of [
    ['#k1=walnut', 'cobnut, thimble, hayrick'],
    ['#k2=cobnut', 'newer page'],
    ['#k1=cobnut,head.mass=900', 'from 0.001 to 30 kg'],
    ['#k1=cobnut,head.mass=NaN', 'a number'],
    ['#k1=cobnut,head.weight=1', 'a knob that this page knows'],
    ['#k1=cobnut;l=7', '0, 1, 2'],
    ['#k1=cobnut;k=1', '2 numbers'],
    ['#k1=cobnut;q=1', 'v, l, k, b, u or d'],
    ['#k1=~7VjLkqs2EP0V', 'cut on its way'],
    ['#k1=', 'a demo robot'],
    ['#k1=<img src=x onerror=alert(1)>', 'a demo robot'],
  ] as const) {
    await page.evaluate((text) => {
      location.hash = text;
    }, hash);
    await expect(problems, hash).toContainText(says);
    await expect(problems).toContainText('the robot on the board');
    await problems.getByRole('button', { name: 'close' }).click();
    await expect(number(page, 'head.mass')).toHaveValue('1.30 kg');
    await expect(page.locator('.revisions .line')).toHaveCount(2);
  }
});

test('the code holds the link and follows the knobs', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'Kept runs' }).click();
  const box = page.locator('.linkbox');
  await expect(box.locator('textarea')).toHaveValue(/#k1=cobnut$/);
  await expect(box.getByRole('img', { name: 'QR code of the link' })).toBeVisible();
  const before = await box.locator('path').getAttribute('d');
  await number(page, 'head.mass').fill('1.3 kg');
  await page.keyboard.press('Enter');
  await expect(box.locator('textarea')).toHaveValue(/head\.mass=1\.3/);
  expect(await box.locator('path').getAttribute('d')).not.toBe(before);
});

test('the double goes by the link too: motors off, and a robot of its own', async ({ open }) => {
  const page = await open('page', '#k1=cobnut;l=2');
  await ready(page);
  const double = page.locator('#double');
  await expect(page.locator('.switch button[aria-checked="true"]')).toHaveClass(/level-2/);
  await page.getByRole('button', { name: 'double', exact: true }).click();
  await double.getByRole('button', { name: 'software off' }).click();
  expect(await copied(page)).toMatch(/#k1=cobnut;l=2;d=off$/);
  // Turned knobs are the double's too as long as it is the same robot.
  await double.getByRole('button', { name: 'put away' }).click();
  expect(await copied(page)).toMatch(/#k1=cobnut;l=2$/);
  await number(page, 'head.mass').fill('1.3 kg');
  await number(page, 'head.mass').press('Enter');
  await page.keyboard.press('d');
  await expect(double).toContainText('before head weight');
  const link = await copied(page);
  expect(link).toMatch(/#k1=cobnut,head\.mass=1\.3;l=2;.*d=cobnut$/);

  await page.goto(link.replace(/#.*/, '#k1=thimble'));
  await expect(page.locator('#see')).toContainText('Thimble');
  await page.goto(link);
  await expect(page.locator('#see')).toContainText('Cobnut');
  await expect(double).toBeVisible();
  expect(await copied(page)).toBe(link);
  await page.keyboard.press('x');
  await expect(number(page, 'head.mass')).toHaveValue('0.900 kg');
});

test('a double that a link describes wrongly is refused with the whole link', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const problems = page.locator('.problems');
  for (const [hash, says] of [
    ['#k1=thimble;d=walnut', 'cobnut, thimble, hayrick'],
    ['#k1=thimble;d=cobnut,head.mass=900', 'from 0.001 to 30 kg'],
    ['#k1=thimble;d=', 'a demo robot'],
    ['#k1=thimble;d=off;d=off', 'v, l, k, b, u or d'],
  ] as const) {
    await page.evaluate((text) => {
      location.hash = text;
    }, hash);
    await expect(problems, hash).toContainText(says);
    await problems.getByRole('button', { name: 'close' }).click();
    await expect(page.locator('#see')).toContainText('Cobnut');
    await expect(page.locator('#double')).toBeHidden();
  }
});

test('a link too long for a camera says so instead of a code', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const made = await robot(page);
  // A name and parts of one's own are in no demo robot: the whole file must go along.
  const parts = Array.from({ length: 12 }, (_, index) => ({
    name: `part ${index} ${(index * 7919 + 104729).toString(36)} ${(index * 15485863 + 32452843).toString(36)}`,
    body: 'carriage',
    mass: 0.01 + index / 1000,
    height: -0.05 - index / 997,
  }));
  const own = JSON.stringify({ ...made, name: 'Burdock', parts: [...(made['parts'] as object[]), ...parts] });
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({ name: 'own.json', mimeType: 'application/json', buffer: Buffer.from(own) });
  await expect(page.locator('#see')).toContainText('Burdock');
  await page.getByRole('button', { name: 'Kept runs' }).click();
  const box = page.locator('.linkbox');
  await expect(box.getByRole('status')).toContainText(/This link of \d+ characters is too long for a code/);
  await expect(box.getByRole('img')).toHaveCount(0);
  const link = await box.locator('textarea').inputValue();
  expect(link.length).toBeGreaterThan(1200);
  // It is a link all the same.
  await page.getByRole('combobox', { name: 'robot' }).selectOption('cobnut');
  await expect(box.getByRole('img', { name: 'QR code of the link' })).toBeVisible();
  await expect(box.getByRole('status')).toHaveText('');
  await page.goto(link);
  await expect(page.locator('#see')).toContainText('Burdock');
});
