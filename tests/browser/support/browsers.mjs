// Where the browsers are, and how they are started: system packages, no downloads.

import { existsSync } from 'node:fs';

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
