import { defineConfig } from '@playwright/test';
import { CHROMIUM_FLAGS, chromiumPath } from './support/browsers.mjs';

// Files named *.firefox.spec.ts drive Firefox through puppeteer (see support/firefox.ts), those
// named *.webkit.spec.ts WebKit through its WebDriver (see support/webkit.ts);
// all others get Playwright's `page` in Chromium.
export default defineConfig({
  testDir: './specs',
  outputDir: './test-results',
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
    { name: 'chromium', testIgnore: ['**/*.firefox.spec.ts', '**/*.webkit.spec.ts'] },
    { name: 'firefox', testMatch: '**/*.firefox.spec.ts' },
    { name: 'webkit', testMatch: '**/*.webkit.spec.ts' },
  ],
});
