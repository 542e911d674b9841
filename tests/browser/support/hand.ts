// A hand at the lever, for tests: a simulated game pad whose stick answers what the panel shows.

import type { Page } from '@playwright/test';

/** To be added before the page loads: a game pad that can be plugged, pressed and played. */
export function simulatedPad(): void {
  const stick = { axes: [0, 0, 0, 0], plugged: true, pressed: false, gain: 0, rate: 0, limit: 1 };
  Object.assign(window, { stick });
  Object.defineProperty(Navigator.prototype, 'getGamepads', {
    value: () => (stick.plugged ? [{ connected: true, id: 'simulated', axes: stick.axes, buttons: [{ pressed: stick.pressed, touched: false, value: 0 }] }] : [null]),
  });
  // Eyes on the mark, fingers on the stick: the way from the middle, in half widths of the band, and how fast it goes.
  let before = 0;
  let time = 0;
  const look = (now: number): void => {
    requestAnimationFrame(look);
    const mark = document.querySelector<HTMLElement>('.handpanel:not([hidden]) .handscale .mark:not(.head)');
    if (mark === null || stick.gain === 0) return;
    const at = ((Number.parseFloat(mark.style.left || '50') - 50) / 50) * 6;
    const rate = now > time ? ((at - before) / (now - time)) * 1000 : 0;
    before = at;
    time = now;
    const way = -stick.gain * at - stick.rate * rate;
    stick.axes[0] = Math.min(Math.max(way, -stick.limit), stick.limit);
  };
  requestAnimationFrame(look);
}

export interface Stick {
  axes: number[];
  plugged: boolean;
  pressed: boolean;
  /** Way against each half width of the band, and against each of it a second; nobody plays while it is 0. */
  gain: number;
  rate: number;
  limit: number;
}

export const stick = (page: Page, to: Partial<Stick>): Promise<void> =>
  page.evaluate((change) => {
    Object.assign((window as unknown as { stick: Stick }).stick, change);
  }, to);

/** Tilts the phone: degrees to the right. */
export const tilt = (page: Page, gamma: number): Promise<boolean> =>
  page.evaluate((to) => window.dispatchEvent(new DeviceOrientationEvent('deviceorientation', { alpha: 0, beta: 40, gamma: to })), gamma);
