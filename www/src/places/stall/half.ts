// One robot of the stall, with its presses, its caption and its own time: scenes while nobody
// plays, a fresh robot for whoever touches it, and back to the scenes when nobody does any more.
// Its board is its own: the demonstrator's robot is left alone.

import { LAYER, OFF, SIDE, FRONT, STEADIED, placesOf, type Board, type Layout, type Level, type Plane } from '../../core/types';
import { el, say } from '../../dom';
import { makeFragment } from '../../link';
import { stallWords as words } from '../../words/stall';
import type { Choices, PressName } from './choices';
import { glyph } from './glyphs';
import { Home } from './home';
import { narrate, type Told } from './narrate';
import { makePress, type Press } from './press';
import { SCENES, type Scene } from './scenes';
import { shuffler } from './shuffle';
import type { Sound } from './sound';
import { headMass, weigh, WEIGHTS } from './weight';

/** Between two readings of the results [s]. */
const READ = 0.25;
/** How long the outcome of a scene stays [s], and the longest scene. */
const STAYS = 5;
const LONGEST = 18;
/** Where motion is to be kept low, a scene shows a picture this often [s]. */
const STILLS = 1;
/** From here the seconds until it starts again are counted aloud [s]. */
const COUNTED = 5;
/** Seconds left to play on after the code has gone, at most. */
const AFTER_HOME = 15;
/** Two kicks of one robot are at least this far apart [s]: hands drum on it. */
const APART = 0.15;
/** Sharper than this no eye at a stall sees, but every tablet feels. */
const SHARPEST = 2;
/** Room around ball and head for a finger [px]. */
const SLACK = 24;
/** Bit of the core's flags. */
const HEAD_LOST = 64;

const forced = window.matchMedia('(forced-colors: active)');
const still = window.matchMedia('(prefers-reduced-motion: reduce)');

/** What a half is given. */
export interface Ground {
  readonly make: () => Board;
  readonly opened: string;
  readonly now: string;
  readonly inches: boolean;
  readonly choices: Choices;
  readonly night: () => boolean;
  readonly sound: Sound;
  readonly seed: number;
  /** Which of the robots, from 0, and how many there are. */
  readonly index: number;
  readonly count: number;
  /** To be said to people who do not see it. */
  readonly tell: (text: string) => void;
}

type Mode = 'attract' | 'play';

export class Half {
  readonly element: HTMLElement;
  /** Boards made so far, for the soak: each is freed before the next. */
  boards = 0;
  readonly #canvas: HTMLCanvasElement;
  readonly #pen: CanvasRenderingContext2D;
  readonly #what = el('p', { class: 'what' });
  readonly #says = el('p', { class: 'says' });
  readonly #count = el('p', { class: 'count', 'aria-hidden': 'true' });
  readonly #presses = new Map<PressName, { press: Press; text: HTMLElement }>();
  readonly #home: Home;
  readonly #next: () => Scene;
  readonly #sized: ResizeObserver;
  /** Fingers on the drawing, by id: where each came down. */
  readonly #fingers = new Map<number, { x: number; y: number }>();
  #board: Board;
  #layout: Layout;
  #mode: Mode = 'attract';
  #scene: Scene;
  #done = 0;
  #time = 0;
  #idle = 0;
  #read = 0;
  #painted = Infinity;
  #kicked = -Infinity;
  #overAt: number | undefined;
  #way = 1;
  #plane: Plane = SIDE;
  #level: Level = OFF;
  #weight = 0;
  #driving = false;
  #lastKick = 0;
  #told: Told = { text: '', over: false, settled: false };
  #size = { width: 0, height: 0 };
  /** Weight of the usual head, and of this one, as said: asking the board for all its knobs takes time. */
  readonly #usualHead: string;
  #head = '';

  constructor(private readonly ground: Ground) {
    const { choices, index, count } = ground;
    this.#next = shuffler(SCENES, ground.seed);
    this.#board = this.#fresh();
    this.#layout = placesOf(this.#board.layout());
    this.#usualHead = headMass(this.#board);
    this.#head = this.#usualHead;
    const { name } = this.#board.facts();
    this.#canvas = el('canvas', { role: 'img', 'aria-label': words.drawing(name) });
    const pen = this.#canvas.getContext('2d');
    if (pen === null) throw new Error('2d');
    this.#pen = pen;
    const list = el('div', { class: 'choices' });
    for (const one of choices.presses) list.append(this.#makePress(one));
    this.#home = new Home(choices.address, () => {
      this.#idle = Math.max(0, choices.idle - AFTER_HOME);
    });
    const view = el('div', { class: 'view' }, this.#canvas);
    const letter = words.letters[index] ?? '';
    this.element = el(
      'section',
      { class: 'half', 'aria-label': words.robot(letter) },
      el('div', { class: count > 1 ? 'caption lettered' : 'caption' }, count > 1 ? el('span', { class: 'letter', 'aria-hidden': 'true' }, letter) : undefined, this.#what, this.#says, this.#count),
      view,
      list,
      this.#home.element,
    );
    this.#sized = new ResizeObserver(() => {
      this.#size = { width: view.clientWidth, height: view.clientHeight };
      this.#painted = Infinity;
    });
    this.#sized.observe(view);
    this.#listen();
    this.#scene = this.#next();
    this.#attract(this.#scene);
  }

  get mode(): Mode {
    return this.#mode;
  }

  /** Begins again from the scenes, with the usual robot. */
  reset(): void {
    this.#home.close();
    this.#attract(this.#next());
  }

  free(): void {
    this.#sized.disconnect();
    this.#home.close();
    this.#board.free();
  }

  /** A key or a pad's button: the press of this place, from 0. */
  choose(place: number, down: boolean): void {
    const name = this.ground.choices.presses[place];
    const found = name === undefined ? undefined : this.#presses.get(name);
    if (down) found?.press.down();
    else found?.press.up();
  }

  /** One frame of the screen, so much later [s]. */
  frame(seconds: number): void {
    this.#time += seconds;
    this.#read += seconds;
    this.#painted += seconds;
    if (this.#mode === 'attract') {
      for (let act = this.#scene.acts[this.#done]; act !== undefined && this.#time >= act.at; act = this.#scene.acts[this.#done]) {
        act.act(this.#board);
        this.#done += 1;
      }
    } else if (!this.#home.open) {
      this.#idle = this.#driving ? 0 : this.#idle + seconds;
    }
    this.#home.pass(seconds);
    this.#board.advance(Math.round(seconds * 1e6));
    if (this.#read >= READ) {
      this.#read = 0;
      this.#tell();
    }
    const often = this.#mode === 'attract' && still.matches ? STILLS : 0;
    if (this.#painted >= often) {
      this.#painted = 0;
      this.#paint();
    }
    if (this.#mode === 'attract') this.#sceneOver();
    else this.#idleOver();
  }

  // Scenes.

  #attract(scene: Scene): void {
    this.#begin('attract', scene.plane);
    this.#scene = scene;
    this.#done = 0;
    this.#overAt = undefined;
    scene.set?.(this.#board);
    this.#board.level(scene.level);
    this.#level = scene.level;
    say(this.#what, words.scenes[scene.name](headMass(this.#board)));
    this.#label();
    this.#tell();
  }

  #sceneOver(): void {
    const all = this.#done === this.#scene.acts.length;
    if (all && this.#told.over) this.#overAt ??= this.#time;
    if (this.#time > LONGEST || (this.#overAt !== undefined && this.#time > this.#overAt + STAYS)) this.#attract(this.#next());
  }

  // Playing.

  /** Whoever touches it has it: a fresh robot, at rest. */
  #take(): void {
    this.#idle = 0;
    if (this.#mode === 'play') return;
    this.#begin('play', SIDE);
    this.#level = OFF;
    this.#label();
    this.#tell();
  }

  #idleOver(): void {
    const left = this.ground.choices.idle - this.#idle;
    if (left <= 0) {
      this.reset();
      return;
    }
    say(this.#count, left <= COUNTED && !this.#home.open ? words.startsAgain(Math.ceil(left)) : '');
  }

  #begin(mode: Mode, plane: Plane): void {
    this.#board.free();
    this.#board = this.#fresh();
    this.#layout = placesOf(this.#board.layout());
    this.#mode = mode;
    this.#plane = plane;
    this.#weight = 0;
    this.#head = this.#usualHead;
    this.#driving = false;
    this.#lastKick = 0;
    this.#idle = 0;
    this.#time = 0;
    this.#kicked = -Infinity;
    this.#read = 0;
    this.#painted = Infinity;
    this.#told = { text: '', over: false, settled: false };
    this.element.dataset['mode'] = mode;
    say(this.#count, mode === 'attract' ? words.touch : '');
  }

  #fresh(): Board {
    const { make, opened, now, inches } = this.ground;
    const board = make();
    this.boards += 1;
    board.inches(inches);
    board.restore(opened, now);
    return board;
  }

  #act(name: PressName, down: boolean): void {
    if (down) this.#take();
    if (this.#home.open && name !== 'home') this.#home.close();
    if (name === 'drive') this.#drive(down);
    else if (down) DEEDS[name](this);
    this.#label();
    this.#tell();
  }

  kick(way = (this.#way = -this.#way), height?: number): void {
    if (this.#time - this.#kicked < APART) return;
    this.#kicked = this.#time;
    this.#standUp();
    const { kick, radius } = this.#board.facts();
    const impulse = way * kick[this.#plane];
    this.#board.kick(this.#plane, impulse, height ?? radius);
    this.#lastKick = impulse;
    this.ground.sound.thump(way);
    if (this.ground.choices.buzz && 'vibrate' in navigator) navigator.vibrate(25);
  }

  software(): void {
    this.#level = this.#level === STEADIED ? OFF : STEADIED;
    this.#board.level(this.#level);
  }

  head(): void {
    const before = WEIGHTS[this.#weight] ?? 1;
    this.#weight = (this.#weight + 1) % WEIGHTS.length;
    weigh(this.#board, (WEIGHTS[this.#weight] ?? 1) / before);
    this.#head = headMass(this.#board);
  }

  turn(): void {
    this.#drive(false);
    this.#plane = this.#plane === SIDE ? FRONT : SIDE;
  }

  takeHome(): void {
    if (this.#home.open) {
      this.#home.close();
      return;
    }
    const robot = this.#board.facts();
    const push = { impulse: this.#lastKick === 0 ? robot.kick[this.#plane] : this.#lastKick, height: robot.radius };
    const front = this.#plane === FRONT;
    const usual = (plane: Plane): { impulse: number; height: number } => ({ impulse: robot.kick[plane], height: robot.radius });
    const fragment = makeFragment(this.#board, {
      shown: front ? 'front' : 'side',
      active: this.#plane,
      level: this.#level,
      kick: front ? [usual(SIDE), push] : [push, usual(FRONT)],
      bump: robot.bump,
      units: this.ground.inches ? 'inch' : 'metric',
      robot,
      double: undefined,
    });
    const told = words.home.list(
      robot.name,
      words.setting(words.levels[this.#level], this.#head),
      `${words.home.views[this.#plane]}, ${words.home.kick(push.impulse)}`,
      this.#told.text,
    );
    void this.#home.show({ fragment, told });
  }

  #drive(on: boolean): void {
    if (on === this.#driving) return;
    if (on) this.#standUp();
    this.#driving = on;
    const share = on ? 1 : 0;
    if (this.#plane === SIDE) this.#board.speed(share);
    else this.#board.lean(share);
  }

  /** What moves no more, or lies there without its head, stands up before it is pushed. */
  #standUp(): void {
    const frame = this.#board.frame();
    const at = this.#layout.planes[this.#plane];
    const lost = ((frame[at + (this.#layout.columns['flags'] ?? 0)] ?? 0) & HEAD_LOST) !== 0;
    const ended = (frame[at + this.#layout.run.ended] ?? 0) !== 0;
    if (ended || lost || this.#board.results(this.#plane).outcomeClass === 'out of control') this.#board.resetRun();
  }

  // What is seen and said.

  #boardLevel(): Level {
    const frame = this.#board.frame();
    return (frame[this.#layout.planes[this.#plane] + this.#layout.run.level] ?? OFF) as Level;
  }

  #tell(): void {
    const board = this.#board;
    if (this.#mode === 'attract') this.#level = this.#boardLevel();
    const frame = board.frame();
    const at = (column: string): number => frame[this.#layout.planes[this.#plane] + (this.#layout.columns[column] ?? 0)] ?? 0;
    const speed = words.speed(Math.abs(at('speed')), this.ground.inches);
    const before = this.#told;
    const results = board.results(this.#plane);
    let told = narrate(results, this.#level, this.#plane, speed);
    const other = board.doubleResults(this.#plane);
    if (other !== undefined && other.trial !== '') {
      const beside = narrate(other, OFF, this.#plane, speed);
      told = { text: words.says.both(told.text, beside.text), over: told.over && beside.over, settled: told.settled };
    }
    this.#told = told;
    const playing = this.#mode === 'play';
    say(this.#says, results.trial === '' && playing ? words.yours : told.text);
    if (playing) say(this.#what, words.setting(words.levels[this.#level], this.#head));
    if (!playing) return;
    this.ground.sound.hum(this.ground.index, at('motor_current'), at('swing_rate') - at('roll_rate'));
    if (told.settled && !before.settled) this.ground.sound.chime();
    if (told.over && !before.over) this.ground.tell(told.text);
  }

  #label(): void {
    // While scenes run, the robot is not yet the visitor's: the presses say what they do, not how it stands.
    const playing = this.#mode === 'play';
    for (const [name, { press, text }] of this.#presses) {
      switch (name) {
        case 'software':
          say(text, words.presses.software(playing ? this.#level === STEADIED : undefined));
          press.element.dataset['on'] = String(playing && this.#level === STEADIED);
          break;
        case 'head':
          say(text, words.presses.head(playing ? this.#head.replace(' ', '\u00A0') : undefined));
          break;
        case 'turn':
          say(text, words.presses.turn(this.#plane === FRONT));
          break;
        default:
          say(text, words.presses[name]);
      }
    }
  }

  #paint(): void {
    const { width, height } = this.#size;
    if (width < 1 || height < 1) return;
    const sharp = Math.min(devicePixelRatio, SHARPEST);
    const [wide, high] = [Math.round(width * sharp), Math.round(height * sharp)];
    if (this.#canvas.width !== wide || this.#canvas.height !== high) {
      this.#canvas.width = wide;
      this.#canvas.height = high;
    }
    const layers = this.#mode === 'attract' ? this.#scene.layers : 0;
    const bits = (this.ground.night() ? LAYER.night : 0) | (forced.matches ? LAYER.forced : 0) | (still.matches ? LAYER.still : 0);
    this.#board.paint(this.#pen, this.#plane, width, height, sharp, bits | layers);
  }

  // Hands.

  #makePress(name: PressName): HTMLElement {
    const press = makePress(
      { class: 'choice', 'data-press': name },
      () => {
        press.element.dataset['down'] = 'true';
        this.#act(name, true);
      },
      () => {
        delete press.element.dataset['down'];
        this.#act(name, false);
      },
    );
    const text = el('span', {});
    press.element.append(glyph(name), text);
    this.#presses.set(name, { press, text });
    return press.element;
  }

  /** A tap on the ball kicks it away from the finger, one on the head bumps it; any touch takes over. */
  #listen(): void {
    const canvas = this.#canvas;
    canvas.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      const box = canvas.getBoundingClientRect();
      const playing = this.#mode === 'play';
      this.#take();
      this.#home.close();
      if (playing) this.#fingers.set(event.pointerId, { x: event.clientX - box.left, y: event.clientY - box.top });
    });
    canvas.addEventListener('pointerup', (event) => {
      const finger = this.#fingers.get(event.pointerId);
      this.#fingers.delete(event.pointerId);
      if (finger === undefined || this.#mode !== 'play') return;
      this.#tap(finger.x, finger.y);
    });
    canvas.addEventListener('pointercancel', (event) => {
      this.#fingers.delete(event.pointerId);
    });
    canvas.addEventListener('pointerleave', (event) => {
      this.#fingers.delete(event.pointerId);
    });
  }

  #tap(x: number, y: number): void {
    const [what = 0, height] = this.#board.touch(this.#plane, x, y, SLACK);
    const frame = this.#board.frame();
    const ball = frame[this.#layout.planes[this.#plane] + (this.#layout.anchors['ball_x'] ?? 0)] ?? x;
    const way = x <= ball ? 1 : -1;
    if (what === 1) this.kick(way, height);
    else if (what === 2) {
      this.#standUp();
      this.#board.bump(this.#plane, way * this.#board.facts().bump[this.#plane]);
      this.ground.sound.thump(0.4);
    } else return;
    this.#tell();
  }
}

/** What each press does at once; driving goes on while it is held. */
const DEEDS: Readonly<Record<Exclude<PressName, 'drive'>, (half: Half) => void>> = {
  kick: (half) => { half.kick(); },
  software: (half) => { half.software(); },
  head: (half) => { half.head(); },
  turn: (half) => { half.turn(); },
  home: (half) => { half.takeHome(); },
};
