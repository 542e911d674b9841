// When a run can go no further, or the head has come off, the board says so in words and offers
// to stand the robot up again. Nothing ends silently.

import type { Actions } from '../actions';
import { FRONT, SIDE, type Plane } from '../core/types';
import { button, el, say } from '../dom';
import type { Loop, Seen } from '../loop';
import { words } from '../words/page';

/** Bit of the core's flags. */
const HEAD_LOST = 64;

export function makeEnded(actions: Actions, loop: Loop): HTMLElement {
  const text = el('p', { role: 'alert' });
  const again = button(words.clock.again, { class: 'act' }, () => {
    actions.resetRun();
  });
  const element = el('div', { class: 'ended', hidden: true }, text, again);

  const why = ({ frame, layout }: Seen, plane: Plane): string => {
    const at = (place: number | undefined): number => frame[layout.planes[plane] + (place ?? 0)] ?? 0;
    const end = at(layout.run.ended);
    actions.ended[plane] = end !== 0;
    const lost = (at(layout.columns['flags']) & HEAD_LOST) !== 0;
    actions.headLost[plane] = lost;
    if (end !== 0) return words.ended.run[end - 1] ?? words.ended.other;
    return lost ? words.ended.headLost : '';
  };
  loop.readLate((seen) => {
    const { shown } = actions.store.state;
    const said: string[] = [];
    for (const plane of [SIDE, FRONT] as const) {
      const reason = why(seen, plane);
      const looked = shown === 'both' || (shown === 'front') === (plane === FRONT);
      if (reason === '' || !looked) continue;
      said.push(shown === 'both' ? words.ended.inView(plane, reason) : reason);
    }
    element.hidden = said.length === 0;
    say(text, said.join(' '));
  });
  return element;
}
