// The place of trials: a trial in a worker and on the board, the show-day check, budgets.

import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, expectAccessible, test, type Where } from '../support/fixtures.ts';
import { knob, number, outcome, ready } from '../support/sheet.ts';

const digests = JSON.parse(readFileSync(new URL('../../digests/digests.json', import.meta.url), 'utf8')) as {
  name: string;
  digest: string;
}[];
const committed = (name: string): string => {
  const row = digests.find((one) => one.name === name);
  if (row === undefined) throw new Error(`no digest of ${name}`);
  return row.digest;
};

async function trials(open: (where: Where) => Promise<Page>, where: Where = 'page'): Promise<Page> {
  const page = await open(where);
  await ready(page);
  await page.getByRole('button', { name: 'Trials' }).click();
  await expect(page.getByRole('combobox', { name: 'trial' })).toHaveValue('kick');
  return page;
}

const found = (page: Page, key: string) => page.locator(`.trialresult [data-result="${key}"] td`).first();

async function run(page: Page, trial?: string): Promise<void> {
  if (trial !== undefined) await page.getByRole('combobox', { name: 'trial' }).selectOption(trial);
  await page.getByRole('button', { name: 'run it at once' }).click();
  await expect(page.locator('.trialresult .note').first()).toContainText(trial ?? 'kick');
}

for (const where of ['page', 'file'] as const) {
  test(`a trial in a worker has the digest of the command line (${where})`, async ({ open }) => {
    const page = await trials(open, where);
    for (const trial of ['kick', 'reverse', 'shoves']) {
      await run(page, trial);
      await expect(page.locator('.trialresult .digest')).toContainText(committed(`cobnut ${trial} side steadied`));
      await expect(page.locator('.trialresult .outcome')).toContainText('settled in');
      await expect(page.locator('.trialresult .charts canvas')).toHaveCount(4);
    }
  });
}

test('a run is compared with the same trial before, in words and by keys', async ({ open }) => {
  const page = await trials(open);
  await run(page);
  const before = (await found(page, 'peak').textContent()) ?? '';
  await page.getByRole('textbox', { name: 'impulse' }).fill('6');
  await page.keyboard.press('Enter');
  const row = page.locator('.trialresult [data-result="peak"] td');
  await expect(row).toHaveCount(3);
  await expect(row.nth(1)).toHaveText(before);
  await expect(row.nth(2)).toContainText('+');
  await expect(page.locator('#news')).toContainText('kick, side view, steadied: settled');

  // What is no such number is refused in the core's words, and the result stays.
  await page.getByRole('textbox', { name: 'height of the kick above the floor' }).fill('3 m');
  await page.keyboard.press('Enter');
  await expect(page.locator('.trials .refusal').first()).toContainText('480 mm');
  await expect(row.nth(1)).toHaveText(before);
});

test('inches are read and said', async ({ open }) => {
  const page = await trials(open);
  await page.getByRole('combobox', { name: 'units' }).selectOption('inch');
  const height = page.getByRole('textbox', { name: 'height of the kick above the floor' });
  await expect(height).toHaveValue('9.45 in');
  await height.fill('12');
  await run(page);
  await expect(found(page, 'drift')).toContainText(' in');
});

test('results are copied as Markdown and as CSV', async ({ open, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const page = await trials(open);
  await run(page);
  const copied = async (name: string): Promise<string> => {
    await page.locator('.trialresult').getByRole('button', { name }).click();
    await expect(page.locator('.notice')).toContainText('Copied');
    return page.evaluate(() => navigator.clipboard.readText());
  };
  const markdown = await copied('copy as Markdown');
  expect(markdown).toMatch(/^\| {2}\| found \|\n\| --- \| --- \|\n\| robot \| Cobnut \|\n/);
  expect(markdown).toContain(`| digest | ${committed('cobnut kick side steadied')} |`);
  const csv = await copied('copy as CSV');
  expect(csv).toMatch(/^trial,view,software,measure,value,unit,words\nkick,side,on,settling_time,/);
});

test('a long run is cancelled, and the next one has a fresh worker', async ({ open }) => {
  const page = await trials(open);
  await page.getByText('length, band, seed').first().click();
  const seconds = page.getByRole('textbox', { name: 'length of the run' }).first();
  await seconds.fill('600');
  await page.getByRole('button', { name: 'run it at once' }).click();
  await page.getByRole('button', { name: 'cancel' }).first().click();
  await expect(page.locator('#news')).toContainText('Cancelled');
  await expect(page.locator('.trialresult')).toContainText('No trial has been run yet');
  await seconds.fill('8');
  await run(page);
  await expect(page.locator('.trialresult .digest')).toContainText(committed('cobnut kick side steadied'));
});

test('a worker that cannot be loaded is said, and tried again', async ({ open, page, watch }) => {
  await page.route('**/lab_bg*.wasm', (route) => route.abort());
  await open('page');
  await ready(page);
  await page.getByRole('button', { name: 'Trials' }).click();
  await expect(page.locator('.trials [role=status]')).toContainText('This was not run');
  await page.unroute('**/lab_bg*.wasm');
  await page.getByRole('button', { name: 'back to the board' }).click();
  await page.getByRole('button', { name: 'Trials' }).click();
  await run(page);
  await expect(page.locator('.trialresult .outcome')).toContainText('settled');
  watch.expected(/lab_bg|ERR_FAILED/);
});

test('a trial is run on the board in its own time', async ({ open }) => {
  const page = await trials(open);
  await page.getByRole('button', { name: 'run it on the board' }).click();
  await expect(page.locator('.results .trial')).toHaveText(/kick · side view · steadied/);
  await expect(page.getByRole('button', { name: 'stop the run on the board' })).toBeVisible();
  await expect(outcome(page).first()).toContainText('settled', { timeout: 20_000 });
  await page.getByRole('combobox', { name: 'trial' }).selectOption('wall');
  await expect(page.getByRole('button', { name: 'run it on the board' })).toBeHidden();
});

test('the show-day check tells which limit is broken, and its file goes both ways', async ({ open }) => {
  const page = await trials(open);
  await page.getByRole('tab', { name: 'Show-day check' }).click();
  await page.getByRole('button', { name: 'run the check' }).click();
  const summary = page.locator('.verdicts .outcome');
  await expect(summary).toContainText('limits hold');

  const settle = page.getByRole('textbox', { name: 'kick, side view, steadied: settling time at most' });
  await settle.fill('0.1');
  await settle.press('Tab');
  await expect(settle).toHaveValue('0.100 s');
  await expect(page.locator('.verdicts')).toContainText('have changed since this check');
  await page.getByRole('button', { name: 'run the check' }).click();
  await expect(summary).toContainText('1 of 13 limits is broken');
  await expect(page.locator('.verdicts [data-holds=false]')).toContainText('broken');

  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save limits' }).click();
  const text = readFileSync(await (await saving).path(), 'utf8');
  expect(text).toContain('"format": "kickstill-limits"');

  // Nonsense is refused and the set stays.
  await settle.fill('soon');
  await settle.press('Tab');
  await expect(page.locator('.trials .refusal:visible')).toContainText('settling_time');

  await page.reload();
  await ready(page);
  await page.getByRole('button', { name: 'Trials' }).click();
  await page.getByRole('tab', { name: 'Show-day check' }).click();
  await expect(settle).toHaveValue('0.100 s');
  const box = page.locator('.trials input[type=file]');
  const limits = (name: string, content: string) => ({ name, mimeType: 'application/json', buffer: Buffer.from(content) });
  await box.setInputFiles(limits('wrong.json', '{"format": "kickstill-limits", "version": 1, "trials": [{"trial": "kik"}]}'));
  await expect(page.locator('.trials .refusal:visible')).toContainText('kick');
  await expect(settle).toHaveValue('0.100 s');
  await box.setInputFiles(limits('own.json', text.replace('"before a show"', '"Saturday"').replace('0.1 s', '0.2 s')));
  await expect(settle).toHaveValue('0.200 s');
  await expect(page.getByRole('textbox', { name: 'name of the set' })).toHaveValue('Saturday');
});

test('a budget is found with its bracket and can be cancelled', async ({ open }) => {
  const page = await trials(open);
  await page.getByRole('tab', { name: 'Budgets' }).click();
  // In one go: a fast machine has found it before a hand is there.
  await page.getByRole('button', { name: 'find it' }).evaluate((find: HTMLElement) => {
    find.click();
    for (const cancel of document.querySelectorAll<HTMLElement>('.place .cancel')) if (cancel.offsetParent !== null) cancel.click();
  });
  await expect(page.locator('#news')).toContainText('Cancelled');
  await page.getByRole('textbox', { name: 'head dip at most' }).fill('3');
  await page.getByRole('button', { name: 'find it' }).click();
  await expect(page.locator('.answer h2')).toContainText(/heaviest head: [\d.]+ kg/, { timeout: 30_000 });
  await expect(page.locator('.answer [data-row="must hold"]')).toContainText('3.00°');
  await expect(page.locator('.answer [data-row=bracket]')).toContainText(/holds at .* breaks at/);
});

test('a heavier head shows in the next run', async ({ open }) => {
  const page = await trials(open);
  await run(page, 'stop');
  const before = await found(page, 'head_dip').textContent();
  await number(page, 'head.mass').fill('2 kg');
  await number(page, 'head.mass').press('Enter');
  await expect(knob(page, 'head.mass')).toBeVisible();
  await run(page, 'stop');
  await expect(found(page, 'head_dip')).not.toHaveText(before ?? '');
  await expect(page.locator('.trialresult [data-result=head_dip] td').nth(2)).toContainText('+');
});

test('the place is accessible in each of its parts', async ({ open }) => {
  const page = await trials(open);
  await run(page);
  await expectAccessible(page);
  await page.getByRole('tab', { name: 'A trial' }).focus();
  await page.keyboard.press('ArrowRight');
  await expect(page.getByRole('tab', { name: 'Show-day check' })).toBeFocused();
  await page.getByRole('button', { name: 'run the check' }).click();
  await expect(page.locator('.verdicts .outcome')).toBeVisible();
  await expectAccessible(page);
  await page.getByRole('tab', { name: 'Budgets' }).click();
  await expectAccessible(page);
});
