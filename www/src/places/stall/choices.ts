// What the demonstrator chooses, and how the browser's storage keeps it. What cannot be read there
// is as if it were not: the stall must open.

/** What can be pressed in the stall. */
export const PRESSES = ['kick', 'software', 'head', 'drive', 'turn', 'home'] as const;
export type PressName = (typeof PRESSES)[number];

/** Few enough to be seen at a glance, enough to find something out. */
export const LEAST_PRESSES = 2;
export const MOST_PRESSES = 4;

export const CONTRASTS = ['page', 'sunlight', 'dark'] as const;
export type Contrast = (typeof CONTRASTS)[number];

export const IDLE = { least: 10, most: 300 } as const;

export interface Choices {
  /** In the order of `PRESSES`. */
  readonly presses: readonly PressName[];
  readonly contrast: Contrast;
  readonly two: boolean;
  /** Seconds without a touch after which the robot is put back. */
  readonly idle: number;
  readonly sound: boolean;
  /** 0 … 1. */
  readonly volume: number;
  readonly buzz: boolean;
  /** Address of the page for the code to take home; empty takes the page's own. */
  readonly address: string;
}

export const USUAL: Choices = {
  presses: ['kick', 'software', 'head', 'home'],
  contrast: 'page',
  two: false,
  idle: 40,
  sound: false,
  volume: 0.5,
  buzz: false,
  address: '',
};

const PLACE = 'kickstill-stall';
const VERSION = 1;

/** An address that a phone can follow, without what comes after #; nothing if it is none. */
export function followable(text: string): string | undefined {
  let url: URL;
  try {
    url = new URL(text.trim());
  } catch {
    return undefined;
  }
  if (url.protocol !== 'https:' && url.protocol !== 'http:') return undefined;
  url.hash = '';
  return url.href;
}

export const inOrder = (presses: readonly PressName[]): readonly PressName[] => PRESSES.filter((name) => presses.includes(name));

const within = (value: unknown, least: number, most: number): value is number =>
  typeof value === 'number' && value >= least && value <= most;

export function recallChoices(): Choices {
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE) ?? '') as Record<keyof Choices | 'version', unknown>;
    if (kept.version !== VERSION) return USUAL;
    const named = Array.isArray(kept.presses) ? inOrder(kept.presses as PressName[]) : [];
    return {
      presses: named.length >= LEAST_PRESSES && named.length <= MOST_PRESSES ? named : USUAL.presses,
      contrast: CONTRASTS.find((name) => name === kept.contrast) ?? USUAL.contrast,
      two: kept.two === true,
      idle: within(kept.idle, IDLE.least, IDLE.most) ? Math.round(kept.idle) : USUAL.idle,
      sound: kept.sound === true,
      volume: within(kept.volume, 0, 1) ? kept.volume : USUAL.volume,
      buzz: kept.buzz === true,
      address: typeof kept.address === 'string' ? (followable(kept.address) ?? '') : '',
    };
  } catch {
    return USUAL;
  }
}

export function keepChoices(choices: Choices): void {
  try {
    localStorage.setItem(PLACE, JSON.stringify({ version: VERSION, ...choices }));
  } catch {
    // A browser that keeps nothing: they hold as long as the page is open.
  }
}
