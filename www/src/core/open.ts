// Where the page's wishes and the core's class meet.

import { tellingBoard } from '../words/core';
import { heard } from '../words/language';
import { loadCore } from './load';
import type { Board } from './types';

export async function openBoard(): Promise<Board> {
  const [{ api }] = await Promise.all([loadCore(), heard()]);
  const board = new api.Board();
  return tellingBoard(board as unknown as Board);
}
