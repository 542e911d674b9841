// For people who do not see the board: results and switches are announced as they happen, and
// what the board shows stands as a sentence that is renewed once a second.

import type { Actions } from './actions';
import { FRONT, SIDE, type Level, type Plane } from './core/types';
import { el, say } from './dom';
import type { Loop, Seen } from './loop';
import { words } from './words/page';
import type { TitleBlock } from './parts/titleblock';

/** Bits of the core's flags. */
const SLIPS = 16;
const HEAD_LOST = 64;
/** Between two sentences [ms]. */
const PERIOD = 1000;

export function makeAnnouncements(actions: Actions, loop: Loop, results: TitleBlock): readonly HTMLElement[] {
  const live = el('p', { class: 'unseen', 'aria-live': 'polite', id: 'news' });
  const see = el('p', { id: 'see' });
  actions.onNews((text) => {
    // The same words twice must be heard twice.
    say(live, live.textContent === text ? `${text} ` : text);
  });
  results.onEnd((run) => {
    const numbers = run.measures
      .filter((measure) => ['settling_time', 'swings', 'head_dip'].includes(measure.key))
      .map((measure) => `${measure.label} ${measure.text}`);
    actions.tell([run.outcome, ...numbers].join(', '));
  });

  let told = -Infinity;
  const planes = (): readonly Plane[] => {
    const { shown } = actions.store.state;
    return shown === 'both' ? [SIDE, FRONT] : [shown === 'front' ? FRONT : SIDE];
  };
  loop.readLate((seen, now) => {
    if (now - told < PERIOD) return;
    told = now;
    const { double, robot, level } = actions.store.state;
    const said = planes().flatMap((plane) => {
      const own = describe(seen, plane, seen.layout.planes[plane], robot.name, level);
      if (double === undefined) return [own];
      const doubles = seen.frame[seen.layout.doubles[plane] + seen.layout.run.level] as Level;
      return [own, describe(seen, plane, seen.layout.doubles[plane], words.double.called(double.label), doubles)];
    });
    say(see, said.join(' '));
  });
  return [live, el('details', { class: 'see' }, el('summary', {}, words.board.see), see)];
}

function describe({ frame, layout }: Seen, plane: Plane, from: number, name: string, level: Level): string {
  const at = (column: string): number => frame[from + (layout.columns[column] ?? 0)] ?? 0;
  const flags = at('flags');
  return words.describe({
    plane,
    name,
    level,
    travel: at('travel'),
    speed: at('speed'),
    roll: at('roll'),
    swing: at('swing'),
    tilt: at('tilt'),
    slope: at('slope'),
    headLost: (flags & HEAD_LOST) !== 0,
    slips: (flags & SLIPS) !== 0,
  });
}
