// The texts of the page's lessons in German, loaded with that language only.

import type { LessonTexts } from './translate';

const FILES = import.meta.glob<LessonTexts>('./data/de/*.json', { eager: true, import: 'default' });

export const texts: readonly LessonTexts[] = Object.values(FILES);
