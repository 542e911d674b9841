// The handbook: complete in both languages, its examples recomputed, every knob in it; on the page found by
// list, link and words; printed; for everyone.

import { existsSync, mkdtempSync, cpSync, readFileSync, writeFileSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from '@playwright/test';
import { differences, skeleton } from '../../../www/handbook/build/check.ts';
import { FOLDER, sources } from '../../../www/handbook/build/chapters.ts';
import { examples, worked } from '../../../www/handbook/build/worked.ts';
import { expect, expectAccessible, test } from '../support/fixtures.ts';
import { ready } from '../support/sheet.ts';

const LANGUAGES = ['en', 'de'] as const;
const TITLES = { en: 'How the model works', de: 'Wie das Modell rechnet' } as const;

const heading = (page: Page): ReturnType<Page['locator']> => page.locator('.chapter h2');

test.describe('files', () => {
  test('both languages have the same chapters, headings, equations, examples, keys and links', () => {
    const [english, german] = [sources('en'), sources('de')];
    expect(english.length).toBeGreaterThan(12);
    expect(differences(english, german)).toEqual([]);
    const parts = english.flatMap(skeleton);
    expect(parts.filter((part) => part.startsWith('$$')).length).toBeGreaterThan(20);
    for (const [at, source] of german.entries()) expect(source.text, source.name).not.toBe(english[at]?.text);
  });

  test('a translation that lags behind is told', () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'handbook-'));
    cpSync(FOLDER, folder, { recursive: true });
    const file = path.join(folder, 'de/07-body.md');
    const german = readFileSync(file, 'utf8');
    for (const [what, changed] of [
      ['an equation', german.replace('4\\pi^2', '2\\pi^2')],
      ['a number of an example', german.replace('m_1 = 5.62 kg', 'm_1 = 5.63 kg')],
      ['a heading', german.replace('## Wiegen', '### Wiegen')],
      ['a row', german.replace(/^\| Verzögerung .*\n/m, '')],
      ['a link', german.replace('(03-model.md)', '(04-limits.md)')],
    ] as const) {
      expect(changed, what).not.toBe(german);
      writeFileSync(file, changed);
      expect(differences(sources('en', folder), sources('de', folder)).length, what).toBe(1);
    }
  });

  test('every example comes out; a wrong one is refused', () => {
    for (const language of LANGUAGES) {
      const all = sources(language).flatMap(({ text }) => examples(text));
      expect(all.length).toBeGreaterThan(20);
      expect(all.flat().filter(({ formula }) => formula !== '').length).toBeGreaterThan(40);
    }
    expect(worked('m = 2 kg\nW = m*g = 19.6 N').at(-1)?.value).toBeCloseTo(19.6133, 10);
    for (const [text, reason] of [
      ['m = 2 kg\nW = m*g = 19.7 N', /gives 19\.6133/],
      ['W = m*g = 19.7 N', /"m" is not known/],
      ['m = 2 stone', /unit "stone"/],
      ['m is 2 kg', /expected name/],
      ['m = 2 kg\nW = m*process = 1', /"process" is not known/],
      ['m = 2 kg\nW = m*(g = 19.6 N', /expected "\)"/],
    ] as const) {
      expect(() => worked(text), text).toThrow(reason);
    }
  });

  test('links between chapters and to files of the project lead somewhere', () => {
    for (const language of LANGUAGES) {
      for (const { file, text } of sources(language)) {
        for (const [, target = ''] of text.matchAll(/\]\(([^)]+)\)/g)) {
          expect(existsSync(path.resolve(path.dirname(file), target)), `${file}: ${target}`).toBe(true);
        }
      }
    }
  });
});

for (const language of LANGUAGES) {
  test.describe(language, () => {
    test.use({ locale: language });

    test('a link opens its chapter; list, words and neighbours lead on', async ({ open }) => {
      const page = await open('page', '#handbook=model');
      await expect(heading(page)).toHaveText(TITLES[language]);
      await expect(heading(page)).toBeFocused();
      expect(new URL(page.url()).hash).toBe('');
      await expect(page.locator('.contents [aria-current=page]')).toHaveText(TITLES[language]);
      expect(await page.locator('.chapter math').count()).toBeGreaterThan(60);
      expect(await page.locator('.chapter math:not([alttext])').count()).toBe(0);
      await expect(page.locator('.chapter [role=img] svg')).toBeVisible();
      await page.locator('.around [rel=next]').click();
      await expect(heading(page)).toBeFocused();
      await expect(page.locator('.contents [aria-current=page]')).toHaveAttribute('href', '#handbook=limits');
      await page.locator('.contents [href="#handbook=sheet"]').click();
      await page.locator('.chapter [href="#handbook=cautions"]').last().click();
      await expect(page.locator('.contents [aria-current=page]')).toHaveAttribute('href', '#handbook=cautions');
      await page.locator('#handbook-find').fill(language === 'de' ? 'bifilarpendel' : 'BIFILAR pendulum');
      await page.locator('.hits a').first().click();
      await expect(page.locator('.chapter h3:focus')).toHaveText(/[Bb]ifilar/);
      await page.locator('#handbook-find').fill('xyzzy');
      await expect(page.locator('.hits li')).toHaveCount(0);
    });

    test('every knob is in it, as the robot is set, and follows', async ({ open }) => {
      const page = await open('page', '#handbook=knobs');
      await expect(page.locator('.knobtable').first()).toBeVisible();
      const listed = await page.locator('.knobtable [data-knob]').evaluateAll((rows) => rows.map((row) => (row as HTMLElement).dataset['knob']));
      const file = readFileSync(path.resolve(import.meta.dirname, '../../../crates/robot/KNOBS.md'), 'utf8');
      const known = [...file.matchAll(/^\| `([a-z_.]+)`/gm)].map(([, key]) => key);
      expect(known.length).toBeGreaterThan(100);
      expect([...listed].sort()).toEqual([...known].sort());
      const mass = page.locator('[data-knob="head.mass"]');
      await expect(mass).toContainText('0.900 kg');
      await expect(mass).toContainText('0.00100 kg … 30.0 kg');
      await expect(page.locator('[data-knob="shell.outer_radius"]')).toContainText('50.0 mm … 1000 mm');
      await expect(page.locator('[data-knob="travel.correction"] td').last()).toContainText('6.6');
    });

    test('every chapter: headings in order, no dead link, axe finds nothing, nothing wider than the window', async ({ open }) => {
      test.slow();
      const page = await open('page', '#handbook=sheet');
      await expect(heading(page)).toBeVisible();
      const names = sources(language).map(({ name }) => name);
      for (const scheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme: scheme });
        for (const name of names) {
          await page.locator(`.contents [href="#handbook=${name}"]`).click();
          await expect(page.locator('.contents [aria-current=page]')).toHaveAttribute('href', `#handbook=${name}`);
          const levels = await page.locator('.chapter :is(h1,h2,h3,h4,h5)').evaluateAll((all) => all.map(({ tagName }) => Number(tagName.slice(1))));
          expect(levels[0]).toBe(2);
          for (const [at, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[at - 1] ?? 1) + 1);
          for (const href of await page.locator('.chapter a').evaluateAll((all) => all.map((link) => link.getAttribute('href') ?? ''))) {
            expect(names).toContain(href.replace('#handbook=', ''));
          }
          expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), name).toBeLessThanOrEqual(0);
          // Chapters are of one kind: equations, examples, tables and drawings are in these, and axe takes long.
          if (name === 'model' || (name === 'knobs' && scheme === 'dark')) await expectAccessible(page);
        }
      }
    });
  });
}

test('printed, the chapter or the whole handbook stands alone', async ({ open }) => {
  const page = await open('page', '#handbook=cautions');
  await expect(heading(page)).toBeVisible();
  await page.evaluate(() => {
    const printed: string[][] = [];
    Object.assign(window, { printed });
    window.print = () => {
      window.dispatchEvent(new Event('beforeprint'));
      printed.push([...document.querySelectorAll('.handbookpaper h2')].map(({ textContent }) => textContent));
      window.dispatchEvent(new Event('afterprint'));
    };
  });
  await page.getByRole('button', { name: 'print this chapter' }).click();
  await page.getByRole('button', { name: 'print the handbook' }).click();
  const printed = await page.evaluate(() => (window as unknown as { printed: string[][] }).printed);
  expect(printed[0]).toEqual(['Cautions']);
  expect(printed[1]).toHaveLength(sources('en').length);
  await expect(page.locator('.handbookpaper')).toHaveCount(0);
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  await expect(page.locator('.sheet')).toBeHidden();
  await expect(page.locator('.handbookpaper')).toBeVisible();
});

test('a link to no chapter says so; the one file has it all', async ({ open }) => {
  let page = await open('page', '#handbook=nowhere');
  await expect(page.locator('.handbook > [role=status]')).toHaveText('There is no chapter “nowhere”.');
  page = await open('file', '#handbook=model');
  await expect(heading(page)).toHaveText(TITLES.en);
  await expect(page.locator('.chapter [role=img] svg')).toBeVisible();
});

test.describe('narrow, by touch', () => {
  test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

  test('nothing is wider than the window; the contents fold away', async ({ open }) => {
    const page = await open('page');
    await ready(page);
    await page.evaluate(() => {
      location.hash = '#handbook=model';
    });
    await expect(heading(page)).toHaveText(TITLES.en);
    for (const name of ['measures', 'drive', 'knobs', 'robot']) {
      await page.locator('.contents > summary').click();
      await page.locator(`.contents [href="#handbook=${name}"]`).click();
      await expect(page.locator('.contents')).not.toHaveAttribute('open');
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
    }
    await page.locator('.contents > summary').click();
    const low = await page.locator('.contents a, .contents summary, .contents input').evaluateAll((all) =>
      all.map((element) => element.getBoundingClientRect().height).filter((height) => height > 0 && height < 43.5),
    );
    expect(low).toEqual([]);
    await expectAccessible(page);
  });
});

test('the folder holds nothing but chapters and their pictures', () => {
  expect(readdirSync(FOLDER).sort()).toEqual(['build', 'de', 'en', 'pictures']);
});
