// Lessons: every one played through by its own checks; what they show of Cobnut; left, and all as
// before; by keyboard alone and for ears; a teacher's own files. How they look: lessons.looks.spec.ts.

import { readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import type { Locator, Page } from '@playwright/test';
import { act, fasterClock, HANDS, item, lessons, openLesson, play, step, where } from '../support/lessons.ts';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

test.describe.configure({ timeout: 120_000 });

const ROOT = path.resolve(import.meta.dirname, '../../..');
const DATA = path.join(ROOT, 'www/src/places/lessons/data');
interface File {
  key: string;
  [part: string]: unknown;
}
const FILES = readdirSync(DATA)
  .filter((name) => name.endsWith('.json'))
  .sort()
  .map((name) => JSON.parse(readFileSync(path.join(DATA, name), 'utf8')) as File);

/** What each must have said of Cobnut; the numbers are asked of the simulation there and then. */
const SHOWN: Readonly<Record<string, readonly RegExp[]>> = {
  stands: [/lean, come back and rock\. So it is/, /it is 4\.56 kg/, /It stands again/],
  rocks: [/measured 1\.9\d s/, /formula gives 1\.94 s/, /slower: a longer period\. So it is/, /formula now says 2\.66 s/],
  levels: [/You said: steadied\. So it is/],
  'correction-damping-memory': [/swing on, or ever wider\. So it is/, /never settle\. So it is/, /rests leaning by/, /What happened: it comes upright/],
  delay: [/With 4 ticks, 40\.0 ms/, /takes? fewer watts: it trembles less\. So it is/],
  'calm-zone': [/What happened: fewer watts, but it settles later/],
  'levelling-locked': [/rock wider and wider\. So it is/, /Settled in .* The head levels just the same/],
  'dip-and-lead': [/What happened: clearly smaller/],
  'grams-on-the-head': [/search ended at 4\.\d+ kg/, /Standing ends at 4\.56 kg/],
  watts: [/6\.0\d W while it stands/, /What happened: less than driving/],
  'rim-or-axle': [/more than three times as much\. So it is/, /lever of 5 to one/],
  floors: [/sooner, but it comes to rest leaning\. So it is/, /go on swaying\. So it is/, /The carriage swung by 3\.\d+°/],
};

const told = (page: Page): Locator => page.locator('.lessons .opens [role=status]');

async function openFile(page: Page, text: string, name = 'mine.json'): Promise<void> {
  await page.locator('[data-open=lesson]').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

/** What is heard: every text of a live region, in order. */
function listen(): void {
  const heard: string[] = [];
  Object.assign(window, { heard });
  new MutationObserver((changes) => {
    for (const { target } of changes) {
      const element = target instanceof Element ? target : target.parentElement;
      const region = element?.closest('[aria-live], [role=status], [role=alert]');
      const text = region?.textContent.trim() ?? '';
      if (region !== null && region !== undefined && text !== '' && heard.at(-1) !== text) heard.push(text);
    }
  }).observe(document, { childList: true, subtree: true, characterData: true });
}
const heard = (page: Page): Promise<string> => page.evaluate(() => (window as unknown as { heard: string[] }).heard.join('\n'));

test('every lesson of the page has a player here, in the order of the list', async ({ open }) => {
  expect(Object.keys(HANDS)).toEqual(FILES.map(({ key }) => key));
  const page = await open('page');
  await ready(page);
  await lessons(page);
  expect(await page.locator('.lessonlist li').evaluateAll((items) => items.map((one) => one.getAttribute('data-lesson')))).toEqual(
    FILES.map(({ key }) => key),
  );
});

for (const { key } of FILES) {
  test(`${key}: played through`, async ({ open, page }) => {
    await page.addInitScript(fasterClock);
    await open('page', `#lesson=${key}`);
    await openLesson(page, key);
    const said = (await play(page, key)).join('\n');
    for (const shown of SHOWN[key] ?? [/cannot be/]) expect(said).toMatch(shown);
    // It is done, the next one is offered, and the page's robot is back.
    await expect(page.locator('.switch')).not.toContainText('steadied');
    const next = FILES[FILES.findIndex((one) => one.key === key) + 1];
    if (next !== undefined) await expect(page.locator('.lessonend')).toContainText(`next: ${String(next['title'])}`);
    await page.getByRole('button', { name: 'all lessons' }).click();
    await expect(item(page, key)).toHaveAttribute('data-done', 'true');
    await page.reload();
    await ready(page);
    await lessons(page);
    await expect(item(page, key)).toHaveAttribute('data-done', 'true');
  });
}

test('from a double-clicked file: a lesson on the board and one that runs trials', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await open('file', '#lesson=stands');
  await openLesson(page, 'stands');
  expect((await play(page, 'stands')).join('\n')).toMatch(/it is 4\.56 kg/);
  await page.evaluate(() => {
    location.hash = '#lesson=watts';
  });
  await openLesson(page, 'watts');
  expect((await play(page, 'watts')).join('\n')).toMatch(/6\.0\d W while it stands/);
});

test('pressing is not enough: the simulation must show it', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await open('page', '#lesson=rocks');
  await openLesson(page, 'rocks');
  const to = async (text: string): Promise<void> => {
    await expect(where(page)).toHaveText(text, { timeout: 30_000 });
  };
  await step(page).locator('.go').click();
  await step(page).getByRole('button', { name: 'no idea' }).click();
  await act(page, ['press', 'kick']);
  await to('step 4 of 8');
  await expect(step(page)).toContainText('You made no guess. It is: 1.9');
  await step(page).locator('.go').click();
  // No guess is no answer.
  await step(page).getByRole('button', { name: 'that is my guess' }).click();
  await expect(step(page).getByRole('alert')).toContainText('Choose one first');
  await step(page).getByRole('radio').first().check();
  await step(page).getByRole('button', { name: 'that is my guess' }).click();
  await to('step 6 of 8');
  // A kick with the head as it was.
  await act(page, ['press', 'kick']);
  await expect(step(page).locator('.watch')).toContainText('not yet what is asked for', { timeout: 20_000 });
  await expect(step(page).locator('.hint')).toBeVisible();
  // A knob turned while it runs says nothing of the knob.
  await act(page, ['press', 'kick']);
  await act(page, ['knob', 'head.mass', '2 kg']);
  await expect(step(page).locator('.watch')).toContainText('A knob was turned while it ran');
  await page.waitForTimeout(3000);
  await to('step 6 of 8');
  await act(page, ['press', 'kick']);
  await to('step 7 of 8');
  await expect(step(page)).toContainText('You said: faster: a shorter period. What happened: slower');
});

/** The page's own account of what stands on the board. */
const standing = (page: Page) =>
  page.evaluate(() => ({
    memory: JSON.parse(localStorage.getItem('kickstill') ?? '{}') as Record<string, unknown>,
    checked: document.querySelector('.switch [aria-checked=true]')?.textContent,
    view: document.querySelector('.views .view')?.textContent,
    double: document.querySelector('#double .label')?.textContent,
    guide: document.querySelector<HTMLElement>('.guide')?.dataset['step'],
  }));

test('left at any time, and everything is as before', async ({ open }) => {
  const page = await open('page', '#k1=thimble,head.mass=0.12;v=front;l=2;k=0.5,0.1;d=off');
  await ready(page);
  await expect(page.locator('#double .label')).toHaveText('software off');
  await page.getByRole('button', { name: 'skip the guide' }).click();
  await page.waitForTimeout(700);
  const before = await standing(page);
  const ways: readonly ((page: Page) => Promise<void>)[] = [
    (one) => one.getByRole('button', { name: 'leave the lesson' }).click(),
    (one) => one.keyboard.press('Escape'),
    (one) => one.locator('.placeindex').getByRole('button', { name: 'Power' }).click(),
    async (one) => {
      await one.reload();
      await ready(one);
      await expect(one.locator('.notice')).toContainText('The last visit ended within a lesson');
    },
  ];
  for (const leave of ways) {
    await page.evaluate(() => {
      location.hash = '#lesson=stands';
    });
    await openLesson(page, 'stands');
    await step(page).locator('.go').click();
    await step(page).getByRole('button', { name: 'no idea' }).click();
    await act(page, ['press', 'kick']);
    await expect(page.locator('#double')).toBeHidden();
    await expect(page.getByRole('combobox', { name: 'robot' })).toHaveValue('cobnut');
    await page.waitForTimeout(700);
    await leave(page);
    await expect(page.locator('#double .label')).toHaveText('software off');
    await page.waitForTimeout(700);
    expect(await standing(page)).toEqual(before);
    expect(await page.evaluate(() => localStorage.getItem('kickstill-lesson'))).toBeNull();
  }
  // The lesson's robot and the way back stand in the table, and can be undone.
  await expect(page.locator('.revisions')).toContainText('back from the lesson');
});

test('the first lesson by keyboard alone, and heard', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await page.addInitScript(listen);
  await open('page');
  await ready(page);
  const tabTo = async (selector: string): Promise<void> => {
    for (let i = 0; i < 120; i++) {
      if (await page.evaluate((one) => document.activeElement?.matches(one) === true, selector)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${selector}`);
  };
  const go = async (text: string): Promise<void> => {
    await expect(where(page)).toHaveText(text, { timeout: 30_000 });
  };
  await tabTo('.placeindex button:first-child');
  await page.keyboard.press('Enter');
  await expect(page.locator('.lessonlist')).toBeVisible();
  await tabTo('.lessonlist [data-lesson=stands] .title');
  await page.keyboard.press('Enter');
  await go('step 1 of 9');
  await expect(step(page).locator('h3')).toBeFocused();
  await tabTo('.step .go');
  await page.keyboard.press('Enter');
  await go('step 2 of 9');
  await tabTo('.step input[type=radio]');
  await page.keyboard.press('ArrowUp');
  await expect(step(page).getByRole('radio').last()).toBeChecked();
  await page.keyboard.press('Enter');
  await go('step 3 of 9');
  await page.keyboard.press('k');
  await go('step 4 of 9');
  // The hand stayed where it was: what had the focus is gone, the new step has it.
  await expect(step(page).locator('h3')).toBeFocused();
  await tabTo('.step .go');
  await page.keyboard.press('Enter');
  await go('step 5 of 9');
  await tabTo('.step input[type=text]');
  await page.keyboard.type('4,5 kg');
  await page.keyboard.press('Enter');
  await go('step 6 of 9');
  await tabTo('.step [data-key="head.mass"] .number');
  await page.keyboard.type('5 kg');
  await page.keyboard.press('Enter');
  await page.keyboard.press('r');
  await page.keyboard.press('k');
  await go('step 7 of 9');
  await tabTo('.step .go');
  await page.keyboard.press('Enter');
  await go('step 8 of 9');
  await tabTo('.step [data-key="carriage.below_centre"] .number');
  await page.keyboard.type('160 mm');
  await page.keyboard.press('Enter');
  await page.keyboard.press('k');
  await go('step 9 of 9');
  await tabTo('.step .go');
  await page.keyboard.press('Enter');
  await expect(page.locator('.lessonend h2')).toBeFocused();

  const all = await heard(page);
  for (const words of [
    /Look, step 1 of 9\. This is Cobnut, seen from the front/,
    /Predict, step 2 of 9\. We kick it\. What will it do\? tip over and stay down\. stop at once\. lean, come back and rock\./,
    /Do, step 3 of 9\. Kick it/,
    /Done\. See, step 4 of 9\. You said: lean, come back and rock\. So it is\. It leaned by 16\.\d°/,
    /You said 4\.50 kg; it is 4\.56 kg\. That is close\. With a head of 5\.00 kg it leaned by/,
    /It stands again: it leaned by/,
    /“What stands a ball up” is done\. Your robot stands on the board as before\./,
  ]) {
    expect(all).toMatch(words);
  }
});

test('lessons are valid by the schema, and by the page as files of a teacher’s', async ({ open }) => {
  // The validator comes with the page's build tools.
  const tools = createRequire(createRequire(path.join(ROOT, 'www/package.json')).resolve('workbox-build'));
  const { default: Ajv } = tools('ajv/dist/2020') as { default: new (options: object) => { compile(schema: object): (value: unknown) => boolean } };
  const valid = new Ajv({ allErrors: true, allowUnionTypes: true, strict: false }).compile(
    JSON.parse(readFileSync(path.join(ROOT, 'www/public/lesson.schema.json'), 'utf8')) as object,
  );
  const page = await open('page');
  await ready(page);
  await lessons(page);
  for (const file of FILES) {
    expect(valid(file), file.key).toBe(true);
    await openFile(page, JSON.stringify({ ...file, key: `own-${file.key}` }));
    await expect(item(page, `own-${file.key}`)).toBeVisible({ timeout: 20_000 });
  }
  // What the schema refuses, the page refuses: the same slips in both.
  const good = FILES[0] as File;
  const steps = good['steps'] as object[];
  const slips: readonly (readonly [File, RegExp])[] = [
    [{ ...good, version: 2 }, /version – given: 2 – expected: 1 \(it may be for a newer page: reload this one\) – kept: the list of lessons as it was/],
    [{ ...good, key: 'Mein Schlüssel' }, /key – given: Mein Schlüssel – expected: small letters/],
    [{ ...good, minutes: '2' }, /minutes – given: 2 – expected: a number from 0\.5 to 15/],
    [{ ...good, note: 'x' }, /note – given: note – expected: one of format, version, key/],
    [{ ...good, steps: [] }, /steps – given: 0 – expected: a list of 1 to 40/],
    [{ ...good, steps: [{ kind: 'tell', text: 'x' }] }, /steps\[0\]\.kind – given: tell – expected: say, predict, do, see/],
    [{ ...good, steps: [{ kind: 'do', text: 'x' }] }, /steps\[0\]\.until – given: missing – expected: what must be true/],
    [{ ...good, steps: [{ kind: 'do', text: 'x', until: { run: 'kick', seconds: 99 } }] }, /steps\[0\]\.until\.seconds – given: 99/],
    [{ ...good, steps: [{ kind: 'do', text: 'x', until: { measure: 'peak' } }] }, /steps\[0\]\.until .*“above”, “below” or both/],
    [{ ...good, steps: [{ kind: 'predict', name: 'a', ask: 'x' }] }, /“choices” or “number”, one of them/],
    [{ ...good, sets: {} }, /sets\.robot – given: missing – expected: this is needed/],
  ];
  for (const [slip, words] of slips) {
    expect(valid(slip), JSON.stringify(slip).slice(0, 80)).toBe(false);
    await openFile(page, JSON.stringify(slip));
    await expect(page.locator('.lessons .refusal')).toHaveText(words);
  }
  // And what no schema can tell: names of the robot, of runs, of formulas.
  const more: readonly (readonly [object[], RegExp])[] = [
    [[{ kind: 'say', text: '{head.weight} heavy' }], /steps\[0\]\.text – given: head\.weight – expected: a knob, or NAME\.MEASURE/],
    [[{ kind: 'say', text: '{=2*(3 | kg}' }], /steps\[0\]\.text .*expected: “\)” at the end/],
    [[{ kind: 'do', text: 'x', until: { knob: 'lean.power', above: 1 } }], /until\.knob – given: lean\.power – expected: a knob/],
    [[{ kind: 'do', text: 'x', until: { run: 'jump' } }], /until\.run – given: jump – expected: any, kick, bump, start, stop/],
    [[{ kind: 'do', text: 'x', keep: 'head', until: { run: 'kick' } }], /keep – given: head – expected: small letters/],
    [[{ kind: 'see', text: 'x', guesses: ['none'] }], /guesses\[0\] – given: none – expected: nothing fits here/],
  ];
  for (const [list, words] of more) {
    await openFile(page, JSON.stringify({ ...good, key: 'mine', steps: list }));
    await expect(page.locator('.lessons .refusal')).toHaveText(words);
  }
  await openFile(page, JSON.stringify({ ...good, steps: [...steps, { kind: 'say' }], title: '' }));
  await expect(told(page)).toHaveText('mine.json: 2 things are wrong; the list is as it was.');
  await openFile(page, '{\n  "format": "kickstill-lesson",\n  "version" 1\n}');
  await expect(page.locator('.lessons .refusal')).toHaveText(/file, line 3, column \d+ – given: .* – expected: a file in JSON/);
  await openFile(page, JSON.stringify(good));
  await expect(page.locator('.lessons .refusal')).toHaveText(/key – given: stands – expected: another key/);
  await expectAccessible(page);
  await expect(page.locator('.lessonlist li')).toHaveCount(2 * FILES.length);
});

test('a teacher’s lesson is opened, linked, played, replaced, taken off', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await open('page');
  await ready(page);
  await lessons(page);
  const mine = (title: string): string =>
    JSON.stringify({
      format: 'kickstill-lesson',
      version: 1,
      key: 'soft-carpet',
      title,
      about: 'One sentence.',
      minutes: 1,
      sets: { robot: 'own', level: 'off', view: 'front', knobs: { 'floor.rolling_resistance': 0.03, 'head.mass': '1.1 kg' } },
      steps: [
        { kind: 'predict', name: 'far', ask: 'How far?', number: { truth: 'first.peak', unit: 'deg', within: 0.3 } },
        { kind: 'do', text: 'Kick it.', press: ['kick'], until: { run: 'kick', over: true }, keep: 'first' },
        { kind: 'see', guesses: ['far'], text: '{first.outcome}, with a head of {head.mass}.' },
      ],
    });
  await openFile(page, mine('On carpet'));
  await expect(told(page)).toHaveText('“On carpet” is on the list.');
  await openFile(page, mine('On soft carpet'));
  await expect(told(page)).toHaveText('“On soft carpet” is on the list, in the place of the one before.');
  await page.reload();
  await ready(page);
  await page.evaluate(() => {
    location.hash = '#lesson=soft-carpet';
  });
  await openLesson(page, 'soft-carpet');
  await step(page).getByRole('textbox').fill('12');
  await step(page).getByRole('button', { name: 'that is my guess' }).click();
  await act(page, ['press', 'kick']);
  await expect(step(page)).toContainText(/You said 12\.0°; it is 1\d\.\d°\. That is close\.Rests leaning by .*, with a head of 1\.10 kg\./, { timeout: 20_000 });
  await step(page).locator('.go').click();
  await expect(page.locator('.lessonend')).toContainText('That was the last one.');
  await page.getByRole('button', { name: 'all lessons' }).click();
  // Its file can be had again.
  const saving = page.waitForEvent('download');
  await item(page, 'soft-carpet').getByRole('button', { name: 'save the file of “On soft carpet”' }).click();
  expect(JSON.parse(readFileSync(await (await saving).path(), 'utf8'))).toEqual(JSON.parse(mine('On soft carpet')));
  await item(page, 'soft-carpet').getByRole('button', { name: 'take “On soft carpet” off the list' }).click();
  await expect(page.locator('.lessonlist li')).toHaveCount(FILES.length);
  await page.evaluate(() => {
    location.hash = '#lesson=soft-carpet';
  });
  await expect(page.locator('.lessons > .note')).toContainText('There is no lesson “soft-carpet” here');
});
