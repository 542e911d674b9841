// Where the browsers are, and how they are started: system packages, no downloads.

import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';

/** As root in a container the sandbox cannot start; the rest keeps the browser from calling home. */
export const CHROMIUM_FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--disable-dev-shm-usage',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const chromiumPath = () =>
  find('KICKSTILL_CHROMIUM', ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']);

export const firefoxPath = () => find('KICKSTILL_FIREFOX', ['/usr/bin/firefox-esr', '/usr/bin/firefox']);

/** @param {string} variable @param {string[]} candidates */
function find(variable, candidates) {
  const chosen = process.env[variable];
  if (chosen) return chosen;
  const found = candidates.find((candidate) => existsSync(candidate));
  if (found === undefined) throw new Error(`no browser found: set ${variable} to its program`);
  return found;
}

/**
 * What WebKit is driven with, where the system has all of it: the driver, the small browser that
 * comes with the library, and a screen without a display.
 * @returns {{ driver: string, browser: string, screen: string } | undefined}
 */
export function webkitParts() {
  const driver = onPath('WebKitWebDriver');
  const screen = onPath('Xvfb');
  const browser = process.env['KICKSTILL_MINIBROWSER'] || miniBrowser();
  return driver && screen && browser ? { driver, browser, screen } : undefined;
}

/** It lies beside the library's other programs, not on the path. */
function miniBrowser() {
  for (const top of ['/usr/lib', '/usr/libexec', '/usr/lib64']) {
    const below = existsSync(top) ? readdirSync(top).filter((name) => name.endsWith('-linux-gnu')) : [];
    for (const folder of ['.', ...below]) {
      // First the one that the tests were written with.
      for (const library of ['webkit2gtk-4.1', 'webkit2gtk-4.0', 'webkitgtk-6.0']) {
        const program = path.join(top, folder, library, 'MiniBrowser');
        if (existsSync(program)) return program;
      }
    }
  }
  return undefined;
}

/** @param {string} program */
function onPath(program) {
  const folders = (process.env['PATH'] ?? '').split(path.delimiter);
  return folders.map((folder) => path.join(folder, program)).find((candidate) => existsSync(candidate));
}
