// A large press for many hands. Each finger is its own: a press acts as soon as a finger comes
// down, whatever other fingers do, for a browser makes clicks of the first finger alone.

import { el } from '../../dom';

/** A click this soon after a finger's press is that press once more [ms]. */
const ECHO = 800;

export interface Press {
  readonly element: HTMLButtonElement;
  readonly down: () => void;
  readonly up: () => void;
}

/** `up` is called when the last finger or key that held it has gone. */
export function makePress(attributes: Readonly<Record<string, string>>, down: () => void, up: () => void = () => undefined): Press {
  const element = el('button', { type: 'button', ...attributes });
  const fingers = new Set<number>();
  let touched = -Infinity;
  let key = false;
  const lift = (event: PointerEvent): void => {
    if (!fingers.delete(event.pointerId)) return;
    if (fingers.size === 0 && !key) up();
  };
  element.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    touched = event.timeStamp;
    fingers.add(event.pointerId);
    element.setPointerCapture(event.pointerId);
    down();
  });
  for (const type of ['pointerup', 'pointercancel', 'lostpointercapture'] as const) element.addEventListener(type, lift);
  element.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' && event.key !== ' ') return;
    // Its click would be the same press once more.
    event.preventDefault();
    if (event.repeat || key) return;
    key = true;
    down();
  });
  const release = (): void => {
    if (!key) return;
    key = false;
    if (fingers.size === 0) up();
  };
  element.addEventListener('keyup', (event) => {
    if (event.key === 'Enter' || event.key === ' ') release();
  });
  element.addEventListener('blur', release);
  // What reads the screen aloud presses by a click alone.
  element.addEventListener('click', (event) => {
    if (event.timeStamp - touched < ECHO) return;
    down();
    up();
  });
  return { element, down, up };
}
