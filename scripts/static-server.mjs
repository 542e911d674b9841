// A small static file server for the built page: node static-server.mjs FOLDER PORT [HOST]
// Also used by the browser tests. No dependencies.

import { createServer } from 'node:http';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const TYPES = /** @type {Record<string, string>} */ ({
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml; charset=utf-8',
  '.png': 'image/png',
  '.txt': 'text/plain; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
});

/**
 * @typedef {object} Options
 * @property {Record<string, string>} folders URL prefix (with both slashes) → folder; the longest match wins
 * @property {Record<string, string>} [pages] URL path → HTML text
 * @property {number} [port] 0 picks a free one
 * @property {string} [host]
 * @property {Record<string, string>} [headers] added to every answer
 */

/**
 * Starts a server.
 * @param {Options} options
 * @returns {Promise<{ origin: string, close: () => Promise<void> }>}
 */
export async function startServer({ folders, pages = {}, port = 0, host = '127.0.0.1', headers = {} }) {
  const prefixes = Object.keys(folders).sort((a, b) => b.length - a.length);
  const server = createServer(async (request, response) => {
    /** @param {number} status @param {Record<string, string>} extra @param {string | Buffer} body */
    const answer = (status, extra, body) => {
      response.writeHead(status, {
        'Cache-Control': 'no-cache',
        'X-Content-Type-Options': 'nosniff',
        'Referrer-Policy': 'no-referrer',
        ...extra,
        ...headers,
        'Content-Length': Buffer.byteLength(body),
      });
      response.end(request.method === 'HEAD' ? undefined : body);
    };
    const text = { 'Content-Type': 'text/plain; charset=utf-8' };
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      return answer(405, { ...text, Allow: 'GET, HEAD' }, 'only GET and HEAD\n');
    }
    const url = decodePath(request.url ?? '/');
    if (url === undefined) return answer(400, text, 'malformed address\n');
    const page = pages[url];
    if (page !== undefined) return answer(200, html(page), page);

    const prefix = prefixes.find((candidate) => url.startsWith(candidate));
    if (prefix === undefined) return answer(404, text, 'not found\n');
    const folder = path.resolve(/** @type {string} */ (folders[prefix]));
    const file = path.join(folder, url.slice(prefix.length) || 'index.html');
    if (file !== folder && !file.startsWith(folder + path.sep)) return answer(404, text, 'not found\n');
    try {
      const body = await readFile(url.endsWith('/') && url !== prefix ? path.join(file, 'index.html') : file);
      const type = TYPES[path.extname(file) || '.html'] ?? 'application/octet-stream';
      answer(200, type.startsWith('text/html') ? html(body.toString('utf8')) : { 'Content-Type': type }, body);
    } catch {
      answer(404, text, 'not found\n');
    }
  });
  await new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => resolve(undefined));
  });
  const address = server.address();
  const actual = typeof address === 'object' && address ? address.port : port;
  return {
    origin: `http://${host.includes(':') ? `[${host}]` : host}:${actual}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** @param {string} url */
function decodePath(url) {
  try {
    const decoded = decodeURIComponent(/** @type {string} */ (url.split(/[?#]/, 1)[0]));
    return decoded.startsWith('/') && !decoded.includes('\0') ? decoded : undefined;
  } catch {
    return undefined;
  }
}

/**
 * The page's own policy, sent as a header too, with the one rule that a page cannot state itself.
 * @param {string} page
 */
function html(page) {
  const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1];
  return {
    'Content-Type': 'text/html; charset=utf-8',
    'Content-Security-Policy': `${policy ?? "default-src 'none'"}; frame-ancestors 'self'`,
  };
}

if (process.argv[1] && path.resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const [folder = 'dist', port = '8080', host = '127.0.0.1'] = process.argv.slice(2);
  try {
    const { origin, close } = await startServer({ folders: { '/': folder }, port: Number(port), host });
    console.log(`Kickstill is at ${origin}/  (stop with Ctrl-C)`);
    for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => void close().then(() => process.exit(0)));
  } catch (error) {
    const { code, message } = /** @type {NodeJS.ErrnoException} */ (error);
    console.error(
      code === 'EADDRINUSE'
        ? `port ${port} is taken: choose another by --port N, or 0 for any free one`
        : `cannot serve: ${message}`,
    );
    process.exitCode = 1;
  }
}
