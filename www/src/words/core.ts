// What the core says, in the page's language. The core itself speaks English, as files and the
// command line do: what crosses its boundary is told anew, whole sentences by their templates, with
// what stands in their places. `core.en.json` lists all it can say.
//
// In English all of this gives back what it was given; the rest is loaded with the other language.

import type { JobName } from '../core/lab.types';
import type { Board } from '../core/types';
import type { Crossing } from './crossing';
import { spoken } from './language';

let crossing: Crossing | undefined;

const load = async (catalogue: Promise<{ readonly words: Readonly<Record<string, string>> }>): Promise<object> => {
  const [made, { words }] = await Promise.all([import('./crossing'), catalogue]);
  crossing = new made.Crossing(words);
  return {};
};
// Nothing of it is said by name, but `heard` waits for it as for every other catalogue.
spoken<object>({}, { de: () => load(import('./de/core')) });

/** A text of the core, in the page's language. */
export const said = (text: string): string => crossing?.said(text) ?? text;

/** What a job of a worker answered, or told on its way, in the page's language. */
export const toldByJob = <T>(job: JobName | 'map', answer: T): T => crossing?.byJob(job, answer) ?? answer;

/** The board with its rare answers and its lettering told; not before `heard`. */
export const tellingBoard = (board: Board): Board => crossing?.board(board) ?? board;
