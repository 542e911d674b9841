// Finding in the handbook: sections whose text has all the words, those first that have them in their heading.

import type { Chapter } from './chapter';

export interface Hit {
  readonly chapter: Chapter;
  /** Id of the heading. */
  readonly id: string;
  readonly heading: string;
  /** What stands around the first word. */
  readonly around: string;
}

interface Section extends Hit {
  readonly text: string;
}

/** How many are listed. */
const MOST = 24;
const AROUND = 60;

/** Without case and accents. */
const plain = (text: string): string => text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '').replaceAll('ß', 'ss');
const tidy = (text: string): string => text.replace(/\s+/g, ' ').trim();

export class Finder {
  #sections: readonly Section[] | undefined;

  constructor(private readonly chapters: readonly Chapter[]) {}

  /** The best hits, and how many there are. */
  find(asked: string): { readonly hits: readonly Hit[]; readonly count: number } {
    const words = plain(asked).split(/\s+/).filter(Boolean);
    if (words.length === 0) return { hits: [], count: 0 };
    this.#sections ??= this.chapters.flatMap(sectionsOf);
    const found = this.#sections
      .map((section) => ({ section, headed: words.filter((word) => plain(section.heading).includes(word)).length }))
      .filter(({ section }) => {
        const whole = plain(`${section.heading} ${section.text}`);
        return words.every((word) => whole.includes(word));
      })
      .sort((a, b) => b.headed - a.headed);
    const hits = found.slice(0, MOST).map(({ section }) => ({ ...section, around: around(section.text, words[0] ?? '') }));
    return { hits, count: found.length };
  }
}

/** The chapter from heading to heading. */
function sectionsOf(chapter: Chapter): readonly Section[] {
  const template = document.createElement('template');
  template.innerHTML = chapter.html;
  const sections: Section[] = [];
  let open: { id: string; heading: string; texts: string[] } | undefined;
  const close = (): void => {
    if (open !== undefined) sections.push({ chapter, id: open.id, heading: open.heading, around: '', text: tidy(open.texts.join(' ')) });
  };
  for (const child of template.content.children) {
    if (/^H\d$/.test(child.tagName)) {
      close();
      open = { id: child.id, heading: tidy(child.textContent), texts: [] };
    } else {
      // Cells would run into each other.
      for (const cell of child.querySelectorAll('td, th, li')) cell.append(' ');
      open?.texts.push(child.textContent);
    }
  }
  close();
  return sections;
}

function around(text: string, word: string): string {
  const at = plain(text).indexOf(word);
  if (at < 0) return text.length > 2 * AROUND ? `${text.slice(0, 2 * AROUND)} …` : text;
  const from = Math.max(0, at - AROUND);
  const to = Math.min(text.length, at + word.length + AROUND);
  return `${from > 0 ? '… ' : ''}${text.slice(from, to)}${to < text.length ? ' …' : ''}`;
}
