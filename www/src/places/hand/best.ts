// The best tries, kept in the browser's own storage. Damaged content is said, and is not fatal: what can be read
// of it stays.

import type { InputName } from './inputs';

const PLACE = 'kickstill-hand';
const VERSION = 1;
/** So many are kept. */
const MOST = 40;

export interface Best {
  /** When [ms since 1970]. */
  readonly at: number;
  readonly robot: string;
  /** Tells the robot's settings apart. */
  readonly settings: string;
  readonly view: 'side' | 'front';
  /** Seed of the kicks. */
  readonly kicks: number;
  readonly input: InputName;
  /** Speed of the clock. */
  readonly rate: number;
  /** Seconds within the band: by hand, and the software's. */
  readonly within: number;
  readonly software: number;
}

const isBest = (value: unknown): value is Best => {
  if (typeof value !== 'object' || value === null) return false;
  const it = value as Record<keyof Best, unknown>;
  const numbers = [it.at, it.kicks, it.rate, it.within, it.software];
  return (
    numbers.every((number) => typeof number === 'number' && Number.isFinite(number) && number >= 0) &&
    [it.robot, it.settings].every((text) => typeof text === 'string' && text.length <= 200) &&
    (it.view === 'side' || it.view === 'front') &&
    (['lever', 'tilt', 'pad'] as unknown[]).includes(it.input)
  );
};

export interface Shelf {
  readonly tries: readonly Best[];
  /** Whether something of it could not be read. */
  readonly damaged: boolean;
}

export function bestTries(): Shelf {
  let text: string | null = null;
  try {
    text = localStorage.getItem(PLACE);
  } catch {
    return { tries: [], damaged: false };
  }
  if (text === null) return { tries: [], damaged: false };
  try {
    const { version, tries } = JSON.parse(text) as { version: unknown; tries: unknown };
    if (version !== VERSION || !Array.isArray(tries)) return { tries: [], damaged: true };
    const sound = tries.filter(isBest);
    return { tries: sound, damaged: sound.length < tries.length };
  } catch {
    return { tries: [], damaged: true };
  }
}

/** Adds a try; answers whether it could be kept. */
export function keepBest(one: Best): boolean {
  // The best first; of equals the earlier.
  const tries = [...bestTries().tries, one].sort((a, b) => b.within - a.within || a.at - b.at).slice(0, MOST);
  try {
    localStorage.setItem(PLACE, JSON.stringify({ version: VERSION, tries }));
    return true;
  } catch {
    return false;
  }
}

export function forgetBest(): void {
  try {
    localStorage.removeItem(PLACE);
  } catch {
    // Then there is nothing to forget.
  }
}

/** Tells robots' settings apart by their files; FNV-1a, 32 bits. */
export function settingsOf(file: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < file.length; i++) hash = Math.imul(hash ^ file.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, '0');
}
