// The history of a robot's changes, without the page: what a revision is, which changes belong
// to one row, where undo and redo lead. Rows are only ever added: what was undone stays in the
// table, and so does what was left behind by another change.

/** A robot as its two files: as it was opened, and with its knobs as they were. */
export interface Setting {
  readonly opened: string;
  readonly now: string;
}

/** One knob's change. */
export interface Step {
  readonly key: string;
  readonly label: string;
  /** [SI] */
  readonly from: number;
  readonly to: number;
  /** With their units, for people. */
  readonly fromText: string;
  readonly toText: string;
}

/**
 * - `start`: the robot that stood on the board when the page had no history of it
 * - `knobs`: knobs set
 * - `back`: all knobs as the robot was opened
 * - `robot`: another robot
 * - `parts`: the parts list, without any knob
 */
export type Kind = 'start' | 'knobs' | 'back' | 'robot' | 'parts';
export const KINDS: readonly Kind[] = ['start', 'knobs', 'back', 'robot', 'parts'];

export interface Revision {
  /** Never given twice, not by another tab either. */
  readonly id: string;
  /** The row it was made from; empty for a start. */
  readonly parent: string;
  /** When it was made [ms since 1970]. */
  readonly at: number;
  readonly kind: Kind;
  readonly robot: string;
  readonly steps: readonly Step[];
  /** Where the change came from, such as a link; empty for what was set by hand. */
  readonly why: string;
  /** Given by the visitor; may be empty. */
  readonly name: string;
  readonly setting: Setting;
}

/** What a change is before it has its row. */
export interface Change {
  readonly kind: Exclude<Kind, 'start'>;
  readonly robot: string;
  readonly steps: readonly Step[];
  readonly why: string;
}

/** Changes of the same knobs within this time are one row [ms]. */
export const PAUSE = 1200;
/** Rows kept; the oldest without a name go first. */
export const MOST = 400;

/** A, B … Z, AA, AB … as a drawing's revisions are lettered. */
export function letters(index: number): string {
  let text = '';
  for (let rest = index + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    text = String.fromCharCode(65 + ((rest - 1) % 26)) + text;
  }
  return text;
}

/** "1.10 → 0.90 kg": a unit that both share is said once. */
export function fromTo(from: string, to: string): string {
  const unit = / ?[^\d\s.,−-][^\d]*$/u;
  const shared = unit.exec(to)?.[0];
  const short = shared !== undefined && unit.exec(from)?.[0] === shared ? from.slice(0, -shared.length) : from;
  return `${short} → ${to}`;
}

/** Two lists of steps made one: from where the first began to where the second ended. */
export function join(first: readonly Step[], second: readonly Step[]): readonly Step[] {
  const joined = new Map(first.map((step) => [step.key, step]));
  for (const step of second) {
    const before = joined.get(step.key);
    joined.set(step.key, before === undefined ? step : { ...step, from: before.from, fromText: before.fromText });
  }
  return [...joined.values()].filter((step) => step.from !== step.to);
}

export class History {
  #rows: Revision[];
  #current: string;
  /** For each row, the one that redo leads to. */
  readonly #ahead = new Map<string, string>();
  /** Rows that were taken out again, which must not come back from the storage. */
  readonly gone = new Set<string>();
  /** The row that further changes of the same knobs still belong to. */
  #growing: { readonly id: string; last: number } | undefined;

  constructor(start: Revision) {
    this.#rows = [start];
    this.#current = start.id;
  }

  /** By age, oldest first. */
  get rows(): readonly Revision[] {
    return this.#rows;
  }

  get current(): Revision {
    const row = this.find(this.#current);
    if (row === undefined) throw new Error('the current revision is gone');
    return row;
  }

  find(id: string): Revision | undefined {
    return this.#rows.find((row) => row.id === id);
  }

  letter(id: string): string {
    return letters(this.#rows.findIndex((row) => row.id === id));
  }

  /** What undo leads to. */
  get before(): Revision | undefined {
    return this.find(this.current.parent);
  }

  /** What redo leads to: where undo came from, or else the newest that was made from this row. */
  get after(): Revision | undefined {
    return (
      this.find(this.#ahead.get(this.#current) ?? '') ?? this.#rows.findLast((row) => row.parent === this.#current)
    );
  }

  /** Whether a row is the current one or led to it. */
  leads(id: string): boolean {
    for (let row: Revision | undefined = this.current; row !== undefined; row = this.find(row.parent)) {
      if (row.id === id) return true;
    }
    return false;
  }

  /**
   * Whether a change belongs to the row before it: the same knobs, at once or while the pointer
   * that began it (`held`) is still down. A row with a name is finished.
   */
  belongs(change: Change, at: number, held: boolean): boolean {
    const growing = this.#growing;
    const { current } = this;
    if (growing === undefined || growing.id !== current.id || current.name !== '') return false;
    if (change.kind !== 'knobs' || current.kind !== 'knobs' || change.why !== '' || current.why !== '') return false;
    if (!held && at - growing.last > PAUSE) return false;
    // What follows a knob by itself may join or leave on the way; the knob set comes first.
    return change.steps[0]?.key === current.steps[0]?.key;
  }

  /** Adds a row, or lets the last one grow; answers with the row, or nothing if all is as it was. */
  add(change: Change, setting: Setting, at: number, id: string, held = false): Revision | undefined {
    const { current } = this;
    if (this.belongs(change, at, held)) {
      const steps = join(current.steps, change.steps);
      if (steps.length === 0) {
        // Dragged away and back again: as if nothing had been.
        this.#rows = this.#rows.filter((row) => row !== current);
        this.gone.add(current.id);
        this.#current = current.parent;
        this.#growing = undefined;
        return undefined;
      }
      const grown = { ...current, steps, setting };
      this.#replace(grown);
      this.#growing = { id: grown.id, last: at };
      return grown;
    }
    const row: Revision = { id, parent: current.id, at, name: '', setting, ...change };
    this.#rows.push(row);
    this.#ahead.set(current.id, row.id);
    this.#current = row.id;
    this.#growing = { id, last: at };
    this.#thin();
    return row;
  }

  /** The next change makes a row of its own. */
  close(): void {
    this.#growing = undefined;
  }

  /** Goes to a row without adding one: undo and redo, once the board shows it. */
  moveTo(id: string): void {
    if (this.find(id) === undefined) return;
    const was = this.current;
    if (was.parent === id) this.#ahead.set(id, was.id);
    this.#current = id;
    this.close();
  }

  name(id: string, name: string): Revision | undefined {
    const row = this.find(id);
    if (row === undefined || row.name === name) return undefined;
    const named = { ...row, name };
    this.#replace(named);
    this.close();
    return named;
  }

  /** Rows of an earlier visit or another tab; what is known already is left as it is, but for its name. */
  merge(others: readonly Revision[]): void {
    for (const row of others) {
      if (this.gone.has(row.id)) continue;
      const known = this.find(row.id);
      if (known === undefined) this.#rows.push(row);
      else if (row.id !== this.#growing?.id && known.name !== row.name) this.#replace({ ...known, name: row.name });
    }
    this.#rows.sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
    this.#thin();
  }

  /**
   * An earlier visit's rows: if the newest of them that holds this very robot is there, the
   * history goes on from it, and the start that was made for want of it is dropped.
   */
  resume(others: readonly Revision[]): void {
    const start = this.#rows[0];
    this.merge(others);
    if (start?.kind !== 'start') return;
    const same = others.filter(
      (row) => row.id !== start.id && row.setting.now === start.setting.now && row.setting.opened === start.setting.opened,
    );
    const last = same.sort((a, b) => b.at - a.at)[0];
    if (last === undefined) return;
    // What was changed before the earlier rows had been read belongs to the row found.
    this.gone.add(start.id);
    this.#rows = this.#rows
      .filter((row) => row.id !== start.id)
      .map((row) => (row.parent === start.id ? { ...row, parent: last.id } : row));
    const ahead = this.#ahead.get(start.id);
    if (ahead !== undefined) this.#ahead.set(last.id, ahead);
    if (this.#current === start.id) this.#current = last.id;
  }

  #replace(row: Revision): void {
    this.#rows = this.#rows.map((one) => (one.id === row.id ? row : one));
  }

  #thin(): void {
    while (this.#rows.length > MOST) {
      const spare = this.#rows.find((row) => row.name === '' && !this.#near(row.id));
      if (spare === undefined) return;
      this.gone.add(spare.id);
      this.#rows = this.#rows
        .filter((row) => row !== spare)
        .map((row) => (row.parent === spare.id ? { ...row, parent: spare.parent } : row));
    }
  }

  /** The current row and those that undo and redo lead to next are never thinned. */
  #near(id: string): boolean {
    return id === this.#current || id === this.current.parent || id === this.#ahead.get(this.#current);
  }
}
