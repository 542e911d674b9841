// Reading a robot file that the visitor points at.

import type { Actions } from '../actions';
import { el } from '../dom';
import { words } from '../words/page';

const MOST_BYTES = 1_000_000;

/** Reads a robot file and hands its text on; a file that cannot be one is said. */
export async function readRobotFile(actions: Actions, file: File, take: (text: string, name: string) => void): Promise<void> {
  if (file.size > MOST_BYTES) {
    actions.showProblems(
      [
        {
          path: file.name,
          value: words.robots.tooLarge(file.size),
          expected: words.robots.atMost,
          hint: words.robots.atMostHint,
          kept: words.robots.keptRobot,
          severity: 'error',
        },
      ],
      file.name,
    );
    return;
  }
  let text: string;
  try {
    text = await file.text();
  } catch {
    actions.notice(words.robots.unreadable(file.name));
    return;
  }
  take(text, file.name);
}

/** Asks for a robot file for something else than the board. */
export function pickRobotFile(actions: Actions, take: (text: string, name: string) => void): void {
  const input = el('input', { type: 'file', accept: '.json,application/json' });
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file !== undefined) void readRobotFile(actions, file, take);
  });
  input.click();
}
