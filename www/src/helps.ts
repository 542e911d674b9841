// What each knob is and what turning it does. Known by the catalogue, needed by nobody in the first
// moment: it comes when the robot is seen.

import { robotSeen } from './seen';
import { said } from './words/core';
import { heard } from './words/language';

/** Help by the knob's key, in the page's language. */
type Helps = Readonly<Record<string, string>>;

let helps: Promise<Helps> | undefined;

/** Rejects when it cannot be loaded; a later call tries again. */
function knobHelps(): Promise<Helps> {
  helps ??= Promise.all([import('./words/helps.json'), heard()]).then(
    ([{ default: english }]) => Object.fromEntries(Object.entries(english).map(([key, help]) => [key, said(help)])),
    (cause: unknown) => {
      helps = undefined;
      throw cause;
    },
  );
  return helps;
}

/** Hangs a knob's help on what shows it, as soon as it is there. */
export function explain(key: string, ...shown: readonly HTMLElement[]): void {
  toldOf(key, (help) => {
    for (const element of shown) element.title = help;
  });
}

/** Writes a knob's help into an element, as soon as it is there. */
export function explainIn(key: string, element: HTMLElement): void {
  toldOf(key, (help) => {
    element.textContent = help;
  });
}

function toldOf(key: string, tell: (help: string) => void): void {
  void robotSeen.then(knobHelps).then(
    (told) => {
      tell(told[key] ?? '');
    },
    () => {
      // A knob without its help is a knob all the same.
    },
  );
}
