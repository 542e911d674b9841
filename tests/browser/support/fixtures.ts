// What specs import: `test` with the built page served and watched, `expect`, and the axe check.

import { AxeBuilder } from '@axe-core/playwright';
import { test as base, expect, type Page } from '@playwright/test';
import type { Browser as FirefoxBrowser } from 'puppeteer-core';
import { launchFirefox, openFirefoxPage, type FirefoxPage } from './firefox.ts';
import { startSite, type Site } from './site.mjs';
import { reportPolicyBreaches, Watch } from './watch.ts';
import { launchWebKit, tell, type WebKit, type WebKitPage } from './webkit.ts';

/** The two builds, and the bare core. */
export type Where = 'page' | 'file' | 'core';

interface TestFixtures {
  /** What must stay empty; checked after every test. */
  watch: Watch;
  /** Opens a build in Chromium's `page`. */
  open: (where: Where, suffix?: string) => Promise<Page>;
  /** Opens a build in Firefox; closed after the test. */
  openFirefox: (where: Where, suffix?: string) => Promise<FirefoxPage>;
  /** Opens a build in WebKit, in a session of its own; the test is skipped where there is none. */
  openWebKit: (where: Where, suffix?: string) => Promise<WebKitPage>;
}

interface WorkerFixtures {
  site: Site;
  firefox: FirefoxBrowser;
  webkit: WebKit | undefined;
}

export const test = base.extend<TestFixtures, WorkerFixtures>({
  site: [
    async ({}, use) => {
      const site = await startSite();
      await use(site);
      await site.close();
    },
    { scope: 'worker' },
  ],
  firefox: [
    async ({}, use) => {
      const browser = await launchFirefox();
      await use(browser);
      await browser.close();
    },
    { scope: 'worker', timeout: 60_000 },
  ],
  webkit: [
    async ({}, use) => {
      const browser = await launchWebKit();
      await use(browser);
      await browser?.end();
    },
    { scope: 'worker', timeout: 60_000 },
  ],
  watch: [
    async ({ site }, use) => {
      const watch = new Watch([`${site.origin}/`, site.file]);
      await use(watch);
      expect(watch.seen, 'console messages, errors, outside requests').toEqual([]);
    },
    { auto: true },
  ],
  page: async ({ page, watch }, use) => {
    page.on('console', (message) => {
      // Said by the driver where it blocks them; see playwright.config.ts.
      if (message.text().startsWith('Service Worker registration blocked')) return;
      watch.note(`console ${message.type()}: ${message.text()}`);
    });
    page.on('pageerror', (error) => watch.note(`uncaught: ${error.message}`));
    page.on('request', (request) => watch.request(request.url()));
    page.on('requestfailed', (request) => {
      // What a reload cuts short has not failed: late parts of the page load when it is idle.
      if (request.failure()?.errorText === 'net::ERR_ABORTED') return;
      watch.note(`failed: ${request.url().slice(0, 200)}`);
    });
    page.on('response', (response) => {
      if (response.status() >= 400) watch.note(`status ${response.status()}: ${response.url()}`);
    });
    await page.addInitScript(reportPolicyBreaches);
    await use(page);
  },
  open: async ({ page, site }, use) => {
    await use(async (where, suffix = '') => {
      await page.goto(site[where] + suffix);
      return page;
    });
  },
  openFirefox: async ({ firefox, site, watch }, use) => {
    const opened: FirefoxPage[] = [];
    await use(async (where, suffix = '') => {
      const page = await openFirefoxPage(firefox, watch, site[where] + suffix);
      opened.push(page);
      return page;
    });
    for (const page of opened) await page.close();
  },
  openWebKit: async ({ webkit, site, watch }, use, testInfo) => {
    testInfo.skip(webkit === undefined, 'WebKit’s driver is not on this system');
    const opened: WebKitPage[] = [];
    await use(async (where, suffix = '') => {
      if (webkit === undefined) throw new Error('WebKit’s driver is not on this system');
      const page = await webkit.open(site, where, suffix);
      opened.push(page);
      return page;
    });
    for (const page of opened) {
      if (testInfo.status !== testInfo.expectedStatus) await testInfo.attach('window', { body: await page.screenshot(), contentType: 'image/png' });
      await tell(page, watch);
      await page.close();
    }
  },
});

export { expect };

/** Looks by night and by day, on the same page: nothing but the colours is another. */
export async function byNightAndDay(page: Page, look: (colorScheme: 'light' | 'dark') => Promise<void>): Promise<void> {
  for (const colorScheme of ['dark', 'light'] as const) {
    await test.step(colorScheme, async () => {
      await page.emulateMedia({ colorScheme });
      await expect(page.locator('html')).toHaveAttribute('data-theme', colorScheme === 'dark' ? 'night' : 'day');
      // A colour on its way to another is neither.
      await page.evaluate(async () => {
        await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
        await Promise.allSettled(document.getAnimations().map((one) => (one instanceof CSSTransition ? one.finished : undefined)));
      });
      await look(colorScheme);
    });
  }
}

/**
 * Fails with rule, element and advice for every violation that axe finds. The legacy mode does all of it in the page
 * itself and not in a blank one that is opened each time, and of what is in order nothing is told: same rules, a
 * third of the time. It sees into frames of the page's own host, and the page has no other.
 */
export async function expectAccessible(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .setLegacyMode(true)
    .options({ resultTypes: ['violations'] })
    .analyze();
  const words = violations.flatMap(({ id, help, nodes }) =>
    nodes.map((node) => `${id}: ${help}: ${node.target.join(' ')}`),
  );
  expect(words).toEqual([]);
}
