// Tells the tests that failed, each with the first lines of its first error, from Playwright's JSON report:
//   node failures.mjs REPORT
// scripts/test prints it after all steps: a log of which only the end is kept still says what to mend.
import { readFileSync } from 'node:fs';
import { stripVTControlCharacters } from 'node:util';

const LINES = 12;

/**
 * Every failed test of a suite and of those within it, as lines of text.
 * @param {import('@playwright/test/reporter').JSONReportSuite} suite
 * @param {readonly string[]} above titles of the suites around it
 * @returns {Generator<string>}
 */
function* failures(suite, above = []) {
  const titles = suite.title ? [...above, suite.title] : above;
  for (const spec of suite.specs ?? []) {
    for (const test of spec.tests) {
      if (!['unexpected', 'flaky'].includes(test.status)) continue;
      const error = test.results.flatMap((result) => result.errors ?? []).at(0)?.message ?? 'it ended without an error';
      const told = stripVTControlCharacters(error).split('\n').slice(0, LINES).map((line) => `    ${line}`.trimEnd());
      yield [`  ${[...titles, spec.title].join(' › ')} (line ${spec.line}, ${test.status})`, ...told].join('\n');
    }
  }
  for (const inner of suite.suites ?? []) yield* failures(inner, titles);
}

const [file] = process.argv.slice(2);
if (file === undefined) throw new Error('usage: node failures.mjs REPORT');
/** @type {import('@playwright/test/reporter').JSONReport} */
const report = JSON.parse(readFileSync(file, 'utf8'));
for (const error of report.errors ?? []) console.log(`  ${stripVTControlCharacters(error.message ?? '')}`);
for (const suite of report.suites) for (const text of failures(suite)) console.log(text);
