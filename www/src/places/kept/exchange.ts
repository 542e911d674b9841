// Kept runs and revisions as one file, and back. Each record is one line of it, so that a file
// that was cut or damaged still gives what its other lines hold. Robots, which many records
// share, stand once.

import { onScratch } from '../../core/scratch';
import type { Problem } from '../../core/types';
import type { Revision } from '../../revisions';
import type { Storage } from './db';
import { words } from '../../words/kept';
import { Check, checkRevision, checkRun, found, type KeptRun } from './record';

const FORMAT = 'kickstill-kept';
const VERSION = 1;
/** A longer file is compressed [characters]. */
const BIG = 8_000_000;
/** Longest file that is read [bytes]. */
const MOST = 200_000_000;
const LISTS = ['robots', 'runs', 'revisions'] as const;
type List = (typeof LISTS)[number];

/** How the page was looked at; offered after an import, never put in force by itself. */
export interface Settings {
  readonly units: 'metric' | 'inch';
  readonly theme: 'auto' | 'day' | 'night';
  readonly shown: 'side' | 'front' | 'both';
  readonly layers: number;
}

export interface Imported {
  readonly runs: number;
  readonly revisions: number;
  /** Known already, left as they are. */
  readonly known: number;
  readonly problems: readonly Problem[];
  readonly settings: Settings | undefined;
}

/** The file's text. */
export function writeFile(runs: readonly KeptRun[], revisions: readonly Revision[], settings: Settings): string {
  const robots = new Map<string, string>();
  const refer = (text: string): string => {
    let name = robots.get(text);
    if (name === undefined) {
      name = `robot-${robots.size + 1}`;
      robots.set(text, name);
    }
    return name;
  };
  const runLines = runs.map((run) => JSON.stringify({ ...run, robot: refer(run.robot), opened: refer(run.opened), now: refer(run.now) }));
  const revisionLines = revisions.map((row) =>
    JSON.stringify({ ...row, setting: { opened: refer(row.setting.opened), now: refer(row.setting.now) } }),
  );
  const robotLines = [...robots].map(([text, name]) => JSON.stringify({ id: name, file: JSON.parse(text) as unknown }));
  const list = (name: List, lines: readonly string[]): string =>
    `  "${name}": [${lines.length === 0 ? '' : `\n    ${lines.join(',\n    ')}\n  `}]`;
  return [
    '{',
    `  "format": "${FORMAT}",`,
    `  "version": ${VERSION},`,
    `  "exported": "${new Date().toISOString()}",`,
    `  "settings": ${JSON.stringify(settings)},`,
    `${list('robots', robotLines)},`,
    `${list('runs', runLines)},`,
    list('revisions', revisionLines),
    '}',
    '',
  ].join('\n');
}

/** As a file to be saved: compressed only where it would be very long. */
export async function toBlob(text: string): Promise<{ blob: Blob; ending: string }> {
  const plain = new Blob([text], { type: 'application/json' });
  if (text.length < BIG || typeof CompressionStream !== 'function') return { blob: plain, ending: '.json' };
  const packed = await new Response(plain.stream().pipeThrough(new CompressionStream('gzip'))).blob();
  return { blob: packed, ending: '.json.gz' };
}

async function textOf(file: Blob): Promise<string> {
  const [first, second] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
  if (first !== 0x1f || second !== 0x8b) return file.text();
  return new Response(file.stream().pipeThrough(new DecompressionStream('gzip'))).text();
}

const nothing = (problems: readonly Problem[]): Imported => ({
  runs: 0,
  revisions: 0,
  known: 0,
  problems,
  settings: undefined,
});

/** Takes in what a file holds; nothing that is here already is changed. */
export async function importFile(file: Blob, name: string, storage: Storage): Promise<Imported> {
  const refuse = (value: string, expected: string, more: Partial<Problem> = {}): Imported =>
    nothing([{ path: name, value, expected, hint: '', kept: words.import.nothing, severity: 'error', ...more }]);
  if (file.size > MOST) return refuse(words.import.size(file.size), words.import.atMost(MOST));
  let text: string;
  try {
    text = await textOf(file);
  } catch {
    return refuse('', words.import.unreadable);
  }
  const check = new Check(words.import.others);
  const content = read(text, check);
  if (content === undefined) return refuse(found(text.slice(0, 40)), check.problems[0]?.expected ?? words.import.expected);
  const { format, version } = content.head;
  if (format !== FORMAT) return refuse(format === undefined ? '' : found(format), words.import.expected);
  if (typeof version !== 'number' || version < 1 || version > VERSION) {
    return refuse(found(version), words.import.version(VERSION), { hint: words.import.newer, path: 'version' });
  }

  const robots = await readRobots(content.lists.robots, check);
  const robot = (value: unknown, path: string): string | undefined => {
    const known = typeof value === 'string' ? robots.get(value) : undefined;
    if (known === undefined) check.wrong(path, value, words.import.robot);
    return known;
  };
  let known = 0;
  const runs: KeptRun[] = [];
  for (const [path, value] of content.lists.runs) {
    const raw = value as Record<string, unknown> | null;
    const files: Partial<Record<'robot' | 'opened' | 'now', string>> = {};
    for (const key of ['robot', 'opened', 'now'] as const) {
      const file = robot(raw?.[key], `${path}.${key}`);
      if (file === undefined) break;
      files[key] = file;
    }
    if (files.now === undefined) continue;
    const run = checkRun({ ...raw, ...files }, path, check);
    if (run === undefined) continue;
    const here = storage.get('runs', run.id);
    if (here === undefined) runs.push(run);
    else if (here.digest === run.digest) known += 1;
    // The same id for another run: both stay.
    else runs.push({ ...run, id: `${run.id.slice(0, 40)}-${run.digest.slice(0, 8)}` });
  }
  const revisions: Revision[] = [];
  for (const [path, value] of content.lists.revisions) {
    const raw = value as { setting?: { opened?: unknown; now?: unknown } } | null;
    const opened = robot(raw?.setting?.opened, `${path}.setting.opened`);
    const now = opened === undefined ? undefined : robot(raw?.setting?.now, `${path}.setting.now`);
    if (opened === undefined || now === undefined) continue;
    const row = checkRevision({ ...raw, setting: { opened, now } }, path, check);
    if (row === undefined) continue;
    if (storage.get('revisions', row.id) === undefined) revisions.push(row);
    else known += 1;
  }
  await Promise.all([
    ...runs.map((run) => storage.put('runs', run)),
    ...revisions.map((row) => storage.put('revisions', row)),
  ]);
  return {
    runs: runs.length,
    revisions: revisions.length,
    known,
    problems: check.problems,
    settings: readSettings(content.head['settings']),
  };
}

type Entry = readonly [path: string, value: unknown];
interface Content {
  readonly head: Readonly<Record<string, unknown>>;
  readonly lists: Readonly<Record<List, readonly Entry[]>>;
}

function read(text: string, check: Check): Content | undefined {
  let whole: unknown;
  try {
    whole = JSON.parse(text);
  } catch (cause) {
    return readLines(text, check, cause instanceof Error ? cause.message : String(cause));
  }
  if (typeof whole !== 'object' || whole === null || Array.isArray(whole)) return undefined;
  const head = whole as Record<string, unknown>;
  const lists: Record<List, Entry[]> = { robots: [], runs: [], revisions: [] };
  for (const name of LISTS) {
    const list = head[name];
    if (list === undefined) continue;
    if (!Array.isArray(list)) check.wrong(name, list, words.import.list);
    else lists[name] = list.map((value: unknown, index): Entry => [`${name}[${index}]`, value]);
  }
  return { head, lists };
}

/** A file that is no JSON any more: line by line, as it was written. */
function readLines(text: string, check: Check, reason: string): Content | undefined {
  const head: Record<string, unknown> = {};
  const lists: Record<List, Entry[]> = { robots: [], runs: [], revisions: [] };
  let list: List | undefined;
  let closed = false;
  const lines = text.split('\n');
  lines.forEach((line, at) => {
    const begins = /^ {2}"(\w+)": (.*)$/.exec(line);
    if (begins !== null) {
      const [, key = '', rest = ''] = begins;
      list = LISTS.find((one) => one === key && rest === '[');
      if (list === undefined && rest !== '[],' && rest !== '[]') head[key] = parse(rest.replace(/,$/, ''));
    } else if (/^ {2}\],?$/.test(line)) {
      list = undefined;
    } else if (line === '}') {
      closed = true;
    } else if (list !== undefined) {
      const value = parse(line.trim().replace(/,$/, ''));
      if (value === undefined) check.wrong(words.import.line(at + 1), line.trim(), words.import.whole);
      else lists[list].push([words.import.line(at + 1), value]);
    }
  });
  if (head['format'] !== FORMAT) {
    check.wrong('', text.slice(0, 40), `${words.import.expected} (${reason})`);
    return undefined;
  }
  if (!closed) check.wrong(words.import.line(lines.length), '', words.import.end);
  return { head, lists };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

/** The robots of a file that the core can read, in the core's own writing. */
async function readRobots(entries: readonly Entry[], check: Check): Promise<Map<string, string>> {
  return onScratch((board) => {
    const robots = new Map<string, string>();
    for (const [path, value] of entries) {
      const { id, file } = (value ?? {}) as { id?: unknown; file?: unknown };
      if (typeof id !== 'string' || typeof file !== 'object' || file === null) {
        check.wrong(path, value, words.import.robotEntry);
        continue;
      }
      const errors = board.openRobot(JSON.stringify(file)).problems.filter(({ severity }) => severity === 'error');
      for (const problem of errors) {
        check.problems.push({ ...problem, path: `${path}.file.${problem.path}`, kept: words.import.others });
      }
      if (errors.length === 0) robots.set(id, board.robotFile());
    }
    return robots;
  });
}

function readSettings(value: unknown): Settings | undefined {
  const it = value as Settings | null | undefined;
  const good =
    typeof it === 'object' &&
    it !== null &&
    ['metric', 'inch'].includes(it.units) &&
    ['auto', 'day', 'night'].includes(it.theme) &&
    ['side', 'front', 'both'].includes(it.shown) &&
    Number.isInteger(it.layers);
  return good ? it : undefined;
}
