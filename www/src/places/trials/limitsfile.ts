// The set of trials with limits as its file: the very object that is saved, remembered and read by
// the command line. What stands in it is judged by the core alone.

const PLACE = 'kickstill-limits';

/** A limit's ends: a number in SI, or a text with its unit. */
export interface Ends {
  min?: number | string;
  max?: number | string;
}

export interface LimitedTrial {
  trial: string;
  view?: string;
  software?: string;
  outcomes?: string[];
  limits?: Record<string, Ends>;
  [number: string]: unknown;
}

export interface LimitsFile {
  format: string;
  version: number;
  name?: string;
  trials: LimitedTrial[];
}

export const textOf = (file: LimitsFile): string => `${JSON.stringify(file, null, 2)}\n`;

/** Of a text that the core has accepted. */
export const fileOf = (text: string): LimitsFile => JSON.parse(text.replace(/^\uFEFF/, '')) as LimitsFile;

/** What was remembered; nothing if there is none or the browser refuses. */
export function recallLimits(): string | undefined {
  try {
    return localStorage.getItem(PLACE) ?? undefined;
  } catch {
    return undefined;
  }
}

/** Remembers the text, or forgets it; answers whether the browser let it. */
export function rememberLimits(text: string | undefined): boolean {
  try {
    if (text === undefined) localStorage.removeItem(PLACE);
    else localStorage.setItem(PLACE, text);
    return true;
  } catch {
    return false;
  }
}
