// WebKit as the distribution ships it for GTK, driven by its WebDriver on a screen of its own.

import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { webkitParts } from './browsers.mjs';
import { listenedFile, type Site } from './site.mjs';
import type { Watch } from './watch.ts';
import { command, DriverPage } from './webdriver.ts';

export type WebKitPage = DriverPage;

export interface WebKit {
  open(site: Site, where: 'page' | 'file' | 'core', suffix: string): Promise<WebKitPage>;
  end(): Promise<void>;
}

/** Nothing where the system lacks a part of it. */
export async function launchWebKit(): Promise<WebKit | undefined> {
  const parts = webkitParts();
  if (parts === undefined) return undefined;
  const home = mkdtempSync(path.join(tmpdir(), 'kickstill-webkit-'));
  const file = path.join(home, 'kickstill.html');
  writeFileSync(file, listenedFile());

  const screen = spawn(parts.screen, ['-displayfd', '3', '-screen', '0', '1400x1000x24', '-nolisten', 'tcp'], {
    stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
  });
  const display = await displayOf(screen);

  const port = await freePort();
  const origin = `http://127.0.0.1:${port}`;
  const driver = spawn(parts.driver, [`--port=${port}`], {
    stdio: 'ignore',
    env: {
      ...process.env,
      DISPLAY: `:${display}`,
      GDK_BACKEND: 'x11',
      NO_AT_BRIDGE: '1',
      // Without a graphics card plain painting is several times faster than layers put together.
      WEBKIT_DISABLE_COMPOSITING_MODE: '1',
      LIBGL_ALWAYS_SOFTWARE: '1',
      // The plain locale, under which this browser names a language that is none; see www/src/words/tag.ts.
      LC_ALL: 'C',
      XDG_CACHE_HOME: home,
      XDG_CONFIG_HOME: home,
      XDG_DATA_HOME: home,
    },
  });
  const end = async (): Promise<void> => {
    for (const one of [driver, screen]) await stopped(one);
    // The browser's helpers may still write while they end.
    rmSync(home, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
  };
  await answering(origin, driver).catch(async (cause: unknown) => {
    await end();
    throw cause;
  });

  const wishes = { 'webkitgtk:browserOptions': { binary: parts.browser, args: ['--automation'] } };
  return {
    async open(site, where, suffix) {
      const page = await DriverPage.open(origin, wishes);
      await page.viewport(1280, 800);
      const start = { page: site.listened, file: pathToFileURL(file).href, core: site.core }[where];
      await page.goto(start + suffix);
      return page;
    },
    end,
  };
}

/** The protocol brings no console: what listener.js kept, and what the page loaded, is told to the watch. */
export async function tell(page: WebKitPage, watch: Watch): Promise<void> {
  const { said, loaded } = await page.evaluate(() => ({
    said: (globalThis as { said?: string[] }).said?.splice(0) ?? [],
    loaded: performance.getEntriesByType('resource').map(({ name }) => name),
  }));
  for (const one of said) watch.note(one);
  for (const url of loaded) watch.request(url);
}

/** The number of the display, as the screen says it when it can be drawn on. */
async function displayOf(screen: ChildProcess): Promise<string> {
  let said = '';
  for await (const piece of screen.stdio[3] as Readable) {
    said += String(piece);
    if (said.includes('\n')) return said.trim();
  }
  throw new Error('the screen for WebKit did not start');
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

async function answering(origin: string, driver: ChildProcess): Promise<void> {
  for (let i = 0; i < 100 && driver.exitCode === null; i++) {
    try {
      await command(origin, 'GET', '/status');
      return;
    } catch {
      await wait(100);
    }
  }
  throw new Error('the driver of WebKit does not answer');
}

async function stopped(process: ChildProcess): Promise<void> {
  if (process.exitCode !== null || process.signalCode !== null) return;
  const gone = once(process, 'exit');
  process.kill();
  await gone;
}
