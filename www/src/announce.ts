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
/** Turning points of a run that are told; the least that is one [rad]; share of it at which it has turned. */
const TURNS = 2;
const LEAST = Math.PI / 180;
const BACK = 0.8;
/** A piece of news stands at least so long [ms]. */
const HEARD = 350;
/** Between two sentences [ms]. */
const PERIOD = 1000;

export function makeAnnouncements(actions: Actions, loop: Loop, results: TitleBlock): readonly HTMLElement[] {
  const live = el('p', { class: 'unseen', 'aria-live': 'polite', id: 'news' });
  const see = el('p', { id: 'see' });
  inTurn(actions, (text) => {
    // The same words twice must be heard twice.
    say(live, live.textContent === text ? `${text} ` : text);
  });
  tellTurns(actions, loop, results);
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
    const { double, robot, level, units } = actions.store.state;
    const inches = units === 'inch';
    const said = planes().flatMap((plane) => {
      const own = describe(seen, plane, seen.layout.planes[plane], robot.name, level, inches);
      if (double === undefined) return [own];
      const doubles = seen.frame[seen.layout.doubles[plane] + seen.layout.run.level] as Level;
      return [own, describe(seen, plane, seen.layout.doubles[plane], words.double.called(double.label), doubles, inches)];
    });
    say(see, said.join(' '));
  });
  return [live, el('details', { class: 'see' }, el('summary', {}, words.board.see), see)];
}

/** One piece of news after another, each long enough to be taken up: what follows at once would replace it unheard. */
function inTurn(actions: Actions, tell: (text: string) => void): void {
  const waiting: string[] = [];
  let busy = false;
  const next = (): void => {
    const text = waiting.shift();
    busy = text !== undefined;
    if (text === undefined) return;
    tell(text);
    setTimeout(next, HEARD);
  };
  actions.onNews((text) => {
    waiting.push(text);
    if (!busy) next();
  });
}

/** After a push, how far it goes and how far it comes back. What follows is told by the result. */
function tellTurns(actions: Actions, loop: Loop, results: TitleBlock): void {
  let run = -1;
  let pushed: Plane | undefined;
  let peak = 0;
  let told = 0;
  results.onEnd((_, plane) => {
    if (plane === pushed) pushed = undefined;
  });
  loop.readLate(({ frame, layout }) => {
    const { active } = actions.store.state;
    const number = frame[layout.planes[active] + layout.run.number] ?? 0;
    if (number !== run) {
      run = number;
      const { trial, going } = actions.board.results(active);
      pushed = going && trial !== '' ? active : undefined;
      peak = 0;
      told = 0;
    }
    if (pushed !== active || told >= TURNS) return;
    const angle = frame[layout.planes[active] + (layout.columns[active === FRONT ? 'roll' : 'swing'] ?? 0)] ?? 0;
    if (Math.abs(angle) >= Math.abs(peak) && angle * peak >= 0) peak = angle;
    else if (Math.abs(angle) < BACK * Math.abs(peak) || angle * peak < 0) {
      if (Math.abs(peak) >= LEAST) {
        actions.tell(words.announce.turned(active, peak, told === 0));
        told += 1;
      }
      peak = angle;
    }
  });
}

function describe({ frame, layout }: Seen, plane: Plane, from: number, name: string, level: Level, inches: boolean): string {
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
    inches,
  });
}
