// What reaches the lessons before their part of the page is loaded: a link, and a robot that an
// earlier visit left put away. Small, for the page's first script holds it.

/** Name in the browser's storage of what a lesson put away. */
export const AWAY = 'kickstill-lesson';
const LINK = /^#lesson=([a-z0-9-]{1,40})$/;

let asked: string | undefined;
let listener: ((key: string) => void) | undefined;

export const isLessonLink = (hash: string): boolean => hash.startsWith('#lesson=');

/** A link asks for a lesson; one that cannot be read asks for the list. */
export function askLesson(hash: string): void {
  asked = LINK.exec(hash)?.[1] ?? '';
  if (listener === undefined) return;
  listener(asked);
  asked = undefined;
}

/** Tells what has been asked for, now and from now on. */
export function onAsked(listen: (key: string) => void): void {
  listener = listen;
  if (asked !== undefined) listen(asked);
  asked = undefined;
}

/** Whether an earlier visit ended within a lesson. */
export function leftWithin(): boolean {
  try {
    return localStorage.getItem(AWAY) !== null;
  } catch {
    return false;
  }
}
