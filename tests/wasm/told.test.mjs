// Whatever the core says is told in German: the jobs of the workers are asked much, wrong robot files are
// opened, the drawing is lettered, and all of it goes through what the page tells it by.

import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import path from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { build } from '../../www/node_modules/vite/dist/node/index.js';
import { core } from './core.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const words = path.join(root, 'www/src/words');

const lab = await import(path.join(root, 'www/src/core/pkg/lab.js'));
lab.initSync({ module: new WebAssembly.Module(await readFile(path.join(root, 'www/src/core/pkg/lab_bg.wasm'))) });

/** @typedef {Record<string, any>} Any whatever is given to the core, or comes from it */

/**
 * The page's module, which is TypeScript, in a form that Node reads.
 * @param {string} entry
 */
async function page(entry) {
  const built = await build({
    configFile: false,
    root,
    logLevel: 'error',
    build: { write: false, lib: { entry, formats: ['es'] } },
  });
  const [first] = Array.isArray(built) ? built : [];
  assert.ok(first !== undefined);
  return import(`data:text/javascript,${encodeURIComponent(first.output[0].code)}`);
}
const { Crossing } = await page(path.join(words, 'crossing.ts'));

const folder = path.join(words, 'de/core');
const texts = await Promise.all((await readdir(folder)).map(async (name) => JSON.parse(await readFile(path.join(folder, name), 'utf8'))));
const catalogue = Object.assign({}, ...texts);

/** @param {string} name */
const demo = (name) => readFile(path.join(root, `crates/robot/demos/${name}.json`), 'utf8');
const [cobnut, thimble, hayrick] = await Promise.all([demo('cobnut'), demo('thimble'), demo('hayrick')]);
const demos = new Map([
  ['cobnut', cobnut],
  ['thimble', thimble],
  ['hayrick', hayrick],
]);
const VIEWS = ['side', 'front'];

/** @type {Record<string, (ask: Any, progress: Function) => Any>} */
const jobs = /** @type {Any} */ (lab);

/** A fresh one, and its check. */
function speaker() {
  const crossing = new Crossing(catalogue);
  return {
    crossing,
    /**
     * @param {string} job
     * @param {Any} asked
     * @returns {Any}
     */
    ask(job, asked) {
      /** @type {(_done: number, _of: number, news?: unknown) => void} */
      const progress = (_done, _of, news) => crossing.byJob(job, news);
      const answer = jobs[`lab_${job}`]?.(asked, progress);
      assert.equal(typeof answer, 'object', job);
      return crossing.byJob(job, answer);
    },
    check() {
      assert.deepEqual([...crossing.untold], []);
    },
  };
}

/**
 * @param {string} text
 * @param {(robot: Any) => void} change
 */
const changed = (text, change) => {
  const robot = JSON.parse(text);
  change(robot);
  return JSON.stringify(robot, null, 2);
};

test('each text of the catalogue is told, whatever stands in its places', () => {
  const { crossing, check } = speaker();
  /** @param {string} text */
  const filled = (text) => text.replaceAll(/\{=?\}/g, '1.25 s');
  for (const [english, german] of Object.entries(catalogue)) assert.equal(crossing.said(filled(english)), filled(german));
  check();
});

test('what it does not know is not told, and noted', () => {
  const { crossing } = speaker();
  assert.equal(crossing.said('settled in a moment'), 'settled in a moment');
  assert.deepEqual([...crossing.untold], ['settled in a moment']);
});

test('all trials, views and levels, whole and with wrong numbers', () => {
  const { ask, check } = speaker();
  for (const robot of demos.values()) {
    const { trials } = ask('trials', { robot });
    for (const { key, views } of trials) {
      for (const { view, numbers } of views) {
        for (const software of ['on', 'off', 'locked']) {
          const out = ask('run', { robot, trial: key, view, software, columns: ['swing', 'tilt'] });
          assert.match(out.title, /ansicht, /);
        }
        for (const { key: number } of numbers) ask('run', { robot, trial: key, view, software: 'on', numbers: { [number]: '9e9' } });
      }
    }
  }
  for (const wrong of [{}, { trial: 'kik' }, { trial: 'kick', view: 'top' }, { trial: 'kick', view: 'side', software: 3 }, { trial: 'kick', view: 'side', software: 'on', numbers: 4 }]) {
    ask('run', { robot: cobnut, ...wrong });
  }
  ask('run', { robot: '{' });
  check();
});

test('limits and budgets', () => {
  const { ask, check } = speaker();
  for (const robot of demos.values()) {
    const { usualLimits, questions } = ask('trials', { robot });
    ask('set', { robot, limits: usualLimits });
    ask('set', { robot, limits: usualLimits.replaceAll(/"max": [\d.]+/g, '"max": 0.001') });
    ask('limits', { limits: usualLimits });
    for (const [from, to] of [['"trials"', '"trails"'], ['"max"', '"mox"'], ['"kick"', '"kik"'], ['1', '7'], ['{', '[']]) {
      ask('limits', { limits: usualLimits.replace(from, to) });
    }
    if (robot !== cobnut) continue;
    for (const { key, views } of questions) {
      for (const { view } of views) assert.ok(ask('budget', { robot, question: key, view }).text);
      ask('budget', { robot, question: key, view: 'side', dip: '0.001 deg' });
    }
    ask('budget', { robot, question: 'heaviest', view: 'side', dip: 'x' });
  }
  check();
});

test('the edge: spans, poles, curves, tracks, oscillations, both sides, hand methods', () => {
  const { ask, check } = speaker();
  for (const text of demos.values()) {
    const robots = [text];
    /** @type {readonly (readonly [string, string, number])[]} */
    const TURNED = [['travel', 'damping', 0.01], ['travel', 'damping', 6], ['lean', 'damping', 8], ['travel', 'correction', 9], ['lean', 'correction', 0.02]];
    for (const [loop, knob, by] of TURNED) {
      robots.push(changed(text, (robot) => (robot[loop][knob] *= by)));
    }
    for (const [i, robot] of robots.entries()) {
      for (const view of VIEWS) {
        for (const rest of ['on', 'off', 'locked', 'braked']) {
          const speed = view === 'side' && rest === 'on' ? 0.5 : 0;
          ask('edge', { robot, view, speed, rest, poles: true, curve: 'duty', oscillations: true, spans: [] });
          if (rest === 'on') ask('edge', { robot, view, speed: 0, rest, poles: true, oscillations: true, ...(i === 0 ? {} : { spans: [] }) });
        }
        ask('hunt', { robot, view });
        if (i === 0) ask('hand', { robot, view });
      }
    }
    const key = 'travel.damping';
    for (const value of [0.01, 1, 30]) ask('both_sides', { robot: text, view: 'side', key, value, smooth: value === 1 });
    ask('edge', { robot: text, view: 'front', speed: 1, rest: 'on', curve: 'nowhere', spans: ['x'], track: 'floor.slope' });
    ask('edge', { robot: text, view: 'side', speed: 99, rest: 'on', poles: true });
  }
  check();
});

test('the supply: every trial, each remedy, programmes', () => {
  const { ask, check } = speaker();
  for (const [name, robot] of demos) {
    for (const trial of ['kick', 'reverse', 'stop', 'wall', 'emergency-stop', 'slope-hold']) {
      for (const view of trial === 'wall' ? ['side'] : VIEWS) ask('power', { robot, trial, view, software: 'on' });
    }
    const hard = changed(robot, (it) => {
      it.travel.slew = 10;
      it.timing.delay_ticks += 4;
      it.fuse.rating = name === 'thimble' ? 3 : 20;
    });
    for (const wiring of [{}, { holder: 1 }, { area: 50e-6, holder: 120, connectors: 120, switch: 120, battery: 120 }, { battery: 1 }]) {
      const given = changed(hard, (it) => Object.assign(it.wiring, wiring));
      ask('power', { robot: given, trial: 'reverse', view: 'side', software: 'on', numbers: { ramp: 2 } });
    }
    for (const programme of ['20 s this trial\n60 s idle\n30 s 40 W', '20 s this trial\nsoon idle\n30 s\n5 weeks idle\n3 s jump\n1e9 h idle', '1 h idle', '30 s 4000 W']) {
      ask('power', { robot, trial: 'stop', view: 'side', software: 'on', programme });
    }
    for (const chemistry of ['lithium-iron-phosphate', 'lithium-ion', 'lead-glass-mat', 'nickel-metal-hydride']) {
      ask('power', { robot: changed(robot, (it) => (it.pack.chemistry = chemistry)), trial: 'kick', view: 'side', software: 'on', swing: '30 deg', speed_held: 'fast' });
    }
  }
  check();
});

test('what matters, the head story, a suggestion', { timeout: 300_000 }, () => {
  const { ask, check } = speaker();
  const robot = thimble;
  for (const measure of ['settling_time', 'head_dip', 'overshoot']) {
    const trial = { trial: measure === 'overshoot' ? 'start' : 'kick', view: 'side', software: 'on' };
    ask('matters', { robot, trial, measure });
  }
  ask('head_story', { robot, points: 6 });
  ask('head_story', { robot: changed(robot, (it) => (it.travel.damping *= 0.2)), dip: '0.5 deg', settling: '0.2 s', points: 4 });
  ask('suggest', { robot, loops: ['travel'], budget: 300, seed: 3 });
  ask('suggest', { robot: changed(robot, (it) => (it.lean.damping *= 0.3)), loops: ['lean', 'head', 'carriage'], budget: 300, seed: 5, limits: [{ key: 'settling', value: 0.1 }] });
  for (const wrong of [{ loops: [] }, { loops: 'all' }, { loops: ['travel'], keep: ['x'] }, { loops: ['travel'], weights: { dip: 99 } }, { loops: ['travel'], limits: [{ key: 'x' }] }]) {
    ask('suggest', { robot, ...wrong });
  }
  check();
});

test('the guided start, spreads, the ledger, sheets and cards', { timeout: 300_000 }, () => {
  const { ask, check } = speaker();
  const { rows } = ask('start', {});
  for (const { key } of rows) {
    for (const text of ['x', '-1', '0', '1e9', '0.001', '', '1 parsec', '1,5', '3 kg']) ask('start', { numbers: { [key]: text } });
  }
  for (const floor of ['smooth', 'wood', 'asphalt', 'carpet', 'grass']) ask('start', { numbers: { floor } });
  ask('start', { numbers: { nothing: '1' }, name: '' });
  const { robot } = ask('start', { name: 'Pebble', numbers: {} });
  ask('spread', { robot, variants: 6 });
  for (const one of demos.values()) {
    ask('ledger', { robot: one });
    ask('gains', { robot: one, date: '2031-05-17' });
    const { drawings, ...lid } = /** @type {Any} */ (lab.lab_lid({ robot: one, date: 'May' }, () => undefined));
    assert.ok(drawings === undefined);
    assert.ok(lid.problems.length > 0);
    const { drawings: _, ...whole } = /** @type {Any} */ (lab.lab_lid({ robot: one }, () => undefined));
    ask('card', { robot: one, variants: 0, trials: ask('gains', { robot: one }).trials.map((/** @type {Any} */ trial) => trial['key']) });
    speaker().crossing.byJob('lid', lid);
    const told = speaker();
    told.crossing.byJob('lid', whole);
    told.check();
  }
  ask('card', { robot: cobnut, trials: ['x'] });
  ask('picture', { robot: cobnut, view: 'side', colours: 'red', width: 1, height: 1e9, layers: ['x'] });
  check();
});

test('robot files with each knob missing, of another kind, out of its range', () => {
  const { crossing, check } = speaker();
  const board = crossing.board(new core.Board());
  let problems = 0;
  /** @param {string} text */
  const open = (text) => (problems += board.openRobot(text).problems.length);
  for (const text of demos.values()) {
    const robot = JSON.parse(text);
    for (const [section, knobs] of Object.entries(robot)) {
      for (const wrong of [undefined, null, 7, 'word', [1], {}, true]) open(changed(text, (it) => (it[section] = wrong)));
      if (typeof knobs !== 'object' || Array.isArray(knobs)) continue;
      for (const key of Object.keys(knobs)) {
        for (const wrong of text === cobnut ? [undefined, null, -1e-9, 1e9, 0, '1 kg', 'yes', '12', true, 0.5, []] : [1e9, 0]) {
          open(changed(text, (it) => (it[section][key] = wrong)));
        }
        open(text.replace(`"${key}"`, `"${key.slice(1)}"`));
      }
    }
    for (let cut = 0; cut < text.length; cut += 97) {
      open(text.slice(0, cut));
      open(`${text.slice(0, cut)}\u0001${text.slice(cut)}`);
      open(text.slice(0, cut) + text.slice(cut + 1));
    }
  }
  assert.ok(problems > 2000, String(problems));
  board.free();
  check();
});

test('knobs typed and turned wrongly, acts out of place, the parts ledger, the drawing with all its layers', () => {
  const { crossing, check } = speaker();
  const board = crossing.board(new core.Board());
  const context = new Proxy(/** @type {Record<string | symbol, unknown>} */ ({}), { get: (target, name) => target[name] ?? (() => undefined) });
  const draw = () => {
    for (const view of [0, 1]) board.paint(context, view, 800, 600, 1, 63);
  };
  for (const [, text] of demos) {
    board.openRobot(text);
    for (const inches of [true, false]) {
      board.inches(inches);
      board.values();
      board.facts();
      for (const { key } of board.catalogue()) {
        for (const text of ['', 'x', '1 parsec', '1e999', '1,5', '-1e9', '1 2', 'maybe']) {
          board.typeKnob(key, text);
          board.typeRaw(key, text);
        }
        board.setKnob(key, Number.NaN);
        board.setKnob(key, 1e12);
        board.setMark(key, 'x');
      }
    }
    board.restore(text, text);
    board.doubleOff('doubled');
    for (const level of [0, 1, 2, 9]) {
      board.level(level);
      for (const view of [0, 1]) {
        board.aim(view, false, 1, 0.1);
        board.kick(view, level === 0 ? 90 : 6, 0.1);
        board.bump(view, 2);
      }
      for (let i = 0; i < 40; i++) {
        board.advance(100_000);
        if (i % 4 === 0) draw();
      }
      for (const view of [0, 1]) {
        board.results(view);
        board.doubleResults(view);
      }
    }
    board.kick(7, 1, 1);
    board.kick(0, Number.NaN, 99);
    board.speed(9);
    board.lean(9);
    board.hand(0, 9);
    board.plan(0, [1]);
    board.plan(0, [1, 2, Number.NaN]);
    board.swingMode(0, [9], -1, 1e9, 9);
    board.undouble();
    board.swap('B');
    board.becomeDouble();
    board.putPart({ name: '', body: 'arm', mass: 'x', height: '9 m', on: true, mark: 'x' });
    board.putPart({ name: 'lamp', body: 'head', mass: '900 kg', height: '0.3 m', on: true, mark: '' });
    board.switchPart(99, true);
    board.removePart(99);
  }
  board.free();
  check();
});
