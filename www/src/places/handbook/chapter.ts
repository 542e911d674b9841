// The chapters in the page's language, as they were compiled when the page was built.

import { language } from '../../words/language';

export interface Chapter {
  /** As links name it, the same in every language. */
  readonly name: string;
  readonly title: string;
  readonly html: string;
}

/** What all languages share. */
export interface Shared {
  /** Equations, examples and code, by the place that chapters name. */
  readonly pieces: readonly string[];
  /** SVG, by name. */
  readonly pictures: Readonly<Record<string, string>>;
}

export interface Book {
  readonly chapters: readonly Chapter[];
  readonly shared: Shared;
}

export async function loadBook(): Promise<Book> {
  const [chapters, shared] = await Promise.all([
    language === 'de' ? import('virtual:handbook/de') : import('virtual:handbook/en'),
    import('virtual:handbook/shared'),
  ]);
  return { chapters: chapters.default, shared: shared.default };
}

/** What our own build wrote; nothing from outside ever comes here. */
function parsed(html: string): DocumentFragment {
  const template = document.createElement('template');
  template.innerHTML = html;
  return template.content;
}

/** A chapter's elements. */
export function unfold(chapter: Chapter, shared: Shared): DocumentFragment {
  const content = parsed(chapter.html);
  for (const place of content.querySelectorAll<HTMLElement>('[data-piece]')) {
    place.replaceWith(parsed(shared.pieces[Number(place.dataset['piece'])] ?? ''));
  }
  for (const place of content.querySelectorAll<HTMLElement>('[data-picture]')) {
    place.append(parsed(shared.pictures[place.dataset['picture'] ?? ''] ?? ''));
  }
  return content;
}
