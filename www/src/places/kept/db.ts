// The browser's own storage for kept runs and maps, revisions and a few facts about them. What cannot be
// stored is held in memory, and that is said: nothing is lost while the page is open.

import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Revision } from '../../revisions';
import type { KeptMap } from '../map/record';
import type { KeptRun } from './record';

const NAME = 'kickstill';
/** 2: kept maps. Rises with every further shelf; what is there stays. */
const VERSION = 2;
/** How long an opening is waited for before the page goes on in memory [ms]. */
const PATIENCE = 4000;

/** When kept runs were last exported [ms since 1970]. */
export interface Exported {
  readonly id: 'exported';
  readonly at: number;
}

interface Schema extends DBSchema {
  runs: { key: string; value: KeptRun };
  maps: { key: string; value: KeptMap };
  revisions: { key: string; value: Revision };
  facts: { key: string; value: Exported };
}

export interface Records {
  runs: KeptRun;
  maps: KeptMap;
  revisions: Revision;
  facts: Exported;
}
export type Shelf = keyof Records;
const SHELVES: readonly Shelf[] = ['runs', 'maps', 'revisions', 'facts'];

/**
 * Why something is in memory only:
 * - `refused`: the browser gives no storage, as in a private window
 * - `full`: there is no room left
 * - `blocked`: another tab of an older page holds the storage
 * - `newer`: another tab has a newer page, which took the storage over
 * - `lost`: the browser closed it
 */
export type Trouble = 'refused' | 'full' | 'blocked' | 'newer' | 'lost';

type Held = { readonly [S in Shelf]: Map<string, Records[S]> };

export class Storage {
  #db: IDBPDatabase<Schema> | undefined;
  readonly #held: Held = { runs: new Map(), maps: new Map(), revisions: new Map(), facts: new Map() };
  /** What is not in the storage though it should be, by shelf and id; true for a deletion. */
  readonly #unsaved: Record<Shelf, Map<string, boolean>> = {
    runs: new Map(),
    maps: new Map(),
    revisions: new Map(),
    facts: new Map(),
  };
  #trouble: Trouble | undefined;
  readonly #listeners: ((shelf: Shelf) => void)[] = [];
  /** Names of the shelves that changed; each tab reads them again by itself. */
  readonly #channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel(NAME) : undefined;
  #writing: Promise<void> = Promise.resolve();

  private constructor() {}

  static async open(): Promise<Storage> {
    const storage = new Storage();
    await storage.#open();
    storage.#channel?.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      const shelf = SHELVES.find((one) => one === data);
      if (shelf !== undefined) void storage.#read(shelf).catch(() => undefined);
    });
    return storage;
  }

  get trouble(): Trouble | undefined {
    return this.#trouble;
  }

  /** Runs, maps and revisions that are in memory only. */
  get unsaved(): number {
    return this.#unsaved.runs.size + this.#unsaved.maps.size + this.#unsaved.revisions.size;
  }

  isSaved(shelf: Shelf, id: string): boolean {
    return this.#held[shelf].has(id) && !this.#unsaved[shelf].has(id);
  }

  all<S extends Shelf>(shelf: S): readonly Records[S][] {
    return [...this.#held[shelf].values()];
  }

  get<S extends Shelf>(shelf: S, id: string): Records[S] | undefined {
    return this.#held[shelf].get(id);
  }

  /** Called when a shelf has changed, by this tab or another, and when its trouble has. */
  onChange(listener: (shelf: Shelf) => void): void {
    this.#listeners.push(listener);
  }

  /** Holds it at once; the promise tells whether it is stored. */
  put<S extends Shelf>(shelf: S, record: Records[S]): Promise<boolean> {
    this.#held[shelf].set(record.id, record);
    this.#unsaved[shelf].set(record.id, false);
    this.#tell(shelf);
    return this.#save(shelf);
  }

  delete(shelf: Shelf, id: string): Promise<boolean> {
    this.#held[shelf].delete(id);
    this.#unsaved[shelf].set(id, true);
    this.#tell(shelf);
    return this.#save(shelf);
  }

  /** Asks the browser not to clear what is kept when it needs room; some ask the visitor. */
  async persist(): Promise<boolean> {
    try {
      return (await navigator.storage?.persist?.()) ?? false;
    } catch {
      return false;
    }
  }

  /** Writes one after the other, all that is not stored yet: what found no room tries again. */
  async #save(shelf: Shelf): Promise<boolean> {
    const write = this.#writing.then(() => this.#write(shelf));
    this.#writing = write.catch(() => undefined);
    try {
      await write;
      return true;
    } catch (cause) {
      this.#trouble ??= isFull(cause) ? 'full' : 'lost';
      this.#tell(shelf);
      return false;
    }
  }

  async #write(changed: Shelf): Promise<void> {
    const db = this.#db;
    if (db === undefined) throw new Error('no storage');
    // Deletions first: they make room.
    for (const deletion of [true, false]) {
      for (const shelf of SHELVES) {
        for (const [id, deleted] of [...this.#unsaved[shelf]]) {
          if (deleted !== deletion) continue;
          const record = this.#held[shelf].get(id);
          if (deleted || record === undefined) await db.delete(shelf, id);
          else await db.put(shelf, record as never);
          // It may have changed while it was written.
          if (this.#held[shelf].get(id) === record) this.#unsaved[shelf].delete(id);
        }
      }
    }
    if (this.#trouble === 'full') this.#trouble = undefined;
    this.#channel?.postMessage(changed);
    this.#tell(changed);
  }

  async #open(): Promise<void> {
    try {
      if (typeof indexedDB === 'undefined') throw new Error('no storage');
      let opened: Promise<void> | undefined;
      const waited = new Promise<void>((resolve) => {
        setTimeout(resolve, PATIENCE);
        opened = openDB<Schema>(NAME, VERSION, {
          upgrade: (db) => {
            for (const shelf of SHELVES) if (!db.objectStoreNames.contains(shelf)) db.createObjectStore(shelf, { keyPath: 'id' });
          },
          blocked: () => {
            this.#trouble = 'blocked';
            resolve();
          },
          blocking: () => {
            this.#leave('newer');
          },
          terminated: () => {
            this.#leave('lost');
          },
        }).then(async (db) => {
          this.#db = db;
          if (this.#trouble === 'blocked') this.#trouble = undefined;
          for (const shelf of SHELVES) await this.#read(shelf);
          if (this.unsaved > 0) await this.#save('runs');
        });
        opened.catch(() => undefined);
      });
      await Promise.race([opened, waited]);
      if (this.#db === undefined) this.#trouble ??= 'blocked';
    } catch (cause) {
      this.#db = undefined;
      // A newer page has been here: its storage is left as it is.
      this.#trouble = cause instanceof DOMException && cause.name === 'VersionError' ? 'newer' : 'refused';
    }
  }

  #leave(trouble: Trouble): void {
    this.#db?.close();
    this.#db = undefined;
    this.#trouble = trouble;
    this.#tell('runs');
  }

  /** What the storage holds, with what this tab has not stored yet. */
  async #read<S extends Shelf>(shelf: S): Promise<void> {
    const records = (await this.#db?.getAll(shelf)) as readonly Records[S][] | undefined;
    if (records === undefined) return;
    const held = this.#held[shelf] as Map<string, Records[S]>;
    const unsaved = this.#unsaved[shelf];
    const now = new Map(records.map((record) => [record.id, record]));
    for (const id of [...held.keys()]) if (!now.has(id) && !unsaved.has(id)) held.delete(id);
    for (const [id, record] of now) if (!unsaved.has(id)) held.set(id, record);
    this.#tell(shelf);
  }

  #tell(shelf: Shelf): void {
    for (const listener of this.#listeners) listener(shelf);
  }
}

const isFull = (cause: unknown): boolean => cause instanceof DOMException && cause.name === 'QuotaExceededError';

let storage: Promise<Storage> | undefined;

/** The one storage of this page; opened when first asked for. */
export function openStorage(): Promise<Storage> {
  storage ??= Storage.open();
  return storage;
}
