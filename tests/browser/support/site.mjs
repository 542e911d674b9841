// Serves the built page, and the shipped core by itself, for the tests and the benchmark.

import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { startServer } from '../../../scripts/static-server.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../..');
const dist = path.join(root, 'dist');

/** The folder build. */
export const distFolder = dist;

const listener = path.join(root, 'tests/browser/listener');

/** A deep folder: the page must not rely on being at the top of its host. */
const SUB_PATH = '/any/sub path/';

/**
 * @typedef {object} Site
 * @property {string} origin everything that the page may load over http begins with this
 * @property {string} page the folder build, below a sub-path
 * @property {string} listened the folder build with listener.js before its own scripts
 * @property {string} file the one-file build, as opened by double click
 * @property {string} core an empty page beside the shipped core, under the page's own policy
 * @property {() => Promise<void>} close
 */

/**
 * @param {Record<string, string>} headers added to every answer
 * @returns {Promise<Site>}
 */
export async function startSite(headers = {}) {
  const index = path.join(dist, 'index.html');
  const file = path.join(dist, 'kickstill.html');
  for (const needed of [index, file]) {
    if (!existsSync(needed)) throw new Error(`${needed} is missing: run scripts/build first`);
  }
  const page = readFileSync(index, 'utf8');
  const policy = /<meta http-equiv="Content-Security-Policy"[^>]*>/.exec(page)?.[0];
  if (policy === undefined) throw new Error('the built page states no security policy');
  const { origin, close } = await startServer({
    folders: { [SUB_PATH]: dist, '/core/': path.join(root, 'www/src/core/pkg'), '/listener/': listener },
    pages: {
      [`${SUB_PATH}listened.html`]: first(page, '<script src="/listener/listener.js"></script>'),
      '/core/index.html': `<!doctype html><html lang="en"><head><meta charset="utf-8">${policy}<title>core</title><link rel="icon" href="data:,"></head><body></body></html>`,
    },
    headers,
  });
  return {
    origin,
    page: origin + encodeURI(SUB_PATH),
    listened: `${origin}${encodeURI(SUB_PATH)}listened.html`,
    file: pathToFileURL(file).href,
    core: `${origin}/core/index.html`,
    close,
  };
}

/** @param {string} html @param {string} element put before everything else, its policy too */
function first(html, element) {
  if (!html.includes('<head>')) throw new Error('the built page has no head');
  return html.replace('<head>', () => `<head>${element}`);
}

/** The one-file build with listener.js before its own script; to be kept as a file somewhere. */
export function listenedFile() {
  const script = readFileSync(path.join(listener, 'listener.js'), 'utf8');
  return first(readFileSync(path.join(dist, 'kickstill.html'), 'utf8'), `<script>${script}</script>`);
}

/** Path of the shipped board's wasm file on the test server, and the demo robots' files by key. */
export function shippedCore() {
  const name = readdirSync(path.join(dist, 'assets')).find((entry) => /^kickstill_bg.*\.wasm$/.test(entry));
  if (name === undefined) throw new Error('dist/assets holds no wasm file');
  const demos = ['cobnut', 'thimble', 'hayrick'].map(
    (key) => /** @type {const} */ ([key, readFileSync(path.join(root, `crates/robot/demos/${key}.json`), 'utf8')]),
  );
  return { wasm: `${encodeURI(SUB_PATH)}assets/${name}`, demos };
}

/**
 * The committed digests of the named scenarios.
 * @returns {{ name: string, digest: string }[]}
 */
export function committedDigests() {
  return JSON.parse(readFileSync(path.join(root, 'tests/digests/digests.json'), 'utf8'));
}
