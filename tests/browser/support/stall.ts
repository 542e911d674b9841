// What the specs do in the stall.

import type { CDPSession, Locator, Page } from '@playwright/test';
import { expect } from './fixtures.ts';
import { ready } from './sheet.ts';

/** What the demonstrator has chosen, laid into the browser's storage before the page loads. */
export async function chosen(page: Page, choices: Readonly<Record<string, unknown>> = {}, language = 'en'): Promise<void> {
  await page.addInitScript(
    ([kept, spoken]) => {
      // A page of its own that a code leads to must not be told anew.
      if (localStorage.getItem('kickstill-stall') !== null) return;
      localStorage.setItem('kickstill-stall', JSON.stringify(kept));
      localStorage.setItem('kickstill-language', spoken);
    },
    [
      {
        version: 1,
        presses: ['kick', 'software', 'head', 'home'],
        contrast: 'page',
        two: false,
        idle: 40,
        sound: false,
        volume: 0.5,
        buzz: false,
        address: '',
        ...choices,
      },
      language,
    ] as const,
  );
}

export const layer = (page: Page): Locator => page.locator('.stalllayer');
export const half = (page: Page, index = 0): Locator => page.locator('.half').nth(index);
export const says = (page: Page, index = 0): Locator => half(page, index).locator('.says');
export const what = (page: Page, index = 0): Locator => half(page, index).locator('.what');
export const press = (page: Page, name: string, index = 0): Locator => half(page, index).locator(`[data-press="${name}"]`);

/** Waits for the stall that a link has opened. */
export async function stands(page: Page): Promise<void> {
  await ready(page);
  await expect(layer(page)).toBeVisible();
  await expect(half(page).locator('canvas')).toBeVisible();
}

/** Middle of what is to be touched. */
export async function middle(locator: Locator): Promise<{ x: number; y: number }> {
  const box = await locator.boundingBox();
  if (box === null) throw new Error('not in sight');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Fingers on the screen at once. */
export class Fingers {
  readonly #down = new Map<number, { x: number; y: number }>();

  private constructor(private readonly devtools: CDPSession) {}

  static async of(page: Page): Promise<Fingers> {
    return new Fingers(await page.context().newCDPSession(page));
  }

  async down(...points: readonly { x: number; y: number }[]): Promise<void> {
    for (const point of points) this.#down.set(this.#down.size + 1, point);
    await this.#send('touchStart');
  }

  async up(): Promise<void> {
    this.#down.clear();
    await this.#send('touchEnd');
  }

  #send(type: 'touchStart' | 'touchEnd'): Promise<unknown> {
    const touchPoints = type === 'touchEnd' ? [] : [...this.#down].map(([id, point]) => ({ id, ...point }));
    return this.devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
  }
}

/** How fast the page's clock goes; see `fasterClock`. */
export const hurry = (page: Page, on: boolean): Promise<void> =>
  page.evaluate((fast) => {
    (window as unknown as { fast: { on: boolean } }).fast.on = fast;
  }, on);

/** Opens the place of the stall. */
export const openStallPlace = async (page: Page): Promise<void> => {
  await ready(page);
  await page.locator('.placeindex').getByRole('button', { name: /^(Stall|Am Stand)$/ }).click();
  await expect(page.locator('.openstall')).toBeVisible();
};

/** The ring, then the press, each held. */
export const leave = async (page: Page): Promise<void> => {
  const hold = async (name: string, then: () => Promise<void>): Promise<void> => {
    const at = await middle(page.locator(name));
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await then();
    await page.mouse.up();
  };
  await hold('.corner', () => expect(page.locator('.leave')).toBeVisible());
  await hold('.leave button:last-of-type', () => expect(layer(page)).toHaveCount(0));
};
