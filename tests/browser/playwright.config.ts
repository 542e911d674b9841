import { defineConfig } from '@playwright/test';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';

/**
 * Specs in which nothing hangs on how fast pictures follow one another, nor on a hand's timing: scripts/test runs
 * them first, two at once (KICKSTILL_TURN=calm), and then all others, which have the machine to themselves
 * (KICKSTILL_TURN=others; without it, all run). A spec that is not named here is one of the others.
 */
const CALM = ['a11y', 'edge', 'everyone', 'files', 'german', 'handbook', 'kept', 'lessons', 'lessons.looks', 'links', 'map.looks', 'myrobot', 'power', 'revisions', 'sheets', 'smoke', 'stall.looks', 'trials'];
const calm = CALM.map((name) => `**/specs/${name}.spec.ts`);

const turn = process.env['KICKSTILL_TURN'];
if (turn !== undefined && !['calm', 'others'].includes(turn)) throw new Error(`KICKSTILL_TURN: expected calm or others, given ${turn}`);

// Files named *.firefox.spec.ts drive Firefox through puppeteer (see support/firefox.ts), those
// named *.webkit.spec.ts WebKit through its WebDriver (see support/webkit.ts);
// all others get Playwright's `page` in Chromium.
export default defineConfig({
  testDir: './specs',
  // Each turn empties its own.
  outputDir: `./test-results/${turn ?? 'all'}`,
  timeout: 60_000,
  expect: { timeout: 10_000 },
  fullyParallel: false,
  // Frame timing and animation suffer when browsers compete for two cores.
  workers: 1,
  retries: 0,
  forbidOnly: !!process.env['CI'],
  reporter: [['list'], ['json', { outputFile: process.env['KICKSTILL_REPORT'] ?? './test-results/report.json' }]],
  use: {
    viewport: { width: 1280, height: 800 },
    screenshot: 'only-on-failure',
    // What is kept offline would answer in the place of what a test serves; offline.spec.ts allows it.
    serviceWorkers: 'block',
    launchOptions: { executablePath: chromiumPath(), args: CHROMIUM_FLAGS },
  },
  projects: [
    // Beside another test all takes longer.
    { name: 'calm', testMatch: calm, fullyParallel: true, timeout: 120_000, expect: { timeout: 20_000 } },
    { name: 'chromium', testIgnore: ['**/*.firefox.spec.ts', '**/*.webkit.spec.ts', ...calm] },
    { name: 'firefox', testMatch: '**/*.firefox.spec.ts' },
    { name: 'webkit', testMatch: '**/*.webkit.spec.ts' },
  ].filter(({ name }) => turn === undefined || (name === 'calm') === (turn === 'calm')),
});
