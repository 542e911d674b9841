// Which lessons are done, and lessons opened from files, in the browser's own storage. Where it is
// refused they last as long as the page.

const PLACE = 'kickstill-lessons';
const VERSION = 1;

interface Content {
  readonly done: readonly string[];
  /** Texts of lesson files, as they were opened. */
  readonly own: readonly string[];
}

let content: Content | undefined;

function read(): Content {
  if (content !== undefined) return content;
  content = { done: [], own: [] };
  try {
    const value = JSON.parse(localStorage.getItem(PLACE) ?? 'null') as ({ version?: unknown } & Partial<Content>) | null;
    const texts = (list: unknown): readonly string[] => (Array.isArray(list) ? list.filter((one): one is string => typeof one === 'string') : []);
    if (value?.version === VERSION) content = { done: texts(value.done), own: texts(value.own) };
  } catch {
    // Refused, or damaged: it begins anew.
  }
  return content;
}

function write(next: Content): void {
  content = next;
  try {
    localStorage.setItem(PLACE, JSON.stringify({ version: VERSION, ...next }));
  } catch {
    // Remembered for this visit.
  }
}

export const isDone = (key: string): boolean => read().done.includes(key);

export function markDone(key: string): void {
  if (!isDone(key)) write({ ...read(), done: [...read().done, key] });
}

export const ownLessons = (): readonly string[] => read().own;

export function keepOwn(own: readonly string[]): void {
  write({ ...read(), own });
}
