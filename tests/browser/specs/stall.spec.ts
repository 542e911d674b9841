// The stall: what a child's hands can and cannot do in it, what it says, what it does alone.

import jsQR from 'jsqr';
import { shuffler } from '../../../www/src/places/stall/shuffle.ts';
import { expect, test } from '../support/fixtures.ts';
import { fasterClock } from '../support/lessons.ts';
import { ready } from '../support/sheet.ts';
import { chosen, Fingers, half, hurry, layer, leave, middle, openStallPlace, press, says, stands, what } from '../support/stall.ts';

test('the shuffle goes through all, never the same twice in a row, and follows its seed', () => {
  const list = ['a', 'b', 'c', 'd'];
  // One comparison for each seed: thousands of them by `expect` take long.
  for (let seed = 0; seed < 300; seed++) {
    const next = shuffler(list, seed);
    const again = shuffler(list, seed);
    const order = Array.from({ length: 40 }, () => next());
    const rounds = Array.from({ length: 10 }, (_, round) => order.slice(4 * round, 4 * round + 4));
    expect(
      {
        again: Array.from({ length: 40 }, () => again()),
        twice: order.filter((one, i) => one === order[i - 1]),
        rounds: rounds.map((round) => [...round].sort()),
      },
      `${seed}: ${order.join('')}`,
    ).toEqual({ again: order, twice: [], rounds: rounds.map(() => list) });
  }
  const orders = new Set(Array.from({ length: 50 }, (_, seed) => Array.from({ length: 8 }, shuffler(list, seed)).join('')));
  expect(orders.size).toBeGreaterThan(30);
  expect(Array.from({ length: 3 }, shuffler(['only'], 1))).toEqual(['only', 'only', 'only']);
});

test('scenes vary, never the same twice in a row, and say what the simulation does', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await chosen(page);
  await open('page', '#stall');
  await stands(page);
  const seen = await page.evaluate(
    () =>
      new Promise<{ what: string; says: string[] }[]>((resolve) => {
        const list: { what: string; says: string[] }[] = [];
        const [headed, said] = [document.querySelector('.what'), document.querySelector('.says')];
        const look = (): void => {
          const [title, text] = [headed?.textContent ?? '', said?.textContent ?? ''];
          if (list.at(-1)?.what !== title) list.push({ what: title, says: [] });
          const says = list.at(-1)?.says;
          if (says !== undefined && says.at(-1) !== text) says.push(text);
          if (list.length < 30) requestAnimationFrame(look);
          else resolve(list.slice(0, -1));
        };
        look();
      }),
  );
  const titles = seen.map((one) => one.what);
  // A title once more in a row would not have been seen as another: each round holds all eleven.
  expect(new Set(titles).size).toBe(11);
  expect(new Set(titles.slice(0, 11)).size).toBe(11);
  const ofScene = (title: RegExp): string[] => seen.find((one) => title.test(one.what))?.says ?? [];
  const off = ofScene(/^A kick, the software is off$/);
  expect(off[0]).toBe('It stands still.');
  const counts = off.flatMap((text) => /(\d+) swings? so far/.exec(text)?.slice(1).map(Number) ?? []);
  expect(counts.length).toBeGreaterThan(3);
  expect(counts).toEqual([...counts].sort((a, b) => a - b));
  expect(ofScene(/^A kick, the software is on$/).at(-1)).toMatch(/^Steady after \d+(\.\d+)? (s|ms)\.$/);
  expect(ofScene(/^The same kick for two/).at(-1)).toMatch(/^On: Steady after .* B, off: (Quiet by itself after|It rocks: \d+ swings)/);
  const dips = [/^Drive and stop, head/, /^Drive and stop with a heavy head/].map((title) => {
    const found = /The head dipped by ([\d.]+)°/.exec(ofScene(title).at(-1) ?? '');
    return Number(found?.[1]);
  });
  expect(dips[0]).toBeGreaterThan(0);
  expect(dips[1], 'a heavier head dips more').toBeGreaterThan(dips[0] ?? NaN);
});

test('a touch takes over; without one it counts down and starts again with the usual robot, the page’s own untouched', async ({ open, page }) => {
  await page.addInitScript(fasterClock);
  await chosen(page, { idle: 12 });
  await open('page');
  await ready(page);
  await hurry(page, false);
  await page.keyboard.press('k');
  await expect(page.locator('.trial').first()).toContainText('kick');
  await openStallPlace(page);
  await page.locator('.openstall').click();
  await expect(layer(page)).toBeVisible();
  await expect(half(page)).toHaveAttribute('data-mode', 'attract');
  const usual = await press(page, 'head').textContent();
  await press(page, 'head').click();
  await expect(half(page)).toHaveAttribute('data-mode', 'play');
  await expect(press(page, 'head')).not.toHaveText(usual ?? '');
  await expect(what(page)).toContainText('head 1.35 kg');
  await press(page, 'software').click();
  await press(page, 'kick').click();
  await expect(says(page)).toHaveText(/^Steady after/, { timeout: 15_000 });
  // The last five seconds are counted.
  const counted = page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const list: string[] = [];
        const look = (): void => {
          const text = document.querySelector('.stalllayer .count')?.textContent ?? '';
          if (list.at(-1) !== text) list.push(text);
          if (document.querySelector<HTMLElement>('.half')?.dataset['mode'] === 'attract') resolve(list);
          else requestAnimationFrame(look);
        };
        look();
      }),
  );
  expect(await counted).toEqual(['', 'starts again in 5', 'starts again in 4', 'starts again in 3', 'starts again in 2', 'starts again in 1', 'Touch it: it is yours.']);
  await expect(press(page, 'head')).toHaveText(usual ?? '');
  await expect(press(page, 'software')).toHaveText('software');
  // And the next visitor has the usual robot.
  await press(page, 'kick').click();
  await expect(what(page)).toHaveText('software off, head 0.900 kg');
  await leave(page);
  // A minute of the stall's is none of the page's: its run, which takes seven seconds, still goes on.
  await expect(page.locator('.outcome')).toHaveAttribute('data-class', 'going');
  await expect(page.getByRole('button', { name: 'pause' })).toBeVisible();
  await expect(page.locator('.callouts [data-key="head.mass"] .number')).toHaveValue('0.900 kg');
  await expect(page.locator('.revisions li')).toHaveCount(1);
});

test('back, reload keys, menus and gestures lead nowhere; only the demonstrator’s acts leave', async ({ open, page }) => {
  await chosen(page);
  await open('page');
  await openStallPlace(page);
  const length = await page.evaluate(() => history.length);
  await page.locator('.openstall').click();
  await expect(layer(page)).toBeVisible();
  await expect.poll(() => page.evaluate(() => document.fullscreenElement?.className)).toContain('stalllayer');
  expect(await page.evaluate(() => document.querySelector('main')?.inert)).toBe(true);
  for (let i = 0; i < 4; i++) {
    await page.evaluate(() => {
      history.back();
    });
    await page.waitForTimeout(120);
    await expect(layer(page)).toBeVisible();
  }
  expect(await page.evaluate(() => ({ hash: location.hash, more: history.length }))).toEqual({ hash: '#stall', more: length + 1 });
  // What a browser does by itself is refused, event by event.
  const allowed = await page.evaluate(() => {
    const on = document.querySelector('.stalllayer canvas');
    if (on === null) throw new Error('no drawing');
    const events: Event[] = [
      ...['contextmenu', 'selectstart', 'dragstart', 'dblclick', 'gesturestart'].map((type) => new Event(type, { bubbles: true, cancelable: true })),
      new WheelEvent('wheel', { ctrlKey: true, deltaY: 10, bubbles: true, cancelable: true }),
      ...['F5', 'F1', 'Backspace', 'BrowserBack', 'Escape', 'ArrowLeft', 'F11'].map((key) => new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })),
      new KeyboardEvent('keydown', { key: 'r', ctrlKey: true, bubbles: true, cancelable: true }),
      new KeyboardEvent('keydown', { key: 'ArrowLeft', altKey: true, bubbles: true, cancelable: true }),
      new Event('beforeunload', { cancelable: true }),
    ];
    return events.filter((event) => (event.type === 'beforeunload' ? window : on).dispatchEvent(event)).map((event) => `${event.type} ${(event as KeyboardEvent).key ?? ''}`);
  });
  expect(allowed).toEqual([]);
  const style = await page.evaluate(() =>
    [...document.querySelectorAll('.stalllayer, .stalllayer canvas, .stalllayer button')].map((one) => [getComputedStyle(one).touchAction, getComputedStyle(one).userSelect].join(' ')),
  );
  for (const one of style) expect(one).toBe('none none');
  expect(await page.evaluate(() => getComputedStyle(document.querySelector('.stalllayer') ?? document.body).overscrollBehaviorY)).toBe('none');
  // A child's: a tap on the ring, a short hold, letters, Escape.
  const ring = await middle(page.locator('.corner'));
  await page.mouse.click(ring.x, ring.y);
  await page.mouse.move(ring.x, ring.y);
  await page.mouse.down();
  await page.waitForTimeout(1500);
  await page.mouse.up();
  await page.waitForTimeout(2000);
  await expect(page.locator('.leave')).toBeHidden();
  await page.keyboard.press('Escape');
  await page.keyboard.type('lleaevleav', { delay: 10 });
  await expect(layer(page)).toBeVisible();
  // The ring alone is not enough: the second press goes away by itself, and a tap on it does nothing.
  await page.mouse.down();
  await expect(page.locator('.leave')).toBeVisible();
  await page.mouse.up();
  await page.locator('.leave button').last().click();
  await page.waitForTimeout(300);
  await expect(page.locator('.leave')).toBeVisible();
  await expect(page.locator('.leave')).toBeHidden({ timeout: 10_000 });
  await leave(page);
  expect(await page.evaluate(() => [document.fullscreenElement, document.querySelector('main')?.inert, location.hash])).toEqual([null, false, '']);
  await expect(page.locator('.openstall')).toBeFocused();
  // By keyboard: opened, the word typed.
  await page.keyboard.press('Enter');
  await expect(layer(page)).toBeVisible();
  await page.keyboard.type('leave', { delay: 10 });
  await expect(layer(page)).toHaveCount(0);
  await expect.poll(() => page.evaluate(() => location.hash)).toBe('');
  // Keys are the page's again.
  await page.evaluate(() => (document.activeElement as HTMLElement).blur());
  await page.keyboard.press('k');
  await expect(page.locator('.trial').first()).toContainText('kick');
});

test('the link opens it, and a reload comes back to it', async ({ open, page }) => {
  await chosen(page, { two: true });
  await open('page', '#stall');
  await stands(page);
  await press(page, 'kick').click();
  page.on('dialog', (dialog) => void dialog.accept());
  await page.reload();
  await stands(page);
  await expect(half(page)).toHaveAttribute('data-mode', 'attract');
  await page.keyboard.type('leave');
  await expect(layer(page)).toHaveCount(0);
  await page.evaluate(() => {
    location.hash = '#stall';
  });
  await expect(layer(page)).toBeVisible();
});

test.describe('fingers', () => {
  test.use({ viewport: { width: 1180, height: 820 }, hasTouch: true });

  test('two children at once: each finger acts on its own robot', async ({ open, page }) => {
    await chosen(page, { two: true, presses: ['kick', 'software', 'drive', 'home'] });
    await open('page', '#stall');
    await stands(page);
    const fingers = await Fingers.of(page);
    // Down in the same instant.
    await fingers.down(await middle(press(page, 'kick')), await middle(press(page, 'software', 1)));
    await expect(half(page)).toHaveAttribute('data-mode', 'play');
    await expect(half(page, 1)).toHaveAttribute('data-mode', 'play');
    await expect(says(page)).toHaveText(/It rocks: \d+ swings? so far/);
    await expect(what(page)).toContainText('software off');
    await expect(what(page, 1)).toContainText('software on');
    await expect(says(page, 1)).toHaveText('It is yours. Kick it!');
    await fingers.up();
    // One drives as long as a finger holds it, while the other kicks.
    await fingers.down(await middle(press(page, 'drive', 1)));
    await expect(says(page, 1)).toHaveText(/It drives: \d\.\d m\/s\./);
    await fingers.down(await middle(press(page, 'kick')));
    await expect(says(page)).toHaveText(/^It rocks/);
    await expect(says(page, 1)).toHaveText(/It drives: 0\.[3-9]|It drives: 1/);
    await fingers.up();
    await expect(says(page, 1)).toHaveText(/^Stopped, steady after .* The head dipped by [\d.]+°\.$/, { timeout: 15_000 });
  });

  test('a tap on the ball kicks it; a pinch and a long press do nothing to the page', async ({ open, page }) => {
    await chosen(page);
    await open('page', '#stall');
    await stands(page);
    const canvas = half(page).locator('canvas');
    const fingers = await Fingers.of(page);
    const at = await middle(canvas);
    const ball = { x: at.x - 40, y: at.y + 60 };
    await fingers.down(ball);
    await fingers.up();
    await expect(half(page)).toHaveAttribute('data-mode', 'play');
    await expect(says(page)).toHaveText('It is yours. Kick it!');
    await fingers.down(ball);
    await fingers.up();
    await expect(says(page)).toHaveText(/^It rocks/);
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Input.synthesizePinchGesture', { x: at.x, y: at.y, scaleFactor: 3, gestureSourceType: 'touch' });
    await devtools.send('Input.synthesizeScrollGesture', { x: at.x, y: at.y, yDistance: 400, gestureSourceType: 'touch' });
    expect(await page.evaluate(() => [visualViewport?.scale, scrollY, String(getSelection())])).toEqual([1, 0, '']);
    await expect(layer(page)).toBeVisible();
  });
});

test('game pads: the first for the first child, the second for the second', async ({ open, page }) => {
  await page.addInitScript(() => {
    const pads = [0, 1].map(() => ({ connected: true, buttons: Array.from({ length: 17 }, () => ({ pressed: false })), axes: [0, 0, 0, 0] }));
    Object.assign(window, { pads });
    navigator.getGamepads = () => [null, ...pads] as unknown as (Gamepad | null)[];
  });
  const hold = (pad: number, button: number, pressed: boolean): Promise<void> =>
    page.evaluate(
      ([one, which, down]) => {
        const { pads } = window as unknown as { pads: { buttons: { pressed: boolean }[] }[] };
        const found = pads[one]?.buttons[which];
        if (found !== undefined) found.pressed = down;
      },
      [pad, button, pressed] as const,
    );
  await chosen(page, { two: true, presses: ['kick', 'software', 'drive', 'home'] });
  await open('page', '#stall');
  await stands(page);
  await hold(0, 0, true);
  await expect(says(page)).toHaveText(/^It rocks/);
  await expect(half(page, 1)).toHaveAttribute('data-mode', 'attract');
  await hold(0, 0, false);
  // A pad is looked at once a frame.
  await hold(1, 1, true);
  await expect(what(page, 1)).toContainText('software on');
  await hold(1, 1, false);
  await hold(1, 2, true);
  await expect(says(page, 1)).toHaveText(/^It drives/);
  await hold(1, 2, false);
  await expect(says(page, 1)).toHaveText(/^It stops|^Stopped/);
  // A pad pulled out lets go of what it held.
  await hold(1, 2, true);
  await expect(says(page, 1)).toHaveText(/^It drives/);
  await page.evaluate(() => {
    navigator.getGamepads = () => [];
  });
  await expect(says(page, 1)).toHaveText(/^It stops|^Stopped/);
});

test('keys: 1 to 4 and 7 to 0, also for what is held', async ({ open, page }) => {
  await chosen(page, { two: true, presses: ['kick', 'software', 'drive', 'home'] });
  await open('page', '#stall');
  await stands(page);
  await page.keyboard.press('1');
  await expect(says(page)).toHaveText(/^It rocks/);
  await page.keyboard.press('8');
  await expect(what(page, 1)).toContainText('software on');
  await page.keyboard.down('9');
  await expect(says(page, 1)).toHaveText(/^It drives/);
  await page.keyboard.up('9');
  await expect(says(page, 1)).toHaveText(/^It stops|^Stopped/);
  // By Tab and Enter all of it can be done too.
  await press(page, 'kick', 1).focus();
  await page.keyboard.press('Enter');
  await expect(says(page, 1)).toHaveText(/^The software steadies it|^Steady/);
  await page.keyboard.press('0');
  await expect(half(page, 1).locator('.stallhome')).toBeVisible();
  await page.keyboard.press('0');
  await expect(half(page, 1).locator('.stallhome')).toBeHidden();
});

test('take it home: the code leads to the same robot, and goes by itself', async ({ open, page, context, site }) => {
  await page.addInitScript(fasterClock);
  await chosen(page);
  await open('page', '#stall');
  await stands(page);
  await hurry(page, false);
  await press(page, 'head').click();
  await press(page, 'software').click();
  await press(page, 'kick').click();
  await expect(says(page)).toHaveText(/^Steady after/, { timeout: 15_000 });
  await press(page, 'home').click();
  const code = half(page).locator('.stallhome .code');
  await expect(code.getByRole('img', { name: 'QR code of the link to this robot' })).toBeVisible();
  const picture = (await code.screenshot()).toString('base64');
  const pixels = await page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (one) => one.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(image.width, image.height).getContext('2d');
    if (canvas === null) throw new Error('no canvas');
    canvas.drawImage(image, 0, 0);
    return { width: image.width, height: image.height, data: [...canvas.getImageData(0, 0, image.width, image.height).data] };
  }, picture);
  const link = jsQR.default(Uint8ClampedArray.from(pixels.data), pixels.width, pixels.height)?.data ?? '';
  expect(link).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/any\/sub%20path\/#k1=cobnut,head\.mass=1\.35;l=2;k=-?[\d.]+,[\d.]+$/);
  expect(link.startsWith(site.page)).toBe(true);
  const phone = await context.newPage();
  await phone.goto(link);
  await ready(phone);
  await expect(phone.locator('.callouts [data-key="head.mass"] .number')).toHaveValue('1.35 kg');
  await expect(phone.getByRole('radio', { name: 'on', exact: true })).toBeChecked();
  await phone.close();
  await hurry(page, true);
  await expect(half(page).locator('.stallhome')).toBeHidden();
});

test('one file from file://: it opens, the robot goes home in words, or by an address that is given', async ({ open, page }) => {
  await chosen(page);
  await open('file', '#stall');
  await stands(page);
  await press(page, 'software').click();
  await press(page, 'home').click();
  const home = half(page).locator('.stallhome');
  await expect(home.locator('li').first()).toHaveText('Cobnut');
  await expect(home).toContainText('software on, head 0.900 kg');
  await expect(home).toContainText('ask here where the page is to be found');
  await home.locator('.back').click();
  await page.keyboard.type('leave');
  await expect(page.locator('[data-row="file"]')).toHaveAttribute('data-able', 'false');
  await expect(page.locator('[data-row="file"]')).toContainText('a browser allows no installation');
  await expect(page.locator('[data-row="code"]')).toHaveAttribute('data-able', 'false');
  const address = page.getByRole('textbox', { name: /address for the code/ });
  await address.fill('example.org');
  await address.press('Enter');
  await expect(page.locator('.stallform .wrong').last()).toHaveText('Expected: an address that begins with https:// or http://; the field stays empty.');
  await address.fill('https://example.org/robots/');
  await address.blur();
  await expect(page.locator('[data-row="code"]')).toHaveAttribute('data-able', 'true');
  await page.locator('.openstall').click();
  await press(page, 'home').click();
  await expect(home.locator('.code svg')).toBeVisible();
});

test('the screen is kept awake: asked for, asked again, given back; where it cannot be, the place says so', async ({ open, page }) => {
  await page.addInitScript(() => {
    const lock = { asked: [] as string[], released: 0, refuse: false, drop: (): void => undefined };
    Object.assign(window, { lock });
    const wakeLock = {
      request: (type: string) => {
        lock.asked.push(type);
        if (lock.refuse) return Promise.reject(new Error('no'));
        const sentinel = Object.assign(new EventTarget(), {
          release: () => {
            lock.released += 1;
            return Promise.resolve();
          },
        });
        lock.drop = () => sentinel.dispatchEvent(new Event('release'));
        return Promise.resolve(sentinel);
      },
    };
    Object.defineProperty(Object.getPrototypeOf(navigator), 'wakeLock', { configurable: true, value: wakeLock });
  });
  const lock = (): Promise<{ asked: string[]; released: number }> =>
    page.evaluate(() => {
      const { asked, released } = (window as unknown as { lock: { asked: string[]; released: number } }).lock;
      return { asked, released };
    });
  await chosen(page);
  await open('page', '#stall');
  await stands(page);
  expect(await lock()).toEqual({ asked: ['screen'], released: 0 });
  // Hidden and seen again: the browser has taken it.
  const seen = (state: string): Promise<void> =>
    page.evaluate((now) => {
      Object.defineProperty(document, 'visibilityState', { configurable: true, value: now });
      document.dispatchEvent(new Event('visibilitychange'));
    }, state);
  await seen('hidden');
  await page.evaluate(() => (window as unknown as { lock: { drop: () => void } }).lock.drop());
  expect((await lock()).asked).toHaveLength(1);
  await seen('visible');
  expect((await lock()).asked).toHaveLength(2);
  // Refused, then asked again by a touch.
  await page.evaluate(() => {
    const own = (window as unknown as { lock: { drop: () => void; refuse: boolean } }).lock;
    own.refuse = true;
    own.drop();
  });
  await expect.poll(async () => (await lock()).asked.length).toBe(3);
  await press(page, 'kick').click();
  await expect.poll(async () => (await lock()).asked.length).toBe(4);
  await page.keyboard.type('leave');
  await expect(page.locator('[data-row="awake"]')).toContainText('refused so far');
  await expect(page.locator('[data-row="awake"]')).toContainText('Set the device so that its screen does not go dark');
  await page.evaluate(() => {
    (window as unknown as { lock: { refuse: boolean } }).lock.refuse = false;
  });
  await page.locator('.openstall').click();
  await expect.poll(async () => (await lock()).asked.length).toBe(5);
  await page.keyboard.type('leave');
  await expect.poll(async () => (await lock()).released).toBe(1);
});

test('a browser that cannot keep the screen awake, fill it or buzz: the stall works, the place tells', async ({ open, page }) => {
  await page.addInitScript(() => {
    const navigators = Object.getPrototypeOf(navigator) as object;
    for (const name of ['wakeLock', 'vibrate']) Reflect.deleteProperty(navigators, name);
    Object.defineProperty(Document.prototype, 'fullscreenEnabled', { configurable: true, value: false });
  });
  await chosen(page, { buzz: true });
  await open('page');
  await openStallPlace(page);
  for (const row of ['awake', 'screen', 'buzz']) await expect(page.locator(`[data-row="${row}"]`)).toHaveAttribute('data-able', 'false');
  await page.locator('.openstall').click();
  await press(page, 'kick').click();
  await expect(says(page)).toHaveText(/^It rocks/);
  expect(await page.evaluate(() => {
    const box = document.querySelector('.stalllayer')?.getBoundingClientRect();
    return [box?.width, box?.height];
  })).toEqual([1280, 800]);
});

test('silent unless chosen; then a thump, not at every drum of a hand, and nothing is held', async ({ open, page }) => {
  await page.addInitScript(() => {
    const heard = { contexts: 0, begun: 0, ended: 0 };
    const made: AudioContext[] = [];
    Object.assign(window, { heard, made });
    const { start } = OscillatorNode.prototype;
    OscillatorNode.prototype.start = function (...given) {
      heard.begun += 1;
      this.addEventListener('ended', () => (heard.ended += 1));
      start.apply(this, given);
    };
    const Own = AudioContext;
    Object.assign(window, {
      AudioContext: class extends Own {
        constructor() {
          super();
          heard.contexts += 1;
          made.push(this);
        }
      },
    });
  });
  const heard = (): Promise<{ contexts: number; begun: number; ended: number }> => page.evaluate(() => (window as unknown as { heard: { contexts: number; begun: number; ended: number } }).heard);
  await chosen(page);
  await open('page');
  await openStallPlace(page);
  await page.locator('.openstall').click();
  await press(page, 'kick').click();
  await page.waitForTimeout(300);
  expect(await heard()).toEqual({ contexts: 0, begun: 0, ended: 0 });
  await page.keyboard.type('leave');
  await page.getByRole('checkbox', { name: /^sound/ }).check();
  await page.locator('.openstall').click();
  await press(page, 'kick').click();
  await page.waitForTimeout(400);
  const before = await heard();
  expect(before.contexts).toBe(1);
  // Twenty in one instant.
  await page.evaluate(() => {
    for (let i = 0; i < 20; i++) {
      for (const type of ['keydown', 'keyup']) document.body.dispatchEvent(new KeyboardEvent(type, { key: '1', bubbles: true, cancelable: true }));
    }
  });
  await page.waitForTimeout(900);
  const after = await heard();
  expect(after.begun).toBeGreaterThan(before.begun);
  // A thump is two notes; the hum may have come in between.
  expect(after.begun - before.begun).toBeLessThanOrEqual(3);
  // All but the hum has ended.
  expect(after.begun - after.ended).toBe(1);
  await page.keyboard.type('leave');
  await expect.poll(() => page.evaluate(() => (window as unknown as { made: AudioContext[] }).made.map(({ state }) => state))).toEqual(['closed']);
});

test('refused choices stay as they were; the drawing follows them; they are kept', async ({ open, page }) => {
  await open('page');
  await openStallPlace(page);
  const box = (name: RegExp) => page.getByRole('checkbox', { name });
  await box(/^turn the robot/).click();
  await expect(page.locator('.stallform .wrong').first()).toHaveText('Expected: at most 4 presses; the others stay as they were. Take one off first.');
  await expect(box(/^turn the robot/)).not.toBeChecked();
  await box(/^take it home/).uncheck();
  await box(/^heavier head/).uncheck();
  await box(/^kick/).click();
  await expect(page.locator('.stallform .wrong').first()).toHaveText('Expected: at least 2 presses; they stay as they were.');
  await expect(box(/^kick/)).toBeChecked();
  await box(/^turn the robot/).check();
  await expect(page.locator('.mapping tbody th')).toHaveText(['1: kick', '2: software on and off', '3: turn the robot']);
  await expect(page.locator('.keysdrawn').first().locator('.unused')).toHaveCount(1);
  const idle = page.getByRole('textbox', { name: /^seconds without a touch/ });
  await idle.fill('5');
  await idle.blur();
  await expect(page.locator('.stallform')).toContainText('Expected: a number from 10 to 300; 40 is kept.');
  await expect(idle).toHaveValue('40');
  await idle.fill('20');
  await idle.blur();
  await page.reload();
  await openStallPlace(page);
  await expect(page.locator('.mapping tbody th')).toHaveCount(3);
  await expect(page.getByRole('textbox', { name: /^seconds without a touch/ })).toHaveValue('20');
  await page.locator('.openstall').click();
  await expect(page.locator('.choice')).toHaveCount(3);
  await press(page, 'turn').click();
  await expect(press(page, 'turn')).toHaveText('from the side');
  await page.keyboard.type('leave');
  // Damaged content is as if there were none.
  await page.evaluate(() => {
    localStorage.setItem('kickstill-stall', '{"version":1,"presses":"all","idle":-4,"address":7}');
  });
  await page.reload();
  await openStallPlace(page);
  await expect(page.locator('.mapping tbody th')).toHaveCount(4);
});

test.describe('motion kept low', () => {
  test.use({ reducedMotion: 'reduce' } as object);
  test('scenes are a picture a second', async ({ open, page }) => {
    await page.addInitScript(() => {
      const drawn = { count: 0 };
      Object.assign(window, { drawn });
      const { clearRect } = CanvasRenderingContext2D.prototype;
      CanvasRenderingContext2D.prototype.clearRect = function (...given) {
        if (this.canvas.closest('.stalllayer') !== null) drawn.count += 1;
        clearRect.apply(this, given);
      };
    });
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await chosen(page);
    await open('page', '#stall');
    await stands(page);
    await page.waitForTimeout(500);
    const count = (): Promise<number> => page.evaluate(() => (window as unknown as { drawn: { count: number } }).drawn.count);
    const before = await count();
    await page.waitForTimeout(4000);
    const pictures = (await count()) - before;
    expect(pictures).toBeGreaterThanOrEqual(2);
    expect(pictures).toBeLessThanOrEqual(6);
    // What a visitor does moves.
    await press(page, 'kick').click();
    await expect.poll(count).toBeGreaterThan(before + pictures + 10);
  });
});
