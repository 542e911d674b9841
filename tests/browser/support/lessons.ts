// Plays lessons as a visitor would, by their own checks, with the page's clock made faster.

import type { Locator, Page } from '@playwright/test';
import { expect } from './fixtures.ts';
import { ready } from './sheet.ts';

/** What a hand does in a step: a knob's number typed, a press of the step, its trial or search run. */
export type Act = readonly ['knob', key: string, text: string] | readonly ['press', name: string] | readonly ['choose', key: string, word: string] | readonly ['run'];

const knob = (key: string, text: string): Act => ['knob', key, text];
const press = (name: string): Act => ['press', name];
const RUN: Act = ['run'];
const KICK = press('kick');

/** By lesson, what is done in each of its steps that ask for something. */
export const HANDS: Readonly<Record<string, readonly (readonly Act[])[]>> = {
  stands: [[KICK], [knob('head.mass', '5 kg'), press('again'), KICK], [knob('carriage.below_centre', '160 mm'), press('again'), KICK]],
  rocks: [[KICK], [knob('head.mass', '2 kg'), press('again'), KICK]],
  levels: [[press('off'), KICK], [press('locked'), KICK], [press('on'), KICK]],
  'correction-damping-memory': [
    [KICK],
    [knob('lean.damping', '0'), press('again'), KICK],
    [knob('lean.damping', '0.6'), press('again'), KICK],
    [knob('lean.damping', '0.3'), RUN],
    [knob('lean.memory', '1'), RUN],
  ],
  delay: [
    [KICK],
    [knob('timing.delay_ticks', '4'), press('again'), KICK],
    [knob('timing.delay_ticks', '3'), press('again'), KICK],
    [knob('lean.damping', '0.15'), press('again'), KICK],
  ],
  'calm-zone': [[RUN], [KICK], [knob('lean.dead_band', '4 deg'), RUN], [press('again'), KICK]],
  'levelling-locked': [[KICK], [['choose', 'levelling.levels_when_locked', 'yes'], press('again'), KICK], [press('on'), press('again'), KICK]],
  'dip-and-lead': [[press('drive')], [knob('levelling.lead', '1'), press('drive')], [knob('levelling.lead', '2'), press('drive')]],
  'grams-on-the-head': [[KICK], [knob('head.mass', '1.8 kg'), press('again'), KICK], [RUN]],
  watts: [[RUN], [RUN], [RUN]],
  'rim-or-axle': [[KICK], [['choose', 'lean_drive.kind', 'axle'], press('again'), KICK], [knob('lean_drive.gear_ratio', '36'), press('again'), KICK]],
  floors: [
    [KICK],
    [knob('floor.rolling_resistance', '0.03'), press('again'), KICK],
    [knob('floor.rolling_resistance', '0.004'), knob('floor.grip', '0.05'), press('on'), press('again'), KICK],
    [knob('floor.grip', '0.9'), RUN],
  ],
};

/** Each frame of the screen becomes several of the page's, `fast.step` apart [ms], while `fast` says so. To be added before the page loads. */
export function fasterClock(): void {
  const screen = window.requestAnimationFrame.bind(window);
  const fast = { on: true, step: 50, time: 0 };
  let waiting: FrameRequestCallback[] = [];
  window.requestAnimationFrame = (callback) => waiting.push(callback);
  const turn = (now: number): void => {
    screen(turn);
    if (fast.time === 0) fast.time = now;
    for (let i = 0; i < (fast.on ? 8 : 1); i++) {
      fast.time += fast.on ? fast.step : 1000 / 60;
      const due = waiting;
      waiting = [];
      for (const callback of due) callback(fast.time);
    }
  };
  screen(turn);
  Object.assign(window, { fast });
}

/** Opens the list of lessons. */
export const lessons = async (page: Page): Promise<void> => {
  await page.locator('.placeindex').getByRole('button', { name: 'Lessons' }).click();
  await expect(page.locator('.lessonlist')).toBeVisible();
};
export const item = (page: Page, key: string): Locator => page.locator(`.lessonlist [data-lesson="${key}"]`);
export const step = (page: Page): Locator => page.locator('.step');
export const where = (page: Page): Locator => page.locator('.lessonhead .note');

export async function openLesson(page: Page, key: string): Promise<void> {
  await ready(page);
  await expect(step(page)).toBeVisible();
  await expect(page.locator('.lesson')).toHaveAttribute('data-lesson', key);
}

export async function act(page: Page, deed: Act): Promise<void> {
  const inside = step(page);
  switch (deed[0]) {
    case 'knob': {
      const number = inside.locator(`[data-key="${deed[1]}"] .number`);
      await number.fill(deed[2]);
      await number.press('Enter');
      await expect(inside.locator('.wrong').filter({ hasText: /./ })).toHaveCount(0);
      return;
    }
    case 'choose':
      await inside.locator(`[data-key="${deed[1]}"] select`).selectOption({ label: deed[2] });
      return;
    case 'press':
      await inside.locator(`[data-press="${deed[1]}"]`).click();
      return;
    case 'run':
      await inside.locator('[data-press="run"]').click();
  }
}

/** Plays to the end; gives what the steps said, in order. */
export async function play(page: Page, key: string, looked: (kind: string) => Promise<void> = async () => {}): Promise<readonly string[]> {
  const hands = HANDS[key];
  if (hands === undefined) throw new Error(`nobody has said how to play ${key}`);
  const said: string[] = [];
  let next = 0;
  for (let i = 0; i < 60; i++) {
    if ((await page.locator('.lessonend').count()) > 0) {
      expect(next, 'all that was to be done was asked for').toBe(hands.length);
      return said;
    }
    const kind = (await step(page).getAttribute('data-kind')) ?? '';
    const at = (await where(page).textContent()) ?? '';
    const text = ((await step(page).textContent()) ?? '').trim();
    said.push(text);
    // Nothing that is filled in may be missing.
    if (kind !== 'do') expect(await step(page).locator('.prose, .verdictof').allTextContents(), text).not.toContainEqual(expect.stringMatching(/–|NaN|\{|undefined/));
    await looked(kind);
    if (kind === 'predict') {
      const number = step(page).getByRole('textbox');
      if ((await number.count()) > 0) await number.fill('1.5');
      else await step(page).getByRole('radio').last().check();
      await step(page).locator('.predict [type=submit]').click();
    } else if (kind === 'do') {
      const deeds = hands[next];
      if (deeds === undefined) throw new Error(`${key}, ${at}: nobody has said what to do: ${text}`);
      next += 1;
      for (const deed of deeds) await act(page, deed);
    } else {
      await step(page).locator('.go').click();
    }
    await expect
      .poll(async () => (await page.locator('.lessonend').count()) > 0 || (await where(page).textContent()) !== at, {
        message: `${key}, ${at}: ${text}`,
        timeout: 30_000,
      })
      .toBe(true);
  }
  throw new Error(`${key} does not end`);
}
