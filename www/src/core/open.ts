// Where the page's wishes and the core's class meet.

import { loadCore } from './load';
import type { Board } from './types';

export async function openBoard(): Promise<Board> {
  const { api } = await loadCore();
  const board = new api.Board();
  return board as unknown as Board;
}
