// Clips, pictures and paper in Firefox: recorder, canvas and printer are the browser's own.

import { constants, inflateSync } from 'node:zlib';
import { expect, test } from '../support/fixtures.ts';
import { firefoxReady, type FirefoxPage } from '../support/firefox.ts';

interface Caught {
  caught: Blob[];
}

const openPlace = (page: FirefoxPage): Promise<void> =>
  page.evaluate(() => {
    const presses = [...document.querySelectorAll<HTMLButtonElement>('.placeindex button')];
    const press = presses.find((one) => one.textContent === 'Sheets and clips');
    if (press === undefined) throw new Error('the index has no press Sheets and clips');
    press.click();
  });

async function openSheets(page: FirefoxPage): Promise<void> {
  await firefoxReady(page);
  await page.evaluate(() => {
    const caught: Blob[] = [];
    (window as unknown as Caught).caught = caught;
    // What is saved is looked at here; the browser's own saving is not what is tested.
    const make = URL.createObjectURL.bind(URL);
    URL.createObjectURL = (object: Blob | MediaSource) => {
      if (object instanceof Blob) caught.push(object);
      return make(object);
    };
    HTMLAnchorElement.prototype.click = () => undefined;
    window.print = () => undefined;
  });
  await openPlace(page);
  await expect.poll(() => page.evaluate(() => document.querySelectorAll('.gainspart tbody tr').length), { timeout: 60_000 }).toBeGreaterThan(30);
}

const press = (page: FirefoxPage, name: string): Promise<void> =>
  page.evaluate((act) => {
    const press = document.querySelector<HTMLButtonElement>(`.sheets [data-act="${act}"]`);
    if (press === null) throw new Error(`no press ${act}`);
    press.click();
  }, name);

/** Size and first bytes of what was saved last, when as many have been saved. */
async function caught(page: FirefoxPage, count: number): Promise<{ size: number; head: string }> {
  await expect.poll(() => page.evaluate(() => (window as unknown as Caught).caught.length), { timeout: 60_000 }).toBe(count);
  return page.evaluate(async () => {
    const blob = (window as unknown as Caught).caught.at(-1);
    const bytes = new Uint8Array((await blob?.slice(0, 8).arrayBuffer()) ?? new ArrayBuffer(0));
    return { size: blob?.size ?? 0, head: [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('') };
  });
}

/** Pages of a PDF whose writer packs its objects. */
function pagesOf(pdf: Buffer): number {
  let text = pdf.toString('latin1');
  for (const { index, 0: begin } of text.matchAll(/stream\r?\n/g)) {
    try {
      text += inflateSync(pdf.subarray(index + begin.length), { finishFlush: constants.Z_SYNC_FLUSH }).toString('latin1');
    } catch {
      // Not packed, or the end of one: nothing to be read there.
    }
  }
  return [...text.matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;
}

test('a clip is recorded, a PNG and an SVG are saved', async ({ openFirefox }) => {
  test.setTimeout(120_000);
  const page = await openFirefox('page');
  await openSheets(page);
  await page.evaluate(() => {
    const length = document.querySelector<HTMLSelectElement>('.clippart select');
    if (length !== null) length.value = '5';
  });
  await press(page, 'record');
  const clip = await caught(page, 1);
  expect(clip.head.slice(0, 8)).toBe('1a45dfa3');
  expect(clip.size).toBeGreaterThan(10_000);
  // The place gave way to the board meanwhile.
  await openPlace(page);
  await press(page, 'png');
  const png = await caught(page, 2);
  expect(png.head).toBe('89504e470d0a1a0a');
  expect(png.size).toBeGreaterThan(5_000);
  await press(page, 'svg');
  const svg = await caught(page, 3);
  // "<svg xml"
  expect(svg.head).toBe('3c73766720786d6c');
});

test('the lid’s sheet and the card are one page each', async ({ openFirefox }) => {
  test.setTimeout(120_000);
  const page = await openFirefox('page');
  await openSheets(page);
  for (const [part, make] of [
    ['.lidpart', 'lid'],
    ['.cardpart', 'card'],
  ] as const) {
    await press(page, make);
    await expect.poll(() => page.evaluate((one) => document.querySelectorAll(`${one} .paper`).length, part), { timeout: 90_000 }).toBe(1);
    await press(page, `print-${make}`);
    const rule = await page.evaluate(() => document.adoptedStyleSheets.flatMap((sheet) => [...sheet.cssRules]).map((one) => one.cssText));
    expect(rule.join()).toContain('@page');
    const pdf = Buffer.from(await page.pdf({ preferCSSPageSize: true, format: 'A4', margin: { top: '10mm', bottom: '10mm', left: '10mm', right: '10mm' } }));
    expect(pagesOf(pdf)).toBe(1);
    await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  }
});
