// What is asked of every part of the page: the places, opened one after another, and what can go wrong with text.

import type { Page } from '@playwright/test';
import { expect } from './fixtures.ts';
import { ready } from './sheet.ts';

/** The places as the index has them, so that a new one is covered by being there. */
export async function placeNames(page: Page): Promise<string[]> {
  const presses = page.locator('.placeindex button[aria-expanded]');
  await expect(presses).not.toHaveCount(0);
  return presses.evaluateAll((all) => all.map((press) => press.textContent ?? ''));
}

/** Opens the place with this number in the index and waits until it has come. */
export async function openPlace(page: Page, index: number): Promise<void> {
  const press = page.locator('.placeindex button[aria-expanded]').nth(index);
  if ((await press.getAttribute('aria-expanded')) !== 'true') await press.click();
  await expect(page.locator('.place > .opening')).toHaveText('');
  await expect(page.locator('.place > :not(.opening, .placefoot)')).not.toHaveCount(0);
}

/** Opens the page in a language, whatever was chosen before. */
export async function inLanguage(page: Page, language: 'en' | 'de'): Promise<void> {
  await page.addInitScript((chosen) => {
    if (localStorage.getItem('kickstill-language') === null) localStorage.setItem('kickstill-language', chosen);
  }, language);
}

export async function settled(page: Page): Promise<void> {
  await ready(page);
  await expect(page.locator('main')).toHaveAttribute('data-ready', 'true');
}

/** Text that lies outside what clips it, or outside its own press. */
export const clipped = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const text = (node.textContent ?? '').trim();
      const parent = node.parentElement;
      if (text === '' || parent === null || !parent.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      if (parent.closest('.unseen, option, script, style, noscript, svg, [aria-hidden="true"]') !== null) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const box = range.getBoundingClientRect();
      if (box.width === 0) continue;
      for (let around: HTMLElement | null = parent; around !== null && around !== document.body; around = around.parentElement) {
        const { overflowX, overflowY } = getComputedStyle(around);
        const outer = around.getBoundingClientRect();
        const press = around.matches('button, summary, [role=radio]');
        // What scrolls can be scrolled to.
        const wide = (overflowX === 'hidden' || overflowX === 'clip' || press) && (box.right > outer.right + 1.5 || box.left < outer.left - 1.5);
        const high = (overflowY === 'hidden' || overflowY === 'clip') && (box.bottom > outer.bottom + 1.5 || box.top < outer.top - 1.5);
        if (wide || high) {
          found.push(`“${text.slice(0, 60)}” in ${around.tagName.toLowerCase()}.${around.className}`);
          break;
        }
        if (overflowX === 'auto' || overflowX === 'scroll' || overflowY === 'auto' || overflowY === 'scroll') break;
      }
    }
    return found;
  });

/** Pairs of texts or presses that lie upon each other where both can be seen. */
export const overlapping = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const things: { readonly box: DOMRect; readonly text: string; readonly element: Element }[] = [];
    for (const element of document.querySelectorAll('button, select, summary, input, p, dt, dd, th, td, label, h1, h2, h3, li')) {
      if (!element.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      if (element.closest('.unseen, svg, [aria-hidden="true"], .callouts, .leaders, .slope, .plumb, .stills, .ended') !== null) continue;
      if (element.querySelector('button, select, input, p, label, dt, li, td') !== null) continue;
      const text = (element.textContent ?? '').trim();
      const press = element.matches('button, select, input');
      if (text === '' && !press) continue;
      const range = document.createRange();
      range.selectNodeContents(element);
      let box = press ? element.getBoundingClientRect() : range.getBoundingClientRect();
      // What is scrolled out of sight lies on nothing.
      for (let around = element.parentElement; around !== null; around = around.parentElement) {
        const { overflowX, overflowY } = getComputedStyle(around);
        if (overflowX === 'visible' && overflowY === 'visible') continue;
        const outer = around.getBoundingClientRect();
        const left = Math.max(box.left, outer.left);
        const top = Math.max(box.top, outer.top);
        box = new DOMRect(left, top, Math.min(box.right, outer.right) - left, Math.min(box.bottom, outer.bottom) - top);
      }
      if (box.width < 2 || box.height < 2) continue;
      things.push({ box, text: `${element.tagName.toLowerCase()} “${text.slice(0, 40)}”`, element });
    }
    for (const [index, one] of things.entries()) {
      for (const other of things.slice(index + 1)) {
        if (one.element.contains(other.element) || other.element.contains(one.element)) continue;
        const wide = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const high = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        if (wide > 3 && high > 4) found.push(`${one.text} and ${other.text}`);
      }
    }
    return found;
  });
