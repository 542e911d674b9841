// The lessons of the page, in the order in which they answer: why does it wobble without software?

import { hear, language, type Language } from '../../words/language';
import type { Lesson } from './format';
import { inTexts, type LessonTexts } from './translate';

const FILES = import.meta.glob<Lesson>('./data/*.json', { eager: true, import: 'default' });

/** By file name: the number before it gives the order. */
let lessons: readonly Lesson[] = Object.entries(FILES)
  .sort(([a], [b]) => (a < b ? -1 : 1))
  .map(([, lesson]) => lesson);

const TEXTS: Readonly<Record<Exclude<Language, 'en'>, () => Promise<{ readonly texts: readonly LessonTexts[] }>>> = {
  de: () => import('./german'),
};

async function told(load: () => Promise<{ readonly texts: readonly LessonTexts[] }>): Promise<void> {
  const { texts } = await load();
  lessons = lessons.map((lesson) => {
    const own = texts.find(({ key }) => key === lesson.key);
    // One that nobody has translated yet is better than none.
    return own === undefined ? lesson : inTexts(lesson, own);
  });
}
if (language !== 'en') hear(told(TEXTS[language]));

/** In the page's language, not before `heard`. */
export const builtIn = (): readonly Lesson[] => lessons;
