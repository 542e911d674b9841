// Robot files: opened, dropped, saved, refused.

import { readFileSync } from 'node:fs';
import { expect, test } from '../support/fixtures.ts';
import { number, ready } from '../support/sheet.ts';

const file = (name: string, text: string) => ({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

test('the demo robots can be picked', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const pick = page.getByRole('combobox', { name: 'robot' });
  for (const name of ['Thimble', 'Hayrick', 'Cobnut']) {
    await pick.selectOption({ label: name });
    await expect(page.locator('#see')).toContainText(name);
    await page.keyboard.press('k');
    await expect(page.locator('.trial')).toHaveText(/kick/);
  }
});

test('a robot opened while a demo is on its way stays', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const own = readFileSync(await (await saving).path(), 'utf8').replace('"Cobnut"', '"Burdock"');

  let send = (): void => undefined;
  const held = new Promise<void>((resolve) => (send = resolve));
  await page.route(/hayrick-[^/]*\.js$/, async (route) => {
    await held;
    await route.continue();
  });
  const asked = page.waitForRequest(/hayrick-[^/]*\.js$/);
  await page.getByRole('combobox', { name: 'robot' }).selectOption({ label: 'Hayrick' });
  await asked;
  await page.locator('input[type=file]').setInputFiles(file('burdock.json', own));
  await expect(page.locator('#see')).toContainText('Burdock');
  const came = page.waitForResponse(/hayrick-[^/]*\.js$/);
  send();
  await (await came).finished();
  // It is there: what was asked for later had its turn before.
  await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 300)));
  await expect(page.locator('#see')).toContainText('Burdock');
  await expect(page.getByRole('combobox', { name: 'robot' })).toHaveValue('');
});

test('what is saved can be opened again', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await number(page, 'head.mass').fill('1.1 kg');
  await number(page, 'head.mass').press('Enter');
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const download = await saving;
  expect(download.suggestedFilename()).toBe('cobnut.robot.json');
  const text = readFileSync(await download.path(), 'utf8');
  expect((JSON.parse(text) as { head: { mass: number } }).head.mass).toBe(1.1);

  const own = text.replace('"Cobnut"', '"Burdock"');
  await page.locator('input[type=file]').setInputFiles(file('burdock.json', own));
  await expect(page.getByRole('combobox', { name: 'robot' })).toHaveValue('');
  await expect(page.locator('#see')).toContainText('Burdock');
  await expect(number(page, 'head.mass')).toHaveValue('1.10 kg');
  // Its parts no longer add up to the head's knob: said, not refused.
  await expect(page.locator('.problems').getByRole('heading')).toHaveText(/opened, with remarks/);
  await expect(page.locator('.problems li')).toContainText(/parts/);
});

test('a bad file is refused with all that is wrong, and the running robot goes on', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('k');
  const problems = page.locator('.problems');
  const good = await page.evaluate(async () => (await fetch('./robot.schema.json')).ok);
  expect(good, 'the schema is published beside the page').toBe(true);
  for (const [name, text, says] of [
    ['empty.json', '', /expected/],
    ['cut.json', '{"format": "kickstill-robot", "version": 1, "name": "Cut', /line 1/],
    ['other.json', '[1, 2, 3]', /expected/],
    ['picture.json', '\u0000\u0001\u0002', /expected/],
    ['deep.json', '['.repeat(100_000), /expected/],
    ['script.json', '{"format":"<img src=x onerror=alert(1)>"}', /expected/],
  ] as const) {
    await page.locator('input[type=file]').setInputFiles(file(name, text));
    await expect(problems.getByRole('heading')).toContainText(name);
    await expect(problems.locator('li').first()).toHaveText(says);
    expect(await problems.locator('img, script').count()).toBe(0);
    await problems.getByRole('button', { name: 'close' }).click();
    await expect(problems).toBeHidden();
  }
  await page.locator('input[type=file]').setInputFiles(file('huge.json', ' '.repeat(1_500_000)));
  await expect(problems).toContainText('at most 1 MB');
  await problems.getByRole('button', { name: 'close' }).click();
  await expect(page.getByRole('combobox', { name: 'robot' })).toHaveValue('cobnut');
  await page.keyboard.press('k');
  await expect(page.locator('.trial')).toHaveText(/kick/);
});

test('a file can be dropped, and every error in it is listed', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const text = readFileSync(await (await saving).path(), 'utf8');
  const robot = JSON.parse(text) as { shell: { mass: number; colour?: string }; head: { mass: unknown } };
  robot.shell.mass = -4;
  robot.shell.colour = 'red';
  robot.head.mass = 'light';
  await page.evaluate((content) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([content], 'mine.json', { type: 'application/json' }));
    for (const type of ['dragover', 'drop']) {
      document.body.dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: transfer }));
    }
  }, JSON.stringify(robot, null, 2));
  const problems = page.locator('.problems');
  await expect(problems).toContainText('shell.mass');
  await expect(problems).toContainText('head.mass');
  await expect(problems).toContainText('shell.colour');
  await expect(problems).toContainText(/line \d+/);
});
