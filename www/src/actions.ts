// What a visitor can do. Every key, button, drag and file ends in one of these.

import {
  FRONT,
  OFF,
  SIDE,
  STEADIED,
  refused,
  type Board,
  type KnobInfo,
  type KnobValue,
  type Level,
  type Plane,
  type Refused,
} from './core/types';
import { demoFile } from './core/demos';
import { describe, Recorder } from './recorder';
import type { Setting } from './revisions';
import type { Facts, Push, Rate, Shown, Store, Units } from './store';
import { words } from './words/page';

/** A lever held for less than this drives nowhere worth seeing [ms]. */
const DROVE = 400;

export class Actions {
  #knobs: ReadonlyMap<string, KnobInfo> = new Map();
  #demoAsked = '';
  /** By plane, whether its run can go no further. */
  readonly ended: [boolean, boolean] = [false, false];
  /** By plane, whether the head has come off. */
  readonly headLost: [boolean, boolean] = [false, false];
  /** By plane, whether the double moves no more or has lost its head. */
  readonly doubleEnded: [boolean, boolean] = [false, false];
  /** What the double will be called that swapping makes of the board's robot. */
  #other: string | undefined;
  #values = new Map<string, KnobValue>();
  /** Share of the lever's way now asked for, by plane. */
  readonly #lever: [number, number] = [0, 0];
  /** When the lever last left its middle. */
  #leverFrom = 0;
  /** The view whose drive the visitor has by hand, if any. */
  #hand: Plane | undefined;
  #rests = 0;
  readonly #news: ((text: string) => void)[] = [];
  /** News of before anyone listened. */
  readonly #early: string[] = [];
  /** Every change of the robot, with undo. */
  readonly revisions: Recorder;
  /** Where the next change of the robot comes from, for its revision; empty for one set by hand. */
  because = '';

  constructor(
    readonly board: Board,
    readonly store: Store,
  ) {
    this.#readCatalogue();
    this.revisions = new Recorder(this);
  }

  /** The knob catalogue, in the units shown. */
  get knobs(): ReadonlyMap<string, KnobInfo> {
    return this.#knobs;
  }

  /** Whoever announces things to people who do not see them; the first hears what came before, too. */
  onNews(listener: (text: string) => void): void {
    this.#news.push(listener);
    for (const text of this.#early.splice(0)) listener(text);
  }

  tell(text: string): void {
    if (this.#news.length === 0) this.#early.push(text);
    for (const listener of this.#news) listener(text);
  }

  value(key: string): KnobValue | undefined {
    return this.#values.get(key);
  }

  kick(plane: Plane, push: Push = this.store.state.kick[plane]): void {
    this.#standUp(plane);
    if (this.#refuse(this.board.kick(plane, push.impulse, push.height), words.acts.kick)) return;
    const { kick, facts } = this.store.state;
    const next: [Push, Push] = [kick[SIDE], kick[FRONT]];
    next[plane] = push;
    this.store.set({ kick: next, ...this.#facing(plane) });
    this.tell(words.announce.kick(words.results.push(push.impulse)));
    this.note(facts.heavier ? { kicked: true, kickedHeavy: true } : { kicked: true });
    this.present();
  }

  bump(plane: Plane, impulse: number = this.store.state.bump[plane]): void {
    // A head that lies on the floor cannot be bumped either.
    this.#standUp(plane, this.headLost[plane]);
    if (this.#refuse(this.board.bump(plane, impulse), words.acts.bump)) return;
    const next: [number, number] = [...this.store.state.bump];
    next[plane] = impulse;
    this.store.set({ bump: next, ...this.#facing(plane) });
    this.tell(words.announce.bump(words.results.push(impulse)));
    this.present();
  }

  level(level: Level): void {
    // Off by hand is not off: the switch is what ends it.
    if (level === this.store.state.level && this.#hand === undefined) return;
    if (this.#refuse(this.board.level(level), words.software)) return;
    this.#hand = undefined;
    this.store.set({ level, double: this.board.doubled() });
    if (level === STEADIED) this.note({ switched: true });
    this.tell(words.announce.level(level));
    this.present();
  }

  /** Switches the software on, or the motors off. */
  toggleSoftware(): void {
    this.level(this.store.state.level === STEADIED ? OFF : STEADIED);
  }

  /** Moves a lever: `share` of its way, −1 … 1. */
  lever(plane: Plane, share: number): void {
    if (this.#lever[plane] === share) return;
    // Who has the drive by hand has both hands full; a double beside it must not drive off.
    if (share !== 0 && this.#hand !== undefined) return;
    if (share !== 0) this.#standUp(plane);
    const before = this.#lever[plane];
    if (before === 0) this.#leverFrom = performance.now();
    this.#lever[plane] = share;
    const answer = plane === SIDE ? this.board.speed(share) : this.board.lean(share);
    if (this.#refuse(answer, plane === SIDE ? words.acts.speed : words.acts.lean)) return;
    if (share !== 0) {
      this.store.set(this.#facing(plane));
      this.present();
    } else if (before !== 0 && this.store.state.level === STEADIED && performance.now() - this.#leverFrom > DROVE) {
      this.note({ drove: true });
    }
  }

  /** Counts how often the run was begun anew from rest. */
  get rests(): number {
    return this.#rests;
  }

  /** The view whose drive the visitor has by hand, if any. */
  get byHand(): Plane | undefined {
    return this.#hand;
  }

  /** Gives the drive of a view this duty, −1 … 1, with the software off until the switch is used. */
  hand(plane: Plane, duty: number): void {
    if (this.#hand === undefined) for (const one of [SIDE, FRONT] as const) this.lever(one, 0);
    if (this.#refuse(this.board.hand(plane, duty), words.places.names.hand)) return;
    this.#hand = plane;
    if (this.store.state.level !== OFF) this.store.set({ level: OFF, double: this.board.doubled() });
  }

  leverShare(plane: Plane): number {
    return this.#lever[plane];
  }

  pause(paused: boolean): void {
    if (paused === this.store.state.paused) return;
    this.store.set(paused ? { paused } : { paused, back: 0 });
    if (!paused) this.board.scrub(0);
    this.tell(paused ? words.announce.paused : words.announce.running);
  }

  /** Back to the present, running: what a push or a switch asks for. */
  present(): void {
    if (this.store.state.back > 0) {
      this.board.scrub(0);
      this.store.set({ back: 0, paused: false });
    }
  }

  tickOnce(): void {
    this.board.scrub(0);
    this.board.tickOnce();
    this.store.set({ paused: true, back: 0, ticks: this.store.state.ticks + 1 });
  }

  scrub(back: number): void {
    this.board.scrub(back);
    this.store.set({ back, paused: true });
  }

  rate(rate: Rate): void {
    this.store.set({ rate });
  }

  show(shown: Shown): void {
    const active = shown === 'both' ? this.store.state.active : shown === 'front' ? FRONT : SIDE;
    this.store.set({ shown, active });
    this.tell(words.announce.view(shown === 'both' ? words.bothViews : words.view(active)));
  }

  turn(): void {
    this.show(this.store.state.active === SIDE ? 'front' : 'side');
  }

  resetRun(): void {
    this.#rests += 1;
    this.#lever[SIDE] = 0;
    this.#lever[FRONT] = 0;
    this.#hand = undefined;
    this.board.resetRun();
    this.board.scrub(0);
    this.store.set({ back: 0, paused: false });
    this.tell(words.announce.reset);
  }

  /** Says lengths and masses metric, or in inches and pounds. */
  units(units: Units): void {
    this.board.inches(units === 'inch');
    this.#readCatalogue();
    this.store.set({ units, robot: this.board.facts(), knobs: this.store.state.knobs + 1 });
  }

  /** Motors off and windings shorted, until the switch is used again. */
  emergencyStop(): void {
    this.#hand = undefined;
    this.board.emergencyStop();
    this.store.set({ level: OFF, double: this.board.doubled() });
    this.tell(words.announce.level(OFF));
    this.present();
  }

  // The double.

  /** The robot before the last change, if there is one. */
  get settingBefore(): Setting | undefined {
    return this.revisions.history.before?.setting;
  }

  /** The board's robot with its motors off runs beside it. */
  doubleOff(): void {
    this.board.doubleOff(words.double.off);
    this.#doubled();
  }

  /** The board's robot with the software on runs beside it, whatever the switch says. */
  doubleOn(label: string): void {
    this.board.doubleOn(label);
    this.#doubled();
  }

  /** The robot before the last change runs beside it; answers whether there is one. */
  doubleBefore(): boolean {
    const setting = this.settingBefore;
    const label = words.double.beforeChange(describe(this.revisions.history.current));
    return setting !== undefined && this.doubleOf(setting, label, words.double.name);
  }

  /** A robot of files, such as a kept run's, runs beside it; answers whether it does. */
  doubleOf(setting: Setting, label: string, of: string): boolean {
    const answer = this.board.doubleRobot(setting.opened, setting.now, label);
    this.store.set({ problems: answer.problems, problemsOf: of });
    if (answer.problems.some((problem) => problem.severity === 'error')) return false;
    this.#doubled();
    return true;
  }

  /** What a single key asks for: the robot before the last change, or else the one with motors off. */
  doubleAgain(): void {
    if (!this.doubleBefore()) this.doubleOff();
  }

  undouble(): void {
    if (this.store.state.double === undefined) return;
    this.board.undouble();
    this.store.set({ double: undefined });
    this.tell(words.double.gone);
  }

  /** The board's robot and its double change places; both runs go on. */
  swapDouble(): void {
    const { double, level } = this.store.state;
    if (double === undefined) return;
    const label = this.#other ?? (double.fixed ? words.levels[level] : words.double.own);
    if (this.#refuse(this.board.swap(label), words.double.name)) return;
    this.#other = double.label;
    const doubled = this.board.doubled();
    this.store.set({ level: (doubled?.switch ?? level) as Level, double: doubled });
    this.#changedBy(words.double.swapped(double.label));
  }

  /** The double's settings become the board's, and its run goes on. */
  becomeDouble(): void {
    const { double } = this.store.state;
    if (double === undefined) return;
    if (this.#refuse(this.board.becomeDouble(), words.double.name)) return;
    this.store.set({ level: double.level as Level, double: undefined });
    this.#changedBy(words.double.became(double.label));
  }

  /** What is acted on is looked at. */
  #facing(plane: Plane): { readonly active: Plane; readonly shown: Shown } {
    const { shown } = this.store.state;
    return { active: plane, shown: shown === 'both' ? shown : plane === FRONT ? 'front' : 'side' };
  }

  #doubled(): void {
    this.#lever[SIDE] = 0;
    this.#lever[FRONT] = 0;
    this.#other = undefined;
    this.doubleEnded[SIDE] = false;
    this.doubleEnded[FRONT] = false;
    const double = this.board.doubled();
    this.board.scrub(0);
    this.store.set({ double, paused: false, back: 0 });
    this.tell(words.double.started(double?.label ?? ''));
  }

  /** Another robot stands on the board, and why, for its revision. */
  #changedBy(why: string): void {
    this.because = why;
    this.#robotChanged();
    this.because = '';
    this.tell(why);
    this.present();
  }

  resetKnobs(): void {
    this.board.resetKnobs();
    this.#robotChanged();
    this.tell(words.announce.knobsBack);
  }

  /** Sets a knob [SI]; answers with the problem if it was refused. */
  setKnob(key: string, value: number): Refused | undefined {
    return this.#knobSet(key, this.board.setKnob(key, value));
  }

  /** Sets a knob as typed, with or without its unit. */
  typeKnob(key: string, text: string): Refused | undefined {
    return this.#knobSet(key, this.board.typeKnob(key, text));
  }

  /** The last one asked for counts, whichever comes first. */
  async openDemo(key: string): Promise<void> {
    this.#demoAsked = key;
    try {
      const file = await demoFile(key);
      if (file !== undefined && this.#demoAsked === key) this.openRobot(file, key);
    } catch (cause) {
      this.notice(words.robots.notLoaded(String(cause)));
    }
  }

  openRobot(text: string, name: string): void {
    this.#opened(this.board.openRobot(text), name);
  }

  /** Puts a robot on the board as it was opened and with its knobs; answers whether it stands there. */
  restore(opened: string, now: string, of: string): boolean {
    const answer = this.board.restore(opened, now);
    this.#opened(answer, of);
    return !answer.problems.some((problem) => problem.severity === 'error');
  }

  /** Changes the robot's parts or marks, as one revision; answers with the problem if it was refused. */
  change(why: string, change: (board: Board) => Refused | undefined): Refused | undefined {
    const answer = change(this.board);
    if (refused(answer)) return answer;
    this.revisions.history.close();
    this.because = why;
    this.#robotChanged();
    this.because = '';
    this.revisions.history.close();
    return undefined;
  }

  showProblems(problems: Refused['problems'], of: string): void {
    this.store.set({ problems, problemsOf: of });
  }

  notice(text: string): void {
    this.store.set({ notice: text });
    if (text !== '') this.tell(text);
  }

  /** Records what has happened, for the guide. */
  note(part: Partial<Facts>): void {
    const facts = { ...this.store.state.facts, ...part };
    const known = this.store.state.facts;
    if ((Object.keys(facts) as (keyof Facts)[]).some((key) => facts[key] !== known[key])) {
      this.store.set({ facts });
    }
  }

  /** Sets a knob by its raw firmware number as typed. */
  typeRaw(key: string, text: string): Refused | undefined {
    return this.#knobSet(key, this.board.typeRaw(key, text));
  }

  #opened(answer: Refused, name: string): void {
    const failed = answer.problems.some((problem) => problem.severity === 'error');
    this.store.set({ problems: answer.problems, problemsOf: name });
    if (failed) return;
    // A demo robot still on its way would take the place of what was asked for after it.
    this.#demoAsked = '';
    this.#hand = undefined;
    this.#lever[SIDE] = 0;
    this.#lever[FRONT] = 0;
    this.#robotChanged();
    const { kick, bump, radius } = this.store.state.robot;
    this.store.set({
      level: OFF,
      double: this.board.doubled(),
      paused: false,
      back: 0,
      kick: [
        { impulse: kick[SIDE], height: radius },
        { impulse: kick[FRONT], height: radius },
      ],
      bump: [bump[SIDE], bump[FRONT]],
    });
    this.tell(words.robots.opened(this.store.state.robot.name));
  }

  #robotChanged(): void {
    this.#readValues();
    this.store.set({ robot: this.board.facts(), knobs: this.store.state.knobs + 1 });
  }

  #knobSet(key: string, answer: KnobValue | Refused): Refused | undefined {
    if (refused(answer)) return answer;
    const value = answer as KnobValue;
    const before = this.#values.get(key)?.value ?? value.value;
    this.#values.set(key, value);
    if (key === 'head.mass' && value.value > before) this.note({ heavier: true });
    // Facts of the parts list follow; raw numbers of other knobs may too.
    if (key.startsWith('firmware.') || key.startsWith('timing.')) this.#readValues();
    this.store.set({ robot: this.board.facts(), knobs: this.store.state.knobs + 1 });
    return undefined;
  }

  /** What moves no more cannot be pushed: it stands up first. */
  #standUp(plane: Plane, needed = this.ended[plane]): void {
    // A double that lies there has nothing to be compared by.
    if (!needed && !this.ended[plane] && !this.doubleEnded[plane]) return;
    this.ended[plane] = false;
    this.doubleEnded[plane] = false;
    this.headLost[plane] = false;
    this.resetRun();
  }

  #readCatalogue(): void {
    this.#knobs = new Map(this.board.catalogue().map((knob) => [knob.key, knob]));
    this.#readValues();
  }

  #readValues(): void {
    this.#values = new Map(this.board.values().map((value) => [value.key, value]));
  }

  #refuse(answer: Refused | undefined, of: string): boolean {
    if (!refused(answer)) return false;
    this.showProblems(answer.problems, of);
    return true;
  }
}
