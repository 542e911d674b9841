// A second board that nobody sees: robots are tried on it, so that the visitor's own is left alone.

import { openBoard } from './open';
import type { Board } from './types';

/** Gives a board to `use` and takes it away again. */
export async function onScratch<T>(use: (board: Board) => T): Promise<T> {
  const board = await openBoard();
  try {
    return use(board);
  } finally {
    board.free();
  }
}
