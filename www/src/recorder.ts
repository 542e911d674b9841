// Writes every change of the robot into its history, and puts earlier robots back on the board.
// It looks at what changed, not at who changed it: nothing can be done that leaves no row.

import type { Actions } from './actions';
import { setAll } from './core/setall';
import { takesText } from './dom';
import { fromTo, History, type Change, type Revision, type Setting, type Step } from './revisions';
import { words } from './words/page';

/** An id that no other tab gives. It names things only, so that chance is no matter of the run's. */
export const newId = (): string =>
  typeof crypto.randomUUID === 'function'
    ? crypto.randomUUID()
    : Array.from(crypto.getRandomValues(new Uint32Array(4)), (part) => part.toString(16).padStart(8, '0')).join('-');

/** A revision in words. */
export function describe(row: Revision): string {
  const told = row.steps.slice(0, 1).map(({ label, fromText, toText }) => `${label} ${fromTo(fromText, toText)}`);
  if (row.steps.length > 1) told.push(words.revisions.more(row.steps.length - 1));
  const change = {
    start: () => words.revisions.start(row.robot),
    knobs: () => told.join(' '),
    back: () => words.revisions.back(row.steps.length),
    robot: () => words.revisions.robot(row.robot),
    parts: () => words.revisions.parts,
  }[row.kind]();
  // Of parts and marks the reason says it all.
  if (row.kind === 'parts' && row.why !== '') return row.why;
  return row.why === '' ? change : `${row.why}: ${change}`;
}

export class Recorder {
  readonly history: History;
  /** Parts as they were at the last look. */
  #parts: string;
  /** Knobs as they were at the last look. */
  #seen: Map<string, { readonly value: number; readonly text: string }>;
  #held = false;
  #putting = false;
  readonly #changed: (() => void)[] = [];
  readonly #written: ((row: Revision) => void)[] = [];

  constructor(private readonly actions: Actions) {
    const setting = this.#setting();
    this.history = new History({
      id: newId(),
      parent: '',
      at: Date.now(),
      kind: 'start',
      robot: actions.store.state.robot.name,
      steps: [],
      why: '',
      name: '',
      setting,
    });
    this.#seen = this.#look();
    this.#parts = this.#lookAtParts();
    actions.store.watch(['robot', 'knobs'], () => {
      this.#note();
    });
    const hold = (held: boolean) => (): void => {
      this.#held = held;
    };
    document.addEventListener('pointerdown', hold(true), { capture: true, passive: true });
    for (const type of ['pointerup', 'pointercancel']) {
      document.addEventListener(type, hold(false), { capture: true, passive: true });
    }
    document.addEventListener('keydown', (event) => {
      this.#key(event);
    });
  }

  /** Called after every change of the history. */
  onChange(listener: () => void): void {
    this.#changed.push(listener);
  }

  /** Called for every row that is new or has changed, to be written down. */
  onWrite(listener: (row: Revision) => void): void {
    this.#written.push(listener);
  }

  /** Rows that were read come into the history; `first` those of the visit before. */
  take(rows: readonly Revision[], first: boolean): void {
    if (first) this.history.resume(rows);
    else this.history.merge(rows);
    this.#tell();
  }

  undo(): void {
    const { current, before } = this.history;
    if (before !== undefined && this.#put(before)) this.actions.tell(words.revisions.undone(describe(current)));
  }

  redo(): void {
    const { after } = this.history;
    if (after !== undefined && this.#put(after)) this.actions.tell(words.revisions.redone(describe(after)));
  }

  /** The robot of a row comes back, as a row of its own: undo leads away from it again. */
  backTo(id: string): void {
    const row = this.history.find(id);
    if (row === undefined || id === this.history.current.id) return;
    const called = row.name === '' ? this.history.letter(id) : row.name;
    this.putSetting(row.setting, words.revisions.backTo(called), row);
  }

  /** Puts a robot on the board as a new row; answers whether it stands there. */
  putSetting(setting: Setting, why: string, like?: Revision): boolean {
    this.history.close();
    this.actions.because = why;
    const steps = like === undefined ? undefined : this.#way(like);
    const knobs = steps !== undefined && setting.opened === this.history.current.setting.opened;
    let put: boolean;
    this.#putting = true;
    try {
      put = (knobs && this.#turn(steps, setting)) || this.actions.restore(setting.opened, setting.now, why);
    } finally {
      this.#putting = false;
    }
    this.#note();
    this.actions.because = '';
    this.history.close();
    return put;
  }

  rename(id: string, name: string): void {
    const row = this.history.name(id, name.trim().slice(0, 80));
    if (row === undefined) return;
    for (const listener of this.#written) listener(row);
    this.#tell();
  }

  /** Goes to a row of the history without adding one. */
  #put(row: Revision): boolean {
    const steps = this.#way(row);
    this.#putting = true;
    let put: boolean;
    try {
      put =
        (steps !== undefined && this.#turn(steps, row.setting)) ||
        this.actions.restore(row.setting.opened, row.setting.now, describe(row));
    } finally {
      this.#putting = false;
    }
    this.#seen = this.#look();
    this.#parts = this.#lookAtParts();
    if (put) this.history.moveTo(row.id);
    this.#tell();
    return put;
  }

  /** Knobs between the present row and another; nothing if more than knobs lies between. */
  #way(to: Revision): ReadonlyMap<string, number> | undefined {
    const { history } = this;
    const up: Revision[] = [];
    const seen = new Set<string>();
    for (let row: Revision | undefined = history.current; row !== undefined; row = history.find(row.parent)) {
      if (seen.has(row.id)) return undefined;
      seen.add(row.id);
      up.push(row);
    }
    const down: Revision[] = [];
    let meet: Revision | undefined = to;
    while (meet !== undefined && !seen.has(meet.id)) {
      if (down.includes(meet)) return undefined;
      down.unshift(meet);
      meet = history.find(meet.parent);
    }
    if (meet === undefined) return undefined;
    const knobs = new Map<string, number>();
    const passed = up.slice(0, up.findIndex((row) => row.id === meet.id));
    if ([...passed, ...down].some((row) => row.kind !== 'knobs' && row.kind !== 'back')) return undefined;
    for (const row of passed) for (const { key, from } of row.steps) knobs.set(key, from);
    for (const row of down) for (const { key, to: value } of row.steps) knobs.set(key, value);
    return knobs;
  }

  /** Sets knobs while the run goes on. */
  #turn(knobs: ReadonlyMap<string, number>, setting: Setting): boolean {
    const other = [...knobs].filter(([key, value]) => this.actions.value(key)?.value !== value);
    const left = setAll(other, ([key, value]) => this.actions.setKnob(key, value));
    return left.length === 0 && sameMotion(this.actions.board.robotFile(), setting.now);
  }

  #note(): void {
    if (this.#putting) return;
    const { actions, history } = this;
    const { robot } = actions.store.state;
    const now = this.#look();
    const steps: Step[] = [];
    for (const [key, { value, text }] of now) {
      const was = this.#seen.get(key);
      if (was === undefined || was.value === value) continue;
      const label = actions.knobs.get(key)?.label ?? key;
      steps.push({ key, label, from: was.value, to: value, fromText: was.text, toText: text });
    }
    const parts = this.#lookAtParts();
    const partsChanged = parts !== this.#parts;
    // Units say the same values by other texts.
    this.#seen = now;
    this.#parts = parts;
    if (steps.length === 0 && !partsChanged && robot.name === history.current.robot) {
      // Another file may hold the same numbers: only a change with a reason is worth the look.
      if (actions.because === '') return;
    }
    const setting = this.#setting();
    const other = setting.opened !== history.current.setting.opened;
    if (!other && setting.now === history.current.setting.now) return;
    const back = steps.length > 1 && [...actions.knobs.keys()].every((key) => {
      const value = actions.value(key);
      return value === undefined || value.value === value.opened;
    });
    const kind: Change['kind'] = other ? 'robot' : back ? 'back' : steps.length > 0 ? 'knobs' : 'parts';
    // A robot opened differs in a hundred numbers; its name says it better.
    const change: Change = { kind, robot: robot.name, steps: other ? [] : steps, why: actions.because };
    const row = history.add(change, setting, Date.now(), newId(), this.#held);
    if (row !== undefined) for (const listener of this.#written) listener(row);
    this.#tell();
  }

  #setting(): Setting {
    const { board } = this.actions;
    return { opened: board.openedFile(), now: board.robotFile() };
  }

  #look(): Map<string, { value: number; text: string }> {
    const seen = new Map<string, { value: number; text: string }>();
    for (const key of this.actions.knobs.keys()) {
      const value = this.actions.value(key);
      if (value !== undefined) seen.set(key, { value: value.value, text: value.text });
    }
    return seen;
  }

  /** Without the texts that follow the units. */
  #lookAtParts(): string {
    const { bodies } = this.actions.store.state.robot;
    return JSON.stringify(bodies, (key: string, value: unknown) => (key === 'mass' ? undefined : value));
  }

  #tell(): void {
    for (const listener of this.#changed) listener();
  }

  #key(event: KeyboardEvent): void {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
    const key = event.key.toLowerCase();
    const redo = (key === 'z' && event.shiftKey) || (key === 'y' && !event.shiftKey);
    if (!redo && key !== 'z') return;
    const field = this.#field(event.target);
    // What is being typed has its own undo.
    if (field === undefined && takesText(event.target)) return;
    event.preventDefault();
    if (redo) this.redo();
    else this.undo();
    if (field === undefined) return;
    field.number.value = this.actions.value(field.key)?.text ?? '';
    field.number.select();
  }

  /** A knob's number that has the focus, but holds just what the knob is set to. */
  #field(target: EventTarget | null): { number: HTMLInputElement; key: string } | undefined {
    if (!(target instanceof HTMLInputElement) || !target.classList.contains('number')) return undefined;
    const key = target.closest<HTMLElement>('[data-key]')?.dataset['key'] ?? '';
    return this.actions.value(key)?.text === target.value ? { number: target, key } : undefined;
  }
}

/** Whether two robot files differ in no more than how their numbers are known. */
function sameMotion(a: string, b: string): boolean {
  if (a === b) return true;
  try {
    const bare = (text: string): string =>
      JSON.stringify(JSON.parse(text), (key: string, value: unknown) => (key === 'marks' || key === 'mark' ? undefined : value));
    return bare(a) === bare(b);
  } catch {
    return false;
  }
}
