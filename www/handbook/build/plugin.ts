// Vite's part: `import chapters from 'virtual:handbook/en'` gives the chapters of a language as HTML,
// 'virtual:handbook/shared' the equations, examples and drawings that all share. A chapter that is wrong (a dead link, an
// example that does not come out, a language that lags behind) ends the build.

import type { Plugin } from 'vite';
import { FOLDER, sources } from './chapters.ts';
import { differences } from './check.ts';
import { pictures } from './pictures.ts';
import { Pieces, render, type Chapter } from './render.ts';

export const LANGUAGES = ['en', 'de'] as const;
type Language = (typeof LANGUAGES)[number];

const ASKED = /^virtual:handbook\/(en|de|shared)$/;

export interface Book {
  readonly chapters: Readonly<Record<Language, readonly Chapter[]>>;
  readonly pieces: readonly string[];
}

/** All languages, compiled and held against each other. */
export function compile(folder = FOLDER): Book {
  const pieces = new Pieces();
  const english = sources('en', folder);
  const compiled = (language: Language): readonly Chapter[] => {
    const files = sources(language, folder);
    const lag = differences(english, files);
    if (lag.length > 0) throw new Error(`handbook/${language}: ${lag.join('; ')}`);
    const names = new Set(files.map(({ name }) => name));
    return files.map((source) => render(source, names, pieces));
  };
  return { chapters: { en: compiled('en'), de: compiled('de') }, pieces: pieces.html };
}

export function handbook(): Plugin {
  let book: Book | undefined;
  return {
    name: 'kickstill-handbook',
    resolveId: (source) => (ASKED.test(source) ? `\0${source}` : null),
    buildStart() {
      book = undefined;
    },
    load(id) {
      const asked = id.startsWith('\0') ? ASKED.exec(id.slice(1))?.[1] : undefined;
      if (asked === undefined) return null;
      for (const language of LANGUAGES) for (const { file } of sources(language)) this.addWatchFile(file);
      book ??= compile();
      const content = asked === 'shared' ? { pieces: book.pieces, pictures: pictures() } : book.chapters[asked as Language];
      return `export default ${JSON.stringify(content)};`;
    },
    configureServer(server) {
      server.watcher.add(FOLDER);
    },
  };
}
