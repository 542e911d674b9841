// What reaches the lessons before their part of the page is loaded: a link, and a robot that an
// earlier visit left put away. Small, for the page's first script holds it.

import { askLink } from '../asklink';

/** Name in the browser's storage of what a lesson put away. */
export const AWAY = 'kickstill-lesson';

/** A link to a lesson; one that cannot be read asks for the list. */
export const lessonLink = askLink('lesson');

/** Whether an earlier visit ended within a lesson. */
export function leftWithin(): boolean {
  try {
    return localStorage.getItem(AWAY) !== null;
  } catch {
    return false;
  }
}
