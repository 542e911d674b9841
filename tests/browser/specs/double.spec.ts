// The double beside the robot, and the four strips with their shared cursor and tables.

import type { Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

const row = (page: Page): ReturnType<Page['locator']> => page.locator('#double');
const cell = (page: Page, measure: string, of: '.value' | '.ofdouble'): ReturnType<Page['locator']> =>
  page.locator(`.cell[data-measure="${measure}"] ${of}`);
const strip = (page: Page, name: string): ReturnType<Page['getByRole']> =>
  page.getByRole('slider', { name: new RegExp(`^strip: ${name}`) });

async function four(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'four strips' }).click();
  await expect(page.locator('.strip:visible')).toHaveCount(4);
}

test('software off against steadied: the same kick, other numbers; swap, become, put away', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await expect(row(page)).toBeHidden();
  await page.getByRole('button', { name: 'double', exact: true }).click();
  await expect(row(page).getByRole('button', { name: 'before the last change' })).toBeDisabled();
  await row(page).getByRole('button', { name: 'software off' }).click();
  await expect(row(page)).toContainText('software off');
  await page.getByRole('radio', { name: 'on', exact: true }).click();
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(cell(page, 'current_peak', '.value')).toHaveText(/\d/, { timeout: 15_000 });
  await expect(cell(page, 'current_peak', '.ofdouble')).toHaveText(/^B: /);
  await page.waitForTimeout(4000);
  const swings = async (of: '.value' | '.ofdouble'): Promise<number> =>
    Number.parseInt(((await cell(page, 'swings', of).textContent()) ?? '').replace('B: ', ''), 10);
  expect(await swings('.ofdouble')).toBeGreaterThan(await swings('.value'));
  await page.getByText('What you see').click();
  await expect(page.locator('#see')).toContainText('Double B, software off, side view, motors off');
  await expectAccessible(page);

  await row(page).getByRole('button', { name: 'swap' }).click();
  await expect(page.getByRole('radio', { name: 'off', exact: true })).toBeChecked();
  await expect(row(page)).toContainText('steadied');
  await expect.poll(async () => (await swings('.value')) > (await swings('.ofdouble'))).toBe(true);
  await row(page).getByRole('button', { name: 'swap' }).click();
  await expect(page.getByRole('radio', { name: 'on', exact: true })).toBeChecked();
  await expect(row(page)).toContainText('software off');

  await row(page).getByRole('button', { name: 'become it' }).click();
  await expect(row(page)).toBeHidden();
  await expect(page.getByRole('radio', { name: 'off', exact: true })).toBeChecked();
  await expect(cell(page, 'swings', '.ofdouble')).toBeHidden();
});

test('before the last change: the knob stands as it was on the double, and becoming it brings it back', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const mass = page.locator('[data-key="head.mass"] .number').first();
  const was = await mass.inputValue();
  await mass.fill('1.5 kg');
  await mass.press('Enter');
  await page.getByRole('button', { name: 'double', exact: true }).click();
  await row(page).getByRole('button', { name: 'before the last change' }).click();
  await expect(row(page)).toContainText('before head weight');
  await expect(mass).toHaveValue('1.50 kg');
  await row(page).getByRole('button', { name: 'become it' }).click();
  await expect(mass).toHaveValue(was);
  await page.keyboard.press('Control+z');
  await expect(mass).toHaveValue('1.50 kg');
});

test('a robot file as double; a damaged one is refused with reasons and changes nothing', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const pick = async (content: string): Promise<void> => {
    const link = page.getByRole('button', { name: 'double', exact: true });
    if ((await link.getAttribute('aria-expanded')) !== 'true') await link.click();
    const chooser = page.waitForEvent('filechooser');
    await row(page).getByRole('button', { name: 'a robot file' }).click();
    await (await chooser).setFiles({ name: 'mine.robot.json', mimeType: 'application/json', buffer: Buffer.from(content) });
  };
  await pick('{"format": "kickstill-robot"');
  await expect(page.locator('.problems')).toBeVisible();
  await page.locator('.problems').getByRole('button', { name: 'close' }).click();
  await expect(row(page).getByRole('button', { name: 'swap' })).toBeHidden();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const stream = await (await download).createReadStream();
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  await pick(Buffer.concat(chunks).toString('utf8'));
  await expect(row(page)).toContainText('mine');
  await page.keyboard.press('d');
  await expect(row(page).getByRole('button', { name: 'swap' })).toBeHidden();
});

test('four strips share one cursor, by mouse and by keys, and tell the values as text', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await expect(page.locator('.strip:visible')).toHaveCount(2);
  await four(page);
  await page.keyboard.press('d');
  await page.keyboard.press('s');
  await page.keyboard.press('k');
  await page.waitForTimeout(2500);
  await page.keyboard.press('p');
  const box = await page.locator('.strip .u-over').nth(2).boundingBox();
  if (box === null) throw new Error('no strip');
  await page.mouse.move(box.x + 0.1 * box.width, box.y + box.height / 2);
  await expect(page.locator('.strip .readings:visible')).toHaveCount(4);
  for (const reading of await page.locator('.strip .readings').allTextContents()) {
    expect(reading).toMatch(/^\d\.\d\d s · A .*\d.* · B .*\d/);
  }
  const lines = await page.locator('.cursorline').evaluateAll((all) => all.map((one) => one.getBoundingClientRect().x));
  const left = await page.locator('.strip .u-over').evaluateAll((all) => all.map((one) => one.getBoundingClientRect().x));
  const offsets = lines.map((x, index) => x - (left[index] ?? 0));
  for (const offset of offsets) expect(Math.abs(offset - (offsets[0] ?? 0))).toBeLessThan(2);
  await page.mouse.move(5, 5);
  await expect(page.locator('.strip .readings:visible')).toHaveCount(0);

  // Drawn along, it looks back; so do the arrow keys.
  await page.mouse.move(box.x + 0.12 * box.width, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.up();
  await page.mouse.move(5, 5);
  await expect(page.locator('.clock .at')).toHaveText(/^−\d\.\d\d s$/);
  const speed = strip(page, 'speed');
  await speed.focus();
  const first = await speed.getAttribute('aria-valuetext');
  await speed.press('ArrowRight');
  await expect(speed).not.toHaveAttribute('aria-valuetext', first ?? '');
  await expect(speed).toHaveAttribute('aria-valuetext', /^\d\.\d\d s · A −?\d+\.\d\d m\/s · B −?\d+\.\d\d m\/s$/);
  const at = await speed.getAttribute('aria-valuenow');
  await expect(strip(page, 'swing')).toHaveAttribute('aria-valuenow', at ?? '');
  await expect(page.locator('.strip .limit')).toContainText(['', '', '', /fuse \d+/]);
  await expectAccessible(page);
});

test('a table stands behind each strip and can be copied', async ({ open, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const page = await open('page');
  await ready(page);
  await page.keyboard.press('d');
  await page.keyboard.press('k');
  await page.waitForTimeout(2000);
  await page.getByRole('button', { name: 'table of swing' }).click();
  const table = page.getByRole('dialog').getByRole('table');
  await expect(table.locator('caption')).toContainText('swing, side view');
  await expect(table.getByRole('columnheader')).toHaveText(['time', /^A/, /^B/]);
  expect(await table.getByRole('row').count()).toBeGreaterThan(20);
  await expect(table.getByRole('row').nth(3)).toContainText(/\d\.\d/);
  await expectAccessible(page);
  await page.getByRole('button', { name: 'copy as CSV' }).click();
  await expect(page.getByRole('dialog').getByRole('status')).toHaveText('Copied.');
  const csv = await page.evaluate(() => navigator.clipboard.readText());
  expect(csv.split('\n')[0]).toBe('time_s,swing_a_deg,swing_b_deg');
  expect(csv.split('\n').length).toBeGreaterThan(20);
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'table of swing' })).toBeFocused();
});

test('four strips are remembered', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  await four(page);
  await page.waitForTimeout(600);
  await page.reload();
  await ready(page);
  await expect(page.locator('.strip:visible')).toHaveCount(4);
});

test('a double that loses its head says so, and stands up with the robot at the next kick', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'save this robot' }).click();
  const chunks: Buffer[] = [];
  for await (const chunk of await (await download).createReadStream()) chunks.push(chunk as Buffer);
  const robot = JSON.parse(Buffer.concat(chunks).toString('utf8')) as { hold: Record<string, unknown> };
  robot.hold = { ...robot.hold, force: 0.5, shear: 0.05 };
  await page.getByRole('button', { name: 'double', exact: true }).click();
  const chooser = page.waitForEvent('filechooser');
  await row(page).getByRole('button', { name: 'a robot file' }).click();
  await (await chooser).setFiles({ name: 'weak.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(robot)) });
  await expect(row(page)).toContainText('weak');
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(row(page)).toContainText('The head has come off', { timeout: 15_000 });
  await expect(page.locator('#news')).toContainText('Double B: The head has come off');
  await expect(page.locator('.ended')).toBeHidden();
  // How far one can look back tells how long both have stood or moved.
  const past = page.locator('.scrub');
  await expect(past).toHaveAttribute('min', /^-([3-9]|1\d)$/, { timeout: 15_000 });
  await page.getByRole('button', { name: 'kick', exact: true }).click();
  await expect(past).toHaveAttribute('min', /^-[12]$/, { timeout: 1500 });
  await expect(row(page)).toContainText('The head has come off', { timeout: 15_000 });
});

test('every slider at its ends leaves no mark without a place', async ({ open }) => {
  const page = await open('page');
  await ready(page);
  for (const end of ['max', 'min'] as const) {
    await page.evaluate((which) => {
      for (const slider of document.querySelectorAll<HTMLInputElement>('input[type=range]')) {
        slider.value = slider[which];
        slider.dispatchEvent(new Event('input', { bubbles: true }));
        slider.dispatchEvent(new Event('change', { bubbles: true }));
      }
    }, end);
    await page.waitForTimeout(500);
    const lost = await page.evaluate(
      () =>
        [...document.querySelectorAll('.leaders circle')].filter((mark) => {
          const [x, y] = ['cx', 'cy'].map((name) => Number.parseFloat(mark.getAttribute(name) ?? 'NaN'));
          return !mark.hasAttribute('hidden') && !(Number.isFinite(x) && Number.isFinite(y) && (x ?? 0) + (y ?? 0) > 5);
        }).length,
    );
    expect(lost).toBe(0);
  }
});
