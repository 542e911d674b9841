// Where the page's wishes and the core's class meet.

import { tellingBoard } from '../words/core';
import { heard } from '../words/language';
import { loadCore } from './load';
import type { Board } from './types';

export async function openBoard(): Promise<Board> {
  return (await boardMaker())();
}

/** What makes boards without waiting, once the core is there. */
export async function boardMaker(): Promise<() => Board> {
  const [{ api }] = await Promise.all([loadCore(), heard()]);
  return () => tellingBoard(new api.Board() as unknown as Board);
}
