// For everyone: every part in both languages and both lights, by keyboard alone, in the system's
// colours, with large text and for fingers. The places come from the index: a new one is covered by being there.

import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import type { Page } from '@playwright/test';
import { clipped, inLanguage, openPlace, overlapping, placeNames, settled } from '../support/everyone.ts';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { fasterClock, play } from '../support/lessons.ts';
import { outcome, sentence, shown } from '../support/sheet.ts';

test.describe.configure({ timeout: 240_000 });

const ROOT = path.resolve(import.meta.dirname, '../../..');
const LANGUAGES = ['en', 'de'] as const;
const places = async (page: Page): Promise<readonly number[]> => (await placeNames(page)).map((_, index) => index);

for (const language of LANGUAGES) {
  for (const colorScheme of ['light', 'dark'] as const) {
    test.describe(`${language} ${colorScheme}`, () => {
      test.use({ colorScheme });

      test('axe finds nothing in any place', async ({ open, page }) => {
        await inLanguage(page, language);
        await open('page');
        await settled(page);
        await expect(page.locator('html')).toHaveAttribute('lang', language);
        await expectAccessible(page);
        for (const index of await places(page)) {
          await test.step((await placeNames(page))[index] ?? '', async () => {
            await openPlace(page, index);
            await expectAccessible(page);
          });
        }
      });
    });
  }
}

for (const language of LANGUAGES) {
  test.describe(`text at 200 %, ${language}`, () => {
    // A window of 1280 by 800 with everything twice as large.
    test.use({ viewport: { width: 640, height: 400 } });

    test('nothing is wider than the window, clipped, or upon something else', async ({ open, page }) => {
      await inLanguage(page, language);
      await open('page');
      await settled(page);
      const look = async (): Promise<void> => {
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
        expect(await clipped(page)).toEqual([]);
        expect(await overlapping(page)).toEqual([]);
      };
      await look();
      for (const index of await places(page)) {
        await test.step((await placeNames(page))[index] ?? '', async () => {
          await openPlace(page, index);
          await look();
        });
      }
    });
  });
}

test.describe('text at 400 %', () => {
  test.use({ viewport: { width: 320, height: 256 } });

  test('everything flows anew into one column', async ({ open, page }) => {
    await inLanguage(page, 'de');
    await open('page');
    await settled(page);
    for (const index of await places(page)) {
      await openPlace(page, index);
      // What a worker finds has come too: it rests a while before it begins.
      await page.waitForTimeout(700);
      await expect(page.locator('.place progress:visible')).toHaveCount(0, { timeout: 30_000 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), (await placeNames(page))[index]).toBeLessThanOrEqual(0);
    }
  });
});

test.describe('fingers', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  // A link within a sentence is as high as the sentence.
  test('everything to press in every place is at least 44 px high and wide', async ({ open, page }) => {
    await inLanguage(page, 'de');
    await open('page');
    await settled(page);
    const small = (): Promise<string[]> =>
      page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('button, select, summary, textarea, a.link, nav a[href], input:not([type=checkbox], [type=radio], [type=file]), label:has([type=checkbox], [type=radio]), [role=slider]')]
          .filter((element) => element.checkVisibility())
          .map((element) => ({ element, box: element.getBoundingClientRect() }))
          .filter(({ box }) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
          .map(({ element, box }) => `${element.tagName.toLowerCase()}.${element.className} ${(element.textContent ?? '').slice(0, 30)} ${box.width.toFixed(0)}×${box.height.toFixed(0)}`),
      );
    const found: string[] = await small();
    for (const index of await places(page)) {
      await openPlace(page, index);
      const name = (await placeNames(page))[index] ?? '';
      found.push(...(await small()).map((one) => `${name}: ${one}`));
    }
    expect([...new Set(found)]).toEqual([]);
  });
});

test.describe('forced colours', () => {
  test.use({ forcedColors: 'active' });

  test('every place is whole; every drawing has ink', async ({ open, page }) => {
    await open('page');
    await settled(page);
    for (const index of await places(page)) {
      await test.step((await placeNames(page))[index] ?? '', async () => {
        await openPlace(page, index);
        await expectAccessible(page);
        await expect
          .poll(() =>
            page.evaluate(() =>
              [...document.querySelectorAll('canvas')]
                .filter((canvas) => canvas.checkVisibility() && canvas.width > 0 && canvas.closest('.u-hz, .uplot') === null)
                .map((canvas) => {
                  const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d', { willReadFrequently: true });
                  copy?.drawImage(canvas, 0, 0);
                  const data = copy?.getImageData(0, 0, canvas.width, canvas.height).data ?? new Uint8ClampedArray(0);
                  const colors = new Set<number>();
                  for (let i = 0; i < data.length; i += 4 * 7) colors.add(((data[i] ?? 0) << 16) | ((data[i + 1] ?? 0) << 8) | (data[i + 2] ?? 0));
                  return colors.size > 1;
                }),
            ),
          )
          .not.toContain(false);
      });
    }
  });
});

test.describe('by keyboard alone', () => {
  /** Tab, until the thing with this name has the focus. */
  async function tabTo(page: Page, name: RegExp, back = false): Promise<void> {
    for (let i = 0; i < 160; i++) {
      await page.keyboard.press(back ? 'Shift+Tab' : 'Tab');
      const [label, visible] = await page.evaluate(() => {
        const element = document.activeElement;
        if (!(element instanceof HTMLElement)) return ['', true] as const;
        const labelled = element instanceof HTMLInputElement || element instanceof HTMLSelectElement ? (element.labels?.[0]?.textContent ?? '') : '';
        const { outlineStyle, outlineWidth } = getComputedStyle(element);
        return [
          element.getAttribute('aria-label') ?? (labelled === '' ? (element.textContent ?? '').trim() : labelled.trim()),
          element === document.body || (outlineStyle !== 'none' && outlineWidth !== '0px'),
        ] as const;
      });
      expect(visible, `the focus on “${label}” can be seen`).toBe(true);
      if (name.test(label)) return;
    }
    throw new Error(`Tab does not come to ${name}`);
  }

  test('the first minute, without single keys', async ({ open, page }) => {
    await open('page');
    await settled(page);
    await tabTo(page, /^kick$/);
    await page.keyboard.press('Enter');
    await expect(sentence(page)).toHaveText('Now switch the software on.');
    await tabTo(page, /^off$/, true);
    await page.keyboard.press('ArrowRight');
    await expect(sentence(page)).toHaveText('Kick it again.');
    await tabTo(page, /^kick$/);
    await page.keyboard.press('Enter');
    await expect(sentence(page)).toHaveText('Hold → to drive, let go.', { timeout: 30_000 });
    await tabTo(page, /^drive forward$/);
    await page.keyboard.down('Enter');
    await page.waitForTimeout(1200);
    await page.keyboard.up('Enter');
    await expect(sentence(page)).toHaveText('Now make the head heavier.');
    await tabTo(page, /^head weight$/, true);
    await page.keyboard.type('1.5 kg');
    await page.keyboard.press('Enter');
    await expect(sentence(page)).toHaveText(/Kick it once more/);
    await tabTo(page, /^kick$/);
    await page.keyboard.press('Enter');
    await expect(sentence(page)).toHaveText(/“All knobs” opens the rest/);
  });

  test('a trial is chosen, run and read; Escape gives the board back', async ({ open, page }) => {
    await open('page');
    await settled(page);
    await tabTo(page, /^Trials$/);
    await page.keyboard.press('Enter');
    await expect(page.getByRole('tab', { name: 'A trial' })).toBeVisible();
    await tabTo(page, /^trial/);
    await page.keyboard.type('bump');
    await tabTo(page, /^run it at once$/);
    await page.keyboard.press('Enter');
    await expect(page.locator('.place .outcome')).toHaveText(/settled/, { timeout: 30_000 });
    await page.keyboard.press('Escape');
    await expect(page.locator('.place')).toBeHidden();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Trials');
  });
});

test.describe('the list of keys', () => {
  test('opens on ? and by a press, closes on Escape, and honours the switch of single keys', async ({ open, page }) => {
    await open('page');
    await settled(page);
    const list = page.getByRole('dialog', { name: 'Keys' });
    await page.keyboard.press('?');
    await expect(list).toBeVisible();
    await expect(list).toContainText('kick, as hard and as high as the last one');
    await expectAccessible(page);
    await page.keyboard.press('Escape');
    await expect(list).toHaveCount(0);
    await page.getByText('keys', { exact: true }).click();
    await page.getByLabel('single-key shortcuts').uncheck();
    await page.getByRole('button', { name: 'kick', exact: true }).focus();
    await page.keyboard.press('?');
    await page.waitForTimeout(300);
    await expect(list).toHaveCount(0);
    await page.getByRole('button', { name: 'all keys (?)' }).click();
    await expect(list).toContainText('Single keys are switched off now.');
    await list.getByRole('button', { name: 'close' }).click();
    await expect(page.getByRole('button', { name: 'all keys (?)' })).toBeFocused();
  });

  test('names every single key that the page listens for, in both languages', async ({ open, page }) => {
    const source = readFileSync(path.join(ROOT, 'www/src/shortcuts.ts'), 'utf8');
    const letters = [...(/letters: .*? = \{(.*?)\n {2}\};/s.exec(source)?.[1] ?? '').matchAll(/^ {4}(?:'(.)'|(\w)): \(\)/gm)].map((found) => (found[1] ?? found[2] ?? '').toUpperCase());
    expect(letters.length).toBeGreaterThan(9);
    for (const language of LANGUAGES) {
      await page.addInitScript((chosen) => {
        localStorage.setItem('kickstill-language', chosen);
      }, language);
      await open('page');
      await settled(page);
      await page.keyboard.press('?');
      await expect(page.locator('.keymap')).toBeVisible();
      const keys = await page.locator('.keymap kbd').allTextContents();
      for (const letter of letters) expect(keys, language).toContain(letter);
    }
  });
});



test.describe('languages', () => {
  test.use({ locale: 'en-GB' });

  test('the choice loads the page in the other one; robot, revisions and kept runs stay', async ({ open, page }) => {
    await open('page');
    await settled(page);
    const weight = page.locator('.callouts [data-key="head.mass"] .number');
    await weight.fill('1.4 kg');
    await weight.press('Enter');
    await page.keyboard.press('s');
    await page.keyboard.press('k');
    await expect(outcome(page)).toHaveText(/settled/, { timeout: 20_000 });
    await openPlace(page, 8);
    await page.getByRole('button', { name: 'keep the present run' }).click();
    await expect(page.locator('.place')).toContainText('Kept:');
    await page.locator('.placeindex .close').click();
    const choice = page.getByLabel('language');
    expect(await choice.locator('option').allTextContents()).toEqual(['English', 'Deutsch']);
    await choice.selectOption('de');
    await expect(page.locator('html')).toHaveAttribute('lang', 'de');
    await settled(page);
    await expect(page).toHaveTitle('Kickstill');
    await expect(page.locator('.callouts [data-key="head.mass"] .number')).toHaveValue('1.40 kg');
    await expect(page.locator('.revisions .line')).toHaveCount(2);
    await openPlace(page, 8);
    await expect(page.locator('.place input[aria-label^="Name von"]').first()).toBeVisible();
    await page.getByLabel('Sprache').selectOption('en');
    await expect(page.locator('html')).toHaveAttribute('lang', 'en');
    await settled(page);
    await expect(page.locator('.callouts [data-key="head.mass"] .number')).toHaveValue('1.40 kg');
    await page.locator('.revisions').getByRole('button', { name: /^undo/ }).click();
    await expect(page.locator('.callouts [data-key="head.mass"] .number')).toHaveValue('0.900 kg');
  });

  test.describe('a browser in German', () => {
    test.use({ locale: 'de-AT' });
    test('finds the page in German', async ({ open, page }) => {
      await open('page');
      await settled(page);
      await expect(page.locator('html')).toHaveAttribute('lang', 'de');
      await expect(sentence(page)).toHaveText('Gib der Kugel einen Tritt: zieh von ihr weg oder drück K.');
    });
  });

  test('both catalogues have the same form, and nothing is left in English', async () => {
    const files = readdirSync(path.join(ROOT, 'www/src/words/en')).filter((name) => name.endsWith('.ts'));
    for (const name of files) {
      const [english, german] = await Promise.all((['en', 'de'] as const).map((language) => import(path.join(ROOT, 'www/src/words', language, name)) as Promise<Tree>));
      expect(differences(english as Tree, german as Tree, name)).toEqual([]);
    }
  });

  test('no English of the page’s own catalogues is shown in German', async ({ open, page }) => {
    const foreign: string[] = [];
    for (const name of readdirSync(path.join(ROOT, 'www/src/words/en')).filter((one) => one.endsWith('.ts'))) {
      const [english, german] = await Promise.all((['en', 'de'] as const).map((language) => import(path.join(ROOT, 'www/src/words', language, name)) as Promise<Tree>));
      const own = new Set(leaves(german as Tree));
      foreign.push(...leaves(english as Tree).filter((text) => text.length > 3 && !own.has(text)));
    }
    await inLanguage(page, 'de');
    await open('page');
    await settled(page);
    const left = (): Promise<string[]> =>
      page.evaluate((texts) => {
        const english = new Set(texts);
        const found: string[] = [];
        const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
        for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
          const said = node instanceof Element ? ['aria-label', 'title', 'placeholder'].map((name) => node.getAttribute(name) ?? '') : [(node.textContent ?? '').trim()];
          for (const text of said) if (english.has(text)) found.push(text);
        }
        return found;
      }, foreign);
    // What the core says is not asked here: its own words lie in its file.
    const core = readFileSync(path.join(ROOT, 'www/src/core/pkg/whole_bg.wasm'), 'latin1');
    const own = (text: string): boolean => !core.includes(text);
    const found: string[] = (await left()).filter(own);
    for (const index of await places(page)) {
      await openPlace(page, index);
      await page.waitForTimeout(700);
      const name = (await placeNames(page))[index] ?? '';
      found.push(...(await left()).filter(own).map((text) => `${name}: ${text}`));
    }
    expect([...new Set(found)]).toEqual([]);
  });
});

type Tree = Readonly<Record<string, unknown>>;

/** All plain texts of a catalogue. */
function leaves(tree: unknown): string[] {
  if (typeof tree === 'string') return [tree];
  if (typeof tree !== 'object' || tree === null) return [];
  return Object.values(tree).flatMap(leaves);
}

/** Where one catalogue has what the other lacks, takes other arguments, or says a sentence in the same words. */
function differences(one: unknown, other: unknown, at: string): string[] {
  if (typeof one !== typeof other) return [`${at}: ${typeof one} and ${typeof other}`];
  if (typeof one === 'function') return one.length === (other as () => void).length ? [] : [`${at}: ${one.length} arguments and ${(other as () => void).length}`];
  if (typeof one === 'string') return one === other && / .* /.test(one) && !/^[^a-z]*$/i.test(one) && !UNTRANSLATED.includes(one) ? [`${at}: “${one}”`] : [];
  if (typeof one !== 'object' || one === null) return one === other ? [] : [`${at}: ${String(one)} and ${String(other)}`];
  const [here, there] = [one as Tree, other as Tree];
  const keys = [...new Set([...Object.keys(here), ...Object.keys(there)])];
  return keys.flatMap((key) => (key in here && key in there ? differences(here[key], there[key], `${at}.${key}`) : [`${at}.${key}: in one language only`]));
}
/** Texts that files and firmware read. */
const UNTRANSLATED = ['20 s this trial\n60 s idle\n30 s 40 W'];

test.describe('inches and pounds', () => {
  test('what the page says of ways and speeds follows', async ({ open, page }) => {
    await open('page');
    await settled(page);
    await page.getByLabel('units').selectOption('inch');
    await page.keyboard.press('s');
    await page.getByRole('button', { name: 'four strips' }).click();
    await expect(page.locator('.strips')).toContainText('speed, ft/s');
    await page.keyboard.down('ArrowRight');
    await expect.poll(() => page.locator('#see').textContent(), { timeout: 15_000 }).toMatch(/rolls forward at \d\.\d ft\/s/);
    await page.keyboard.up('ArrowRight');
    await expect.poll(() => page.locator('#see').textContent(), { timeout: 15_000 }).toMatch(/\d\.\d\d ft ahead of the start/);
    const text = (await page.locator('.sheet').innerText()).replace(/firmware[^\n]*/g, '');
    expect(text).not.toMatch(/\d (?:mm|kg|m\/s|m)\b/);
  });
});

/** What the page lays a lesson's texts over it with. */
interface Translate {
  readonly inTexts: (lesson: unknown, texts: unknown) => unknown;
  readonly BadTexts: new () => Error;
}

test.describe('lessons in German', () => {
  const DATA = path.join(ROOT, 'www/src/places/lessons/data');
  const read = (...parts: string[]): unknown => JSON.parse(readFileSync(path.join(DATA, ...parts), 'utf8'));
  const names = readdirSync(DATA).filter((name) => name.endsWith('.json'));

  test('every lesson has its texts, and they fit it', async () => {
    const { inTexts } = (await import(path.join(ROOT, 'www/src/places/lessons/translate.ts'))) as Translate;
    expect(readdirSync(path.join(DATA, 'de')).sort()).toEqual(names.sort());
    for (const name of names) {
      const lesson = read(name) as unknown;
      const told = inTexts(lesson, read('de', name) as unknown);
      // The same lesson but for its texts.
      const bare = (one: unknown): unknown =>
        JSON.parse(JSON.stringify(one, (key, value: unknown) => (['title', 'about', 'text', 'ask', 'help', 'called'].includes(key) ? '' : value)));
      expect(bare(told)).toEqual(bare(lesson));
      const texts = (one: unknown): string[] => leaves(one).filter((text) => / .* .* /.test(text) && !/[*/^(]/.test(text));
      expect(texts(told).filter((text) => texts(lesson).includes(text))).toEqual([]);
    }
  });

  test('texts that do not fit are told, each with its place', async () => {
    const { inTexts, BadTexts } = (await import(path.join(ROOT, 'www/src/places/lessons/translate.ts'))) as Translate;
    const lesson = read('01-stands.json') as unknown;
    const good = read('de', '01-stands.json') as { key: string; title: string; about: string; steps: Record<string, unknown>[] };
    const told = (change: (texts: typeof good) => void): string => {
      const texts = structuredClone(good);
      change(texts);
      try {
        inTexts(lesson, texts as unknown);
      } catch (cause) {
        if (cause instanceof BadTexts) return cause.message;
        throw cause;
      }
      return '';
    };
    expect(told(() => undefined)).toBe('');
    expect(told((texts) => texts.steps.pop())).toContain('steps: expected 9, given 8');
    expect(told((texts) => Object.assign(texts.steps[0] ?? {}, { text: 'Ohne Zahlen.' }))).toContain('steps[0].text: expected exactly {carriage.below_centre} {carriage.mass}');
    expect(told((texts) => Object.assign(texts.steps[1] ?? {}, { choices: ['eins', 'zwei'] }))).toContain('steps[1].choices: expected 3 texts, given 2');
    expect(told((texts) => Object.assign(texts.steps[2] ?? {}, { kind: 'say' }))).toContain('steps[2].kind: expected “do”, given “say”');
    expect(told((texts) => Object.assign(texts.steps[3] ?? {}, { ask: 'Was?' }))).toContain('steps[3].ask: the lesson has no such text');
    expect(told((texts) => delete texts.steps[2]?.['help'])).toContain('steps[2].help: expected a text');
  });

  for (const [key, shows] of [
    ['stands', [/sich neigen, zurückkommen und schaukeln\. So ist es/, /es ist 4\.56 kg/, /Er steht wieder/]],
    ['rocks', [/Die Tafel maß 1\.9\d s/, /gibt sie 1\.94 s/, /langsamer: eine längere Periode\. So ist es/]],
    ['levels', [/Du hast gesagt: geregelt\. So ist es/]],
  ] as const) {
    test(`${key} is played to its end by its own checks`, async ({ open, page }) => {
      await page.addInitScript(fasterClock);
      await inLanguage(page, 'de');
      await open('page', `#lesson=${key}`);
      await settled(page);
      await expect(page.locator('.lesson')).toHaveAttribute('data-lesson', key);
      const said = (await play(page, key)).join('\n');
      for (const show of shows) expect(said).toMatch(show);
      await expect(page.locator('.lessonend')).toContainText('ist geschafft');
    });
  }
});

/** What is heard: what is new in a live region, in order. To be added before the page loads. */
function listen(): void {
  const heard: string[] = [];
  Object.assign(window, { heard });
  new MutationObserver((changes) => {
    const told = new Set<Element>();
    for (const { target } of changes) {
      const element = target instanceof Element ? target : target.parentElement;
      const region = element?.closest('[aria-live], [role=status], [role=alert]');
      if (region !== null && region !== undefined && !told.has(region)) {
        told.add(region);
        const text = region.textContent.trim();
        if (text !== '' && region.checkVisibility()) heard.push(text);
      }
    }
  }).observe(document, { childList: true, subtree: true, characterData: true });
}

test.describe('eyes shut', () => {
  test('the first lesson by keyboard, names and ears alone', async ({ open, page }) => {
    await page.addInitScript(listen);
    await open('page');
    await settled(page);
    const heard = (): Promise<string[]> => page.evaluate(() => (window as unknown as { heard: string[] }).heard);
    /** Waits until this has been heard after what was heard before, and remembers how far the ear is. */
    let at = 0;
    const hears = async (text: RegExp, timeout = 15_000): Promise<void> => {
      await expect.poll(async () => (await heard()).slice(at).findIndex((one) => text.test(one)), { timeout, message: `heard: ${text}` }).toBeGreaterThanOrEqual(0);
      at += (await heard()).slice(at).findIndex((one) => text.test(one)) + 1;
    };
    /** Presses something by its role and name with Enter. */
    const press = async (role: 'button' | 'link', name: string | RegExp): Promise<void> => {
      const one = page.getByRole(role, { name, ...(typeof name === 'string' ? { exact: true } : {}) });
      await one.focus();
      await page.keyboard.press('Enter');
    };
    await press('button', 'Lessons');
    await press('button', 'begin: What stands a ball up');
    await hears(/^Look, step 1 of 9\. This is Cobnut, seen from the front\./);
    // The focus is where it goes on, in order.
    await expect(page.getByRole('heading', { name: 'Look' })).toBeFocused();
    await page.keyboard.press('Tab');
    await expect(page.getByRole('button', { name: 'go on' })).toBeFocused();
    await page.keyboard.press('Enter');
    await hears(/^Predict, step 2 of 9\. We kick it\. What will it do\? tip over and stay down\. stop at once\. lean, come back and rock\./);
    await page.getByRole('radio', { name: 'tip over and stay down' }).focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await expect(page.getByRole('radio', { name: 'lean, come back and rock' })).toBeChecked();
    await press('button', 'that is my guess');
    await hears(/^Do, step 3 of 9\. Kick it: drag from the ball, press K, or press the button\./);
    await press('button', 'kick (K)');
    await hears(/^Kick, \d\.\d N·s\.$/);
    await hears(/^The shell leans \d+° to the (left|right)\.$/);
    await hears(/^Then \d+° to the (left|right)\.$/);
    await hears(/^Done\. See, step 4 of 9\. You said: lean, come back and rock\. So it is\. It leaned by \d+\.\d° and came back\./);
    await expect(page.getByRole('heading', { name: 'See' })).toBeFocused();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await hears(/^Predict, step 5 of 9\. How heavy can the head be before the ball no longer stands\? kg/);
    await page.getByRole('textbox', { name: /How heavy can the head be/ }).focus();
    await page.keyboard.type('four');
    await page.keyboard.press('Enter');
    await hears(/^expected: a number of kg/);
    await page.getByRole('textbox', { name: /How heavy can the head be/ }).fill('');
    await page.keyboard.type('4');
    await page.keyboard.press('Enter');
    await hears(/^Do, step 6 of 9\. Make the head heavier/);
    const lesson = page.getByRole('region', { name: 'What stands a ball up' });
    await lesson.getByRole('textbox', { name: 'head weight' }).focus();
    await page.keyboard.type('5 kg');
    await page.keyboard.press('Enter');
    // On the track now, which says its value; a single key kicks from anywhere.
    await expect(lesson.getByRole('slider', { name: /head weight/ })).toHaveAttribute('aria-valuetext', '5.00 kg');
    await page.keyboard.press('r');
    await hears(/^Run again from rest\.$/);
    await page.keyboard.press('k');
    await hears(/^Kick, /);
    await hears(/^Done\. See, step 7 of 9\. You said 4\.00 kg; it is 4\.56 kg\. That is close\. With a head of 5\.00 kg it leaned by /);
    await expect(page.getByRole('heading', { name: 'See' })).toBeFocused();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await hears(/^Do, step 8 of 9\. Now save it/);
    await lesson.getByRole('textbox', { name: 'hangs below centre' }).focus();
    await page.keyboard.type('160 mm');
    await page.keyboard.press('Enter');
    await press('button', 'run again from rest (R)');
    await hears(/^Run again from rest\.$/);
    await page.keyboard.press('k');
    await hears(/^Kick, /);
    await hears(/^The shell leans \d+° to the /);
    await hears(/^Done\. See, step 9 of 9\. It stands again: it leaned by /);
    await page.keyboard.press('Tab');
    await expect(page.getByRole('button', { name: 'finish' })).toBeFocused();
    await page.keyboard.press('Enter');
    await hears(/^“What stands a ball up” is done\. Your robot stands on the board as before\.$/);
    await expect(page.getByRole('heading', { name: '“What stands a ball up” is done.' })).toBeFocused();
  });

  test('a kick is told from its push to its result', async ({ open, page }) => {
    await page.addInitScript(listen);
    await open('page');
    await settled(page);
    const heard = (): Promise<string> => page.evaluate(() => (window as unknown as { heard: string[] }).heard.join('\n'));
    await page.keyboard.press('s');
    await page.keyboard.press('k');
    await expect.poll(heard, { timeout: 15_000 }).toMatch(/Software: steadied\.[^]*Kick, 4\.0 N·s\.[^]*The carriage swings \d+° (forward|backward)\.[^]*settled in [^]*settling time \d/);
    expect(await shown(page.locator('[data-measure="settling_time"] .value'))).toBeGreaterThan(0);
  });
});
