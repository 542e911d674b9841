// The languages of the page. English is written in the code that is loaded first; another language
// is laid over it, word for word, before anything is shown. Which one: what the visitor chose, or
// the first of the browser's languages that the page knows.

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

/** By its own name, as everyone finds it who cannot read the rest. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = { en: 'English', de: 'Deutsch' };

/** Not part of what `remember.ts` keeps: it is needed before anything else, and outlives a damaged memory. */
const KEY = 'kickstill-language';

const known = (tag: unknown): Language | undefined => {
  const base = typeof tag === 'string' ? tag.toLowerCase().split('-')[0] : undefined;
  return LANGUAGES.find((language) => language === base);
};

function choose(): Language {
  try {
    const chosen = known(localStorage.getItem(KEY));
    if (chosen !== undefined) return chosen;
  } catch {
    // A browser that keeps nothing: its own languages tell.
  }
  for (const tag of navigator.languages) {
    const language = known(tag);
    if (language !== undefined) return language;
  }
  return 'en';
}

/** What the page speaks from its loading to its end. */
export const language: Language = choose();

/** The page is loaded anew in `chosen`; robot, revisions and kept runs stay. Answers whether it will be. */
export function changeLanguage(chosen: Language): boolean {
  try {
    localStorage.setItem(KEY, chosen);
  } catch {
    // It cannot be remembered, and a reload would only come back to this one.
    return false;
  }
  location.reload();
  return true;
}

/** The form that every language of a catalogue has: the same fields and arguments, other words. */
export type Spoken<T> = T extends string
  ? string
  : T extends (...args: infer A) => infer R
    ? (...args: A) => Spoken<R>
    : T extends readonly unknown[]
      ? { readonly [K in keyof T]: Spoken<T[K]> }
      : T extends object
        ? { readonly [K in keyof T]: Spoken<T[K]> }
        : T;

type Tree = Record<string, unknown>;
const isTree = (value: unknown): value is Tree =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** In place, so that what was taken out of `under` before the language came is right too. */
function lay(over: Tree, under: Tree): void {
  for (const [name, words] of Object.entries(over)) {
    const before = under[name];
    if (isTree(words) && isTree(before)) lay(words, before);
    else under[name] = words;
  }
}

const coming = new Set<Promise<void>>();

/** Something that the page's language needs besides: `heard` waits for it. */
export function hear(load: Promise<void>): void {
  const one = load.then(() => {
    coming.delete(one);
  });
  coming.add(one);
  // It is awaited by `heard`; nobody else should call it unhandled.
  one.catch(() => undefined);
}

/**
 * A catalogue in the page's language. `english` itself is given back, and has the other language's words as
 * soon as `heard` resolves; until then nothing may be shown of it.
 */
export function spoken<T extends object>(
  english: T,
  others: Readonly<Record<Exclude<Language, 'en'>, () => Promise<Spoken<T>>>>,
): Spoken<T> {
  if (language !== 'en') {
    hear(
      others[language]().then((words) => {
        lay(words as Tree, english as Tree);
      }),
    );
  }
  return english as Spoken<T>;
}

/** All catalogues that have been asked for are in the page's language. Fails if one could not be loaded. */
export async function heard(): Promise<void> {
  while (coming.size > 0) await Promise.all(coming);
}
