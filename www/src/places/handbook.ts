// The place of the handbook: its chapters, one at a time, found by list, link or words, and printed.

import './handbook.css';
import { button, el, say } from '../dom';
import { handbookWords as words } from '../words/handbook';
import { chapterLink } from './handbook/asked';
import { loadBook, unfold, type Book, type Chapter } from './handbook/chapter';
import { Finder } from './handbook/find';
import { knobTables } from './handbook/knobs';
import { OnPaper } from './handbook/print';
import type { Place, PlaceContext } from './place';

/** The chapter that is written from the catalogue. */
const KNOBS = 'knobs';

/** Where everything lies in one column. */
const narrow = window.matchMedia('(max-width: 1099px)');

export function make(context: PlaceContext): Place {
  const handbook = new Handbook(context);
  return {
    element: handbook.element,
    opened: () => {
      handbook.opened();
    },
    closed: () => {
      handbook.closed();
    },
  };
}

class Handbook {
  readonly element = el('div', { class: 'handbook' });
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #list = el('ol', {});
  readonly #find = el('input', { type: 'search', id: 'handbook-find', autocomplete: 'off', spellcheck: 'false' });
  readonly #told = el('p', { class: 'note', role: 'status' });
  readonly #hits = el('ul', { class: 'hits' });
  readonly #contents = el('details', { class: 'contents' });
  readonly #article = el('article', { class: 'chapter' });
  readonly #around = el('nav', { class: 'rowof around', 'aria-label': words.around });
  readonly #paper: OnPaper;
  #whole = false;
  #book: Book | undefined;
  #finder: Finder | undefined;
  #shown: Chapter | undefined;
  #loading: Promise<void> | undefined;
  #asked = false;

  constructor(private readonly context: PlaceContext) {
    const search = el('div', { class: 'search', role: 'search' }, el('label', { for: 'handbook-find' }, words.find), this.#find, this.#told, this.#hits);
    const print = el(
      'p',
      { class: 'rowof' },
      button(words.printOne, { class: 'link' }, () => {
        window.print();
      }),
      button(words.printAll, { class: 'link' }, () => {
        this.#whole = true;
        window.print();
        this.#whole = false;
      }),
    );
    this.#contents.append(el('summary', {}, words.contents), search, el('nav', { 'aria-label': words.contents }, this.#list), print);
    const fold = (): void => {
      this.#contents.open = !narrow.matches;
    };
    narrow.addEventListener('change', fold);
    fold();
    this.element.append(this.#status, this.#contents, el('div', { class: 'reading' }, this.#article, this.#around));
    this.#find.addEventListener('input', () => {
      this.#search();
    });
    this.element.addEventListener('click', (event) => {
      this.#follow(event);
    });
    this.#paper = new OnPaper(() => this.#onPaper());
    context.actions.store.watch(['knobs', 'robot', 'units'], () => {
      this.#refreshKnobs();
    });
  }

  opened(): void {
    this.#paper.on();
    this.#refreshKnobs();
    this.#loading ??= this.#load();
    void this.#loading;
  }

  closed(): void {
    this.#paper.off();
  }

  async #load(): Promise<void> {
    say(this.#status, words.opening);
    try {
      this.#book = await loadBook();
    } catch (cause) {
      this.#loading = undefined;
      say(this.#status, words.failed(String(cause)));
      return;
    }
    say(this.#status, '');
    this.#finder = new Finder(this.#book.chapters);
    for (const { name, title } of this.#book.chapters) {
      this.#list.append(el('li', {}, el('a', { href: `#handbook=${name}` }, title)));
    }
    const [first] = this.#book.chapters;
    if (first !== undefined) this.#show(first);
    if (this.#asked) return;
    this.#asked = true;
    chapterLink.on((name) => {
      this.#open(name);
    });
  }

  /** Shows the chapter of this name, and tells if there is none. */
  #open(name: string, id?: string): void {
    const chapter = this.#book?.chapters.find((one) => one.name === name);
    say(this.#status, chapter === undefined ? words.unknown(name) : '');
    if (chapter === undefined) return;
    if (chapter !== this.#shown) this.#show(chapter);
    if (narrow.matches) this.#contents.open = false;
    const heading = (id === undefined ? null : this.#article.querySelector<HTMLElement>(`[id="${CSS.escape(id)}"]`)) ?? this.#article.querySelector<HTMLElement>('h2');
    heading?.setAttribute('tabindex', '-1');
    heading?.focus({ preventScroll: true });
    heading?.scrollIntoView({ block: 'start' });
  }

  #show(chapter: Chapter): void {
    const book = this.#book;
    if (book === undefined) return;
    this.#shown = chapter;
    this.#article.replaceChildren(unfold(chapter, book.shared));
    if (chapter.name === KNOBS) this.#article.append(knobTables(this.context.actions));
    for (const link of this.#list.querySelectorAll('a')) {
      if (chapterLink.named(link.hash) === chapter.name) link.setAttribute('aria-current', 'page');
      else link.removeAttribute('aria-current');
    }
    const at = book.chapters.indexOf(chapter);
    const leads = (other: Chapter | undefined, text: (title: string) => string, rel: string): readonly HTMLElement[] =>
      other === undefined ? [] : [el('a', { href: `#handbook=${other.name}`, rel }, text(other.title))];
    this.#around.replaceChildren(...leads(book.chapters[at - 1], words.previous, 'prev'), ...leads(book.chapters[at + 1], words.next, 'next'));
  }

  /** Links to chapters are followed here, without a detour by the address. */
  #follow(event: MouseEvent): void {
    if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (link === null || !chapterLink.is(link.hash)) return;
    event.preventDefault();
    this.#open(chapterLink.named(link.hash), link.dataset['heading']);
  }

  #search(): void {
    const asked = this.#find.value;
    const { hits, count } = this.#finder?.find(asked) ?? { hits: [], count: 0 };
    say(this.#told, asked.trim() === '' ? '' : words.found(count, hits.length));
    this.#hits.replaceChildren(
      ...hits.map(({ chapter, id, heading, around }) =>
        el(
          'li',
          {},
          el('a', { href: `#handbook=${chapter.name}`, 'data-heading': id }, heading === chapter.title ? heading : `${chapter.title}: ${heading}`),
          el('span', { class: 'note' }, around),
        ),
      ),
    );
  }

  /** What the robot is set to has changed. */
  #refreshKnobs(): void {
    const book = this.#book;
    if (this.#shown?.name !== KNOBS || book === undefined || !this.element.isConnected) return;
    this.#article.replaceChildren(unfold(this.#shown, book.shared), knobTables(this.context.actions));
  }

  #onPaper(): Node {
    const out = document.createDocumentFragment();
    const book = this.#book;
    if (book === undefined || this.#shown === undefined) return out;
    for (const chapter of this.#whole ? book.chapters : [this.#shown]) {
      const article = el('article', { class: 'chapter' });
      article.append(unfold(chapter, book.shared));
      if (chapter.name === KNOBS) article.append(knobTables(this.context.actions));
      out.append(article);
    }
    return out;
  }
}
