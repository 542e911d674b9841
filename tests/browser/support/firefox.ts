// Firefox as the distribution ships it, driven by WebDriver BiDi through puppeteer.

import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { expect } from '@playwright/test';
import { firefoxPath } from './browsers.mjs';
import { reportPolicyBreaches, type Watch } from './watch.ts';

export type FirefoxPage = Page;

export function launchFirefox(): Promise<Browser> {
  return puppeteer.launch({
    browser: 'firefox',
    executablePath: firefoxPath(),
    headless: true,
    extraPrefsFirefox: {
      'network.captive-portal-service.enabled': false,
      'network.connectivity-service.enabled': false,
    },
  });
}

export async function openFirefoxPage(browser: Browser, watch: Watch, url: string): Promise<Page> {
  const page = await browser.newPage();
  await page.setViewport({ width: 1280, height: 800 });
  page.on('console', (message) => watch.note(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => watch.note(`uncaught: ${String(error)}`));
  page.on('request', (request) => watch.request(request.url()));
  page.on('requestfailed', (request) => watch.note(`failed: ${request.url().slice(0, 200)}`));
  await page.evaluateOnNewDocument(reportPolicyBreaches);
  await page.goto(url, { waitUntil: 'load' });
  return page;
}

/** The robot is seen, and all that comes after it lies on the sheet. */
export async function firefoxReady(page: Page): Promise<void> {
  const there = (): Promise<boolean> =>
    page.evaluate(() => performance.getEntriesByName('robot').length > 0 && document.querySelector('.sheet.furnished') !== null);
  await expect.poll(there).toBe(true);
}
