// The page in German: everything that the core says has its German words. What was not told is kept
// by the page in a set (www/src/words/teller.ts); here much is brought to speak, and the set stays empty.

import { readFileSync } from 'node:fs';
import type { Locator, Page } from '@playwright/test';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { number, outcome, ready } from '../support/sheet.ts';

const COBNUT = readFileSync(new URL('../../../crates/robot/demos/cobnut.json', import.meta.url), 'utf8');
/** What a worker takes at most. */
const LONG = { timeout: 60_000 };

test.describe.configure({ timeout: 240_000 });

test.beforeEach(async ({ page, open }) => {
  await page.addInitScript(() => {
    localStorage.setItem('kickstill-language', 'de');
    localStorage.setItem('kickstill-untold', 'kept');
  });
  await open('page');
  await ready(page);
  await expect(page.locator('html')).toHaveAttribute('lang', 'de');
});

test.afterEach(async ({ page }) => {
  const untold = await page.evaluate(() => [...(window as unknown as { kickstillUntold: Set<string> }).kickstillUntold]);
  expect(untold, 'said by the core, and not told in German').toEqual([]);
});

async function openPlace(page: Page, name: string): Promise<Locator> {
  await page.locator(`.placeindex [data-place="${name}"]`).click();
  const place = page.locator('#place');
  await expect(place.locator(':scope > *').nth(1)).toBeVisible(LONG);
  return place;
}

/** Opens all that folds, several times: what is opened may hold more. */
async function unfold(page: Page): Promise<void> {
  for (let i = 0; i < 3; i++) {
    await page.evaluate(() => {
      for (const one of document.querySelectorAll('details')) one.open = true;
    });
  }
}

/** Waits until nothing is being worked out. */
async function idle(page: Page): Promise<void> {
  await page.waitForTimeout(600);
  await expect(page.locator('#place progress:visible')).toHaveCount(0, LONG);
}

const file = (name: string, text: string) => ({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

test('board, knobs, drawing and results speak German', async ({ page }) => {
  await expect(page.locator('.callouts [data-key="head.mass"] .label')).toContainText('Gewicht des Kopfes');
  await expect(page.locator('.robots .summary')).toContainText('Haselnuss');
  await page.keyboard.press('k');
  await expect(outcome(page)).not.toHaveAttribute('data-class', /going|none/, { timeout: 30_000 });
  await page.locator('.switch .level-2').click();
  await page.keyboard.press('k');
  await expect(outcome(page)).toHaveText(/^ausgeschwungen nach [\d.]+ s/, { timeout: 30_000 });
  // What is typed wrongly is told, and what was kept.
  const mass = number(page, 'head.mass');
  const wrong = page.locator('.callouts [data-key="head.mass"] .wrong');
  for (const [typed, says] of [
    ['schwer', 'eine Zahl'],
    ['1,2 kg', 'schreibe die Dezimalen mit Punkt: 1.2'],
    ['3 parsec', '„parsec“ ist hierfür keine Einheit'],
    ['900 kg', 'eine Zahl von'],
    ['1 . 2 kg', 'Zahl'],
    ['1e999', 'zu groß'],
  ] as const) {
    await mass.fill(typed);
    await page.keyboard.press('Enter');
    await expect(wrong).toContainText(says);
  }
  await page.keyboard.press('Escape');
  await expectAccessible(page);
});

test('all knobs, all views and every choice speak German', async ({ page }) => {
  await page.locator('[aria-controls="all-knobs"]').first().click();
  await unfold(page);
  const choices = page.locator('#all-knobs .knob.choice');
  await expect(choices.first()).toBeVisible();
  const german = choices.filter({ has: page.locator('select', { hasText: 'Kranz' }) });
  await expect(german.first()).toBeVisible();
  const shown = await page.locator('#all-knobs .knob .label').allTextContents();
  expect(shown.length).toBeGreaterThan(120);
  // A choice made by its German word is the file's English one.
  const drive = page.locator('#all-knobs [data-key="travel_drive.kind"] select');
  await drive.selectOption({ label: 'Achse' });
  const saving = page.waitForEvent('download');
  await page.locator('.robots .files button').nth(1).click();
  const saved = JSON.parse(readFileSync(await (await saving).path(), 'utf8')) as { travel_drive: { kind: string } };
  expect(saved.travel_drive.kind).toBe('axle');
  await page.locator('.switch .level-1').click();
  for (const key of ['v', 'k', 'b', 'v', 'k', 'b']) {
    await page.keyboard.press(key);
    await page.waitForTimeout(400);
  }
  await page.waitForTimeout(3000);
});

test('damaged robot files are told in German, each of their errors', async ({ page }) => {
  const cobnut = JSON.parse(COBNUT) as Record<string, Record<string, unknown>>;
  const but = (change: (robot: typeof cobnut) => void): string => {
    const robot = structuredClone(cobnut);
    change(robot);
    return JSON.stringify(robot, null, 2);
  };
  const open = page.locator('.robots input[type=file]').first();
  for (const [name, text, says] of [
    ['leer.json', '', 'die Datei ist leer'],
    ['ab.json', COBNUT.slice(0, 900), 'die Datei endet zu früh'],
    ['andere.json', '[1, 2, 3]', 'eine Roboterdatei'],
    ['tief.json', '['.repeat(1000), 'weniger Verschachtelung'],
    ['komma.json', COBNUT.replace('"version": 1,', '"version": 1,,'), 'Anführungszeichen'],
    ['kommentar.json', `// mein\n${COBNUT}`, 'JSON kennt keine Kommentare'],
    ['einfach.json', COBNUT.replaceAll('"', "'"), 'doppelte Anführungszeichen'],
    ['neu.json', but((r) => Object.assign(r, { version: 9 })), 'neueren Fassung'],
    ['schluessel.json', but((r) => Object.assign(r, { hed: {} })), 'meintest du „head“?'],
    ['fehlt.json', but((r) => Reflect.deleteProperty(r['head'] ?? {}, 'mass')), 'der Schlüssel fehlt'],
    ['wort.json', but((r) => Object.assign(r['travel_drive'] ?? {}, { kind: 'wheel' })), 'eines der Wörter "axle", "rim"'],
    ['gross.json', but((r) => Object.assign(r['head'] ?? {}, { mass: 1e6 })), 'eine Zahl von'],
    ['text.json', but((r) => Object.assign(r['head'] ?? {}, { mass: '1 kg' })), 'ohne Anführungszeichen'],
    ['name.json', but((r) => Object.assign(r, { name: 7, summary: [], parts: {}, marks: [], outlines: 3 })), 'ein Text'],
    ['teile.json', but((r) => Object.assign(r, { parts: [{ name: 'x' }, 3, { name: 'a', body: 'arm', mass: -1, height: 9 }] })), 'eine Zahl von 0 bis 300 kg'],
    ['viele.json', but((r) => Object.assign(r, { head: {}, carriage: {}, shell: {}, lean: {}, travel: {} })), 'der Schlüssel fehlt'],
    ['faellt.json', but((r) => Object.assign(r['head'] ?? {}, { mass: 25, above_centre: 0.6 })), 'hängende Gewicht'],
    ['dunkel.json', but((r) => Object.assign(r['battery'] ?? {}, { brown_out_voltage: 60 })), 'der Batterie'],
    ['haelt.json', but((r) => Object.assign(r['head_joint'] ?? {}, { breakaway: 0 })), 'was ein ruhendes Gelenk'],
  ] as const) {
    await open.setInputFiles(file(name, text));
    await expect(page.locator('.problems')).toContainText(name);
    await expect(page.locator('.problems'), name).toContainText(says);
  }
});

test('trials, their limits and budgets speak German', async ({ page }) => {
  const place = await openPlace(page, 'trials');
  await unfold(page);
  const trial = place.locator('select').first();
  const atOnce = place.locator('[data-act="at-once"]').first();
  await expect(trial.locator('option').nth(9)).toBeAttached(LONG);
  for (const kind of ['kick', 'stop', 'emergency-stop', 'slope-start', 'wall']) {
    await trial.selectOption(kind);
    await atOnce.click();
    await idle(page);
  }
  await expect(place.locator('.trialresult .outcome')).toBeVisible();
  await place.locator('#trials-tab-1').click();
  await place.locator('[data-act="check"]').click();
  await expect(place.locator('[data-summary]')).toContainText(/Grenzen (eingehalten|verletzt)/, LONG);
  await place.locator('#trials-tab-2').click();
  await place.locator('[data-act="find"]').click();
  await expect(place.locator('[data-row]').first()).toBeVisible({ timeout: 120_000 });
});

test('edge, its spans, motions, simulations and hand methods speak German', async ({ page }) => {
  await page.locator('.switch .level-2').click();
  const place = await openPlace(page, 'edge');
  await unfold(page);
  await expect(place.locator('table.poles tbody button').first()).toBeVisible(LONG);
  await expect(place.locator('.outcome').first()).toHaveText(/stabil/i, LONG);
  for (const act of ['hunt', 'hand']) {
    await place.locator(`[data-act="${act}"]`).first().click();
    await idle(page);
  }
  for (const select of await place.locator('select').all()) {
    for (const value of await select.locator('option').evaluateAll((all) => all.map((one) => (one as HTMLOptionElement).value))) {
      await select.selectOption(value);
      await page.waitForTimeout(500);
    }
  }
  await number(page, 'head.mass').fill('4 kg');
  await page.keyboard.press('Enter');
  await page.waitForTimeout(4000);
});

test('map, what matters and the head story speak German', async ({ page }) => {
  const place = await openPlace(page, 'map');
  await unfold(page);
  await idle(page);
  const presses = place.locator('button.act:visible');
  await expect(presses.first()).toBeVisible();
  for (let i = 0; i < (await presses.count()); i++) {
    const press = presses.nth(i);
    if (await press.isEnabled()) await press.click();
    await idle(page);
  }
});

test('a suggestion is explained in German', async ({ page }) => {
  const place = await openPlace(page, 'suggest');
  await expect(place.locator('[data-act="search"]')).toBeEnabled(LONG);
  await unfold(page);
  for (const loop of ['head', 'lean', 'carriage']) await place.locator(`[data-loop="${loop}"]`).uncheck();
  await place.locator('select').first().selectOption({ index: 0 });
  await place.locator('[data-act="search"]').click();
  await expect(page.locator('.suggested')).toBeVisible({ timeout: 180_000 });
  await expect(page.locator('.suggested')).toContainText(/Grenzen/);
});

test('what is asked of the supply is told in German', async ({ page }) => {
  await page.locator('.robots .pick').selectOption({ index: 2 });
  const place = await openPlace(page, 'power');
  await expect(place.locator('.fusepart .outcome')).toBeVisible(LONG);
  await unfold(page);
  const programme = place.locator('textarea').first();
  for (const text of ['20 s this trial\n60 s idle\n30 s 40 W', '20 s this trial\nsoon idle\n30 s\n5 weeks idle\n3 s jump']) {
    await programme.fill(text);
    await programme.press('Tab');
    await page.waitForTimeout(1500);
  }
});

test('the guided start, its spread and the parts ledger speak German', async ({ page }) => {
  const place = await openPlace(page, 'robot');
  const field = (key: string): Locator => place.locator(`.ten [data-key="${key}"] .entry > :first-child`);
  await expect(place.locator('.ten [data-key="floor"]')).toBeVisible(LONG);
  for (const [key, text] of [
    ['shell_diameter', '440mm'],
    ['shell_mass', 'viel'],
    ['carriage_mass', '9.2'],
    ['carriage_below', '900 mm'],
    ['head_mass', '1e9'],
    ['motor_count', '2.5'],
    ['servo_torque', '0.0001'],
  ] as const) {
    await field(key).fill(text);
    await field(key).press('Tab');
  }
  await page.waitForTimeout(1500);
  for (const [key, text] of [
    ['shell_mass', '8 lb'],
    ['carriage_below', '98 mm'],
    ['head_mass', '650 g'],
    ['motor_count', '2'],
    ['servo_torque', '3'],
  ] as const) {
    await field(key).fill(text);
    await field(key).press('Tab');
  }
  await field('floor').selectOption('wood');
  await page.waitForTimeout(1500);
  const sections = place.locator('.robotindex button');
  for (let i = 0; i < (await sections.count()); i++) {
    await sections.nth(i).click();
    await unfold(page);
    await page.waitForTimeout(500);
    const acts = place.locator('button.act:visible:enabled');
    if (i > 0 && (await acts.count()) > 0) await acts.first().click();
    await idle(page);
  }
});
