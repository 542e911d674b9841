// What the page remembers between visits, in the browser's own storage: the robot with its
// knobs, how it is looked at, how far the first minute got. Damaged content is said, not fatal.

import type { Board } from './core/types';
import type { Facts, Push, Shown, Store, Theme, Units } from './store';

const PLACE = 'kickstill';
const VERSION = 1;
/** Pause after the last change before it is written [ms]. */
const REST = 400;

export interface Remembered {
  readonly opened: string;
  readonly now: string;
  readonly shown: Shown;
  readonly theme: Theme;
  /** Absent in what older pages wrote. */
  readonly units?: Units;
  readonly shortcuts: boolean;
  readonly allKnobs: boolean;
  /** Absent in what older pages wrote. */
  readonly four?: boolean;
  readonly layers: number;
  readonly facts: Partial<Facts>;
  readonly kick: readonly [Push, Push];
  readonly bump: readonly [number, number];
}

export type Memory =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'damaged' }
  | { readonly kind: 'found'; readonly content: Remembered };

const isPush = (value: unknown): value is Push => {
  const push = value as Push | null;
  return typeof push === 'object' && push !== null && Number.isFinite(push.impulse) && Number.isFinite(push.height);
};

function isRemembered(value: unknown): value is Remembered {
  const it = value as Record<keyof Remembered, unknown>;
  return (
    typeof it.opened === 'string' &&
    typeof it.now === 'string' &&
    (['side', 'front', 'both'] as unknown[]).includes(it.shown) &&
    (['auto', 'day', 'night'] as unknown[]).includes(it.theme) &&
    ([undefined, 'metric', 'inch'] as unknown[]).includes(it.units) &&
    typeof it.shortcuts === 'boolean' &&
    typeof it.allKnobs === 'boolean' &&
    (it.four === undefined || typeof it.four === 'boolean') &&
    typeof it.layers === 'number' &&
    Number.isInteger(it.layers) &&
    typeof it.facts === 'object' &&
    it.facts !== null &&
    Object.values(it.facts).every((fact) => typeof fact === 'boolean') &&
    Array.isArray(it.kick) &&
    it.kick.length === 2 &&
    it.kick.every(isPush) &&
    Array.isArray(it.bump) &&
    it.bump.length === 2 &&
    it.bump.every(Number.isFinite)
  );
}

export function recall(): Memory {
  let text: string | null;
  try {
    text = localStorage.getItem(PLACE);
  } catch {
    return { kind: 'nothing' };
  }
  if (text === null) return { kind: 'nothing' };
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null) return { kind: 'damaged' };
    const { version } = value as { version?: unknown };
    return version === VERSION && isRemembered(value) ? { kind: 'found', content: value } : { kind: 'damaged' };
  } catch {
    return { kind: 'damaged' };
  }
}

/** Writes every change shortly after it happened, and at once when the page goes away. */
export function keepRemembering(board: Board, store: Store, refused: () => void): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let told = false;
  const write = (): void => {
    timer = undefined;
    const { shown, theme, units, shortcuts, allKnobs, four, layers, facts, kick, bump } = store.state;
    const content: Remembered = {
      opened: board.openedFile(),
      now: board.robotFile(),
      shown,
      theme,
      units,
      shortcuts,
      allKnobs,
      four,
      layers,
      facts,
      kick,
      bump,
    };
    try {
      localStorage.setItem(PLACE, JSON.stringify({ version: VERSION, ...content }));
    } catch {
      if (!told) refused();
      told = true;
    }
  };
  let first = true;
  store.watch(
    ['robot', 'knobs', 'shown', 'theme', 'units', 'shortcuts', 'allKnobs', 'four', 'layers', 'facts', 'kick', 'bump'],
    () => {
      if (first) {
        first = false;
        return;
      }
      clearTimeout(timer);
      timer = setTimeout(write, REST);
    },
  );
  window.addEventListener('pagehide', () => {
    if (timer === undefined) return;
    clearTimeout(timer);
    write();
  });
}
