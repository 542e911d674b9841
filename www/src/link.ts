// The whole setting in the address, after "#k1=": the robot as its difference from a demo robot
// or as its whole file compressed, then how it is looked at and kicked. Loaded when first needed.
//
//   #k1=cobnut,head.mass=1.1,travel.dead_band=0.02;v=front;l=2;k=4,0.24;u=inch
//   #k1=~7VdLb9…;l=2
//
//   robot    a demo's key and its changed knobs [SI, or a choice's word], or ~ and the file's text,
//            deflated, in URL-safe base 64
//   v=       side | front | both             l=   software level, 0 … 2
//   k= b=    kick [N·s], height [m]; bump [N·s], of the active view
//   u=       inch                             d=   the double: a second robot, as the first, or
//                                                  off, the same robot with its motors off
//
// Old links are committed with the tests: whatever changes here must still read them.

import type { Actions } from './actions';
import { demoFiles } from './core/demos';
import { onScratch } from './core/scratch';
import { setAll } from './core/setall';
import { FRONT, OFF, SIDE, type Board, type Level, type Problem } from './core/types';
import type { Setting } from './revisions';
import type { Shown, State, Units } from './store';
import { words } from './words/page';

const MARK = '#k1=';
/** Any version's beginning; a newer one is told from something else. */
const ANY_MARK = /^#k(\d+)=/;
/** Longest link that is read: a robot file is a few kilobytes. */
const MOST = 200_000;
/** Most text that a compressed robot may grow to. */
const MOST_ROBOT = 1_000_000;

/** A double that is the board's robot without its software. */
const MOTORS_OFF = 'off';

/** What a link says, read and tried out. */
export interface Linked {
  readonly setting: Setting;
  readonly shown: Shown | undefined;
  readonly level: Level | undefined;
  /** Impulse [N·s] and height [m]. */
  readonly kick: readonly [number, number] | undefined;
  readonly bump: number | undefined;
  readonly units: Units | undefined;
  readonly double: Setting | typeof MOTORS_OFF | undefined;
}

/** Thrown when a link cannot be read; nothing has been changed then. */
export class BadLink extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super(problems[0]?.expected ?? '');
  }
}

const bad = (value: string, expected: string, hint = ''): BadLink =>
  new BadLink([
    {
      path: words.link.where,
      value: value.length > 60 ? `${value.slice(0, 59)}…` : value,
      expected,
      hint,
      kept: words.robots.keptRobot,
      severity: 'error',
    },
  ]);

/** The address of the present setting, with the double if there is one. */
export async function makeLink(actions: Actions): Promise<string> {
  return location.href.replace(/#.*$/s, '') + (await makeFragment(actions.board, actions.store.state));
}

/** How a board's robot is looked at and pushed. */
export type Looked = Pick<State, 'shown' | 'active' | 'level' | 'kick' | 'bump' | 'units' | 'robot' | 'double'>;

/** What comes after the page's address: the robot of `board`, looked at like this. The board is read before this returns. */
export async function makeFragment(board: Board, looked: Looked): Promise<string> {
  const { shown, active, level, kick, bump, units, robot, double } = looked;
  const file = board.robotFile();
  const beside = board.doubleFile();
  const parts = [await writeRobot(file)];
  if (shown !== 'side') parts.push(`v=${shown}`);
  if (level !== 0) parts.push(`l=${level}`);
  const { impulse, height } = kick[active];
  if (impulse !== robot.kick[active] || height !== robot.radius) parts.push(`k=${impulse},${height}`);
  if (bump[active] !== robot.bump[active]) parts.push(`b=${bump[active]}`);
  if (units === 'inch') parts.push('u=inch');
  if (double?.fixed === true && double.level === OFF && beside === file) parts.push(`d=${MOTORS_OFF}`);
  else if (beside !== undefined) parts.push(`d=${await writeRobot(beside)}`);
  return MARK + parts.join(';');
}

/** The shortest of: a difference from each demo robot, the whole file. */
async function writeRobot(file: string): Promise<string> {
  const demos = await demoFiles();
  const short = await onScratch((board) => {
    const wanted = valuesOf(board, () => board.openRobot(file));
    let best: string | undefined;
    for (const [key, demo] of demos) {
      const own = valuesOf(board, () => board.openRobot(demo));
      const changed = [...wanted].filter(([knob, value]) => own.get(knob) !== value);
      setKnobs(board, changed);
      // Only what makes the very same file is the same robot: parts and names count too.
      if (board.robotFile() !== file) continue;
      const catalogue = new Map(board.catalogue().map((info) => [info.key, info]));
      const list = changed.map(([knob, value]) => {
        const info = catalogue.get(knob);
        return `${knob}=${info?.kind === 'choice' ? encodeURIComponent(info.words[value] ?? String(value)) : value}`;
      });
      const text = [key, ...list].join(',');
      if (best === undefined || text.length < best.length) best = text;
    }
    return best;
  });
  if (short !== undefined && short.length < 300) return short;
  const whole = `~${await squeeze(file)}`;
  return short !== undefined && short.length <= whole.length ? short : whole;
}

function valuesOf(board: Board, open: () => unknown): Map<string, number> {
  open();
  return new Map(board.values().map(({ key, value }) => [key, value]));
}

/** Sets knobs. Gives what was refused. */
const setKnobs = (board: Board, knobs: readonly (readonly [string, number])[]): Problem[] =>
  setAll(knobs, ([key, value]) => board.setKnob(key, value)).flatMap(({ problems }) => problems);

/** Reads a link; throws `BadLink` with all that is wrong. */
export async function readFragment(hash: string): Promise<Linked> {
  const version = ANY_MARK.exec(hash);
  if (version === null) throw bad(hash, words.link.expected);
  if (version[1] !== '1') throw bad(hash, words.link.expected, words.link.newer);
  if (hash.length > MOST) throw bad(hash, words.link.short(MOST));
  const [robot = '', ...rest] = hash.slice(MARK.length).split(';');
  const said = new Map<string, string>();
  for (const part of rest) {
    const at = part.indexOf('=');
    const key = part.slice(0, at);
    if (at < 1 || !'vlkbud'.includes(key) || key.length !== 1 || said.has(key)) throw bad(part, words.link.parts);
    said.set(key, part.slice(at + 1));
  }
  const one = <T extends string>(key: string, from: readonly T[]): T | undefined => {
    const text = said.get(key);
    if (text === undefined) return undefined;
    const known = from.find((word) => word === text);
    if (known === undefined) throw bad(`${key}=${text}`, from.join(', '));
    return known;
  };
  const numbers = (key: string, count: number): number[] | undefined => {
    const text = said.get(key);
    if (text === undefined) return undefined;
    const list = text.split(',').map((part) => (/^-?\d/.test(part) ? Number(part) : NaN));
    if (list.length !== count || !list.every(Number.isFinite)) throw bad(`${key}=${text}`, words.link.numbers(count));
    return list;
  };
  const shown = one('v', ['side', 'front', 'both']);
  const level = one('l', ['0', '1', '2']);
  const units = one('u', ['inch', 'metric']);
  const kick = numbers('k', 2) as [number, number] | undefined;
  const bump = numbers('b', 1)?.[0];
  const double = said.get('d');
  return {
    setting: await readRobot(robot),
    shown,
    level: level === undefined ? undefined : (Number(level) as Level),
    kick,
    bump,
    units,
    double: double === undefined || double === MOTORS_OFF ? double : await readRobot(double),
  };
}

async function readRobot(text: string): Promise<Setting> {
  if (text.startsWith('~')) {
    let file: string;
    try {
      file = await expand(text.slice(1));
    } catch {
      throw bad(text, words.link.whole, words.link.cut);
    }
    return onScratch((board) => {
      const errors = board.openRobot(file).problems.filter(({ severity }) => severity === 'error');
      if (errors.length > 0) throw new BadLink(errors);
      return { opened: board.openedFile(), now: board.robotFile() };
    });
  }
  const [demo = '', ...list] = text.split(',');
  const demos = await demoFiles();
  const file = demos.get(demo);
  if (file === undefined) throw bad(demo, words.link.demo([...demos.keys()].join(', ')), words.link.newer);
  return onScratch((board) => {
    board.openRobot(file);
    const catalogue = new Map(board.catalogue().map((info) => [info.key, info]));
    const problems: Problem[] = [];
    const knobs: [string, number][] = [];
    for (const part of list) {
      const at = part.indexOf('=');
      const key = part.slice(0, Math.max(0, at));
      const info = catalogue.get(key);
      const given = part.slice(at + 1);
      if (info === undefined) {
        problems.push(...bad(part, words.link.knob, words.link.newer).problems);
        continue;
      }
      const value = info.kind === 'choice' ? info.words.indexOf(decode(given)) : /^-?\d/.test(given) ? Number(given) : NaN;
      if (!Number.isFinite(value) || value < 0 && info.kind === 'choice') {
        const expected = info.kind === 'choice' ? info.words.join(', ') : words.link.numbers(1);
        problems.push(...bad(part, expected).problems);
      } else {
        knobs.push([key, value]);
      }
    }
    if (problems.length === 0) problems.push(...setKnobs(board, knobs));
    if (problems.length > 0) throw new BadLink(problems);
    return { opened: board.openedFile(), now: board.robotFile() };
  });
}

const decode = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/**
 * Puts a link's setting on the board as a revision: the robot that stood there is one undo away.
 * Answers whether it was read.
 */
export async function openLink(actions: Actions, hash: string): Promise<boolean> {
  const { store, board, revisions } = actions;
  let linked: Linked;
  try {
    linked = await readFragment(hash);
  } catch (cause) {
    if (!(cause instanceof BadLink)) throw cause;
    // They were found on a board that nobody saw; what was kept is the one in sight.
    const problems = cause.problems.map((problem) => ({ ...problem, kept: words.robots.keptRobot }));
    actions.showProblems(problems, words.link.name);
    return false;
  }
  const { setting, shown, level, kick, bump, units, double } = linked;
  const same = board.robotFile() === setting.now && board.openedFile() === setting.opened;
  if (!same && !revisions.putSetting(setting, words.link.name)) return false;
  if (units !== undefined && units !== store.state.units) actions.units(units);
  if (shown !== undefined) actions.show(shown);
  actions.level(level ?? 0);
  const { active } = store.state;
  const next: Partial<State> = {
    ...(kick === undefined ? {} : { kick: swap(store.state.kick, active, { impulse: kick[0], height: kick[1] }) }),
    ...(bump === undefined ? {} : { bump: swap(store.state.bump, active, bump) }),
  };
  store.set(next);
  if (double === MOTORS_OFF) actions.doubleOff();
  else if (double !== undefined) actions.doubleOf(double, words.link.double, words.link.name);
  actions.notice(words.link.opened(store.state.robot.name));
  return true;
}

const swap = <T>([side, front]: readonly [T, T], plane: number, value: T): readonly [T, T] =>
  plane === SIDE ? [value, front] : plane === FRONT ? [side, value] : [side, front];

// Deflate, then base 64 with - and _: nothing that an address or a message would change.

async function through(bytes: Uint8Array<ArrayBuffer>, stream: GenericTransformStream, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const reader = new Blob([bytes]).stream().pipeThrough(stream as TransformStream<Uint8Array, Uint8Array<ArrayBuffer>>).getReader();
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    // A few bytes can be made to unfold into a full memory.
    if (length > most) throw new Error('too long');
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

async function squeeze(text: string): Promise<string> {
  // Without its line breaks and indents; the core writes its own.
  const bytes = new TextEncoder().encode(JSON.stringify(JSON.parse(text)));
  const packed = await through(bytes, new CompressionStream('deflate-raw'), MOST_ROBOT);
  let binary = '';
  for (const byte of packed) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

async function expand(text: string): Promise<string> {
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
  const plain = await through(bytes, new DecompressionStream('deflate-raw'), MOST_ROBOT);
  return new TextDecoder('utf-8', { fatal: true }).decode(plain);
}
