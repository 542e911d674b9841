// The lessons of the page, in the order in which they answer: why does it wobble without software?

import type { Lesson } from './format';

const FILES = import.meta.glob<Lesson>('./data/*.json', { eager: true, import: 'default' });

/** By file name: the number before it gives the order. */
export const builtIn: readonly Lesson[] = Object.entries(FILES)
  .sort(([a], [b]) => (a < b ? -1 : 1))
  .map(([, lesson]) => lesson);
