// The handbook's files: a folder a language, a file a chapter, `NN-name.md`. The number gives the order, the
// name is the same in all languages and is what links say.

import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

/** The handbook's folder. */
export const FOLDER = path.resolve(import.meta.dirname, '..');

export interface Source {
  /** As links name it. */
  readonly name: string;
  /** Path of its file. */
  readonly file: string;
  readonly text: string;
}

/** The chapters of a language, in order. */
export function sources(language: string, folder = FOLDER): readonly Source[] {
  const inside = path.join(folder, language);
  return readdirSync(inside)
    .filter((entry) => entry.endsWith('.md'))
    .sort()
    .map((entry) => {
      const name = /^\d\d-([a-z0-9-]+)\.md$/.exec(entry)?.[1];
      if (name === undefined) throw new Error(`handbook/${language}/${entry}: a chapter is named NN-name.md`);
      const file = path.join(inside, entry);
      return { name, file, text: readFileSync(file, 'utf8') };
    });
}
