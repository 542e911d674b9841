// Says what is seen, from the run's own state and results.

import { OFF, SIDE, STEADIED, type Level, type Plane, type Results } from '../../core/types';
import { stallWords as words } from '../../words/stall';

const says = words.says;

/** Outcomes that stand even while the rest of the robot goes on. */
const FINAL = ['head lost', 'hop', 'brown-out', 'diverged'];

export interface Told {
  readonly text: string;
  /** Whether it is the run's outcome. */
  readonly over: boolean;
  readonly settled: boolean;
}

const number = (results: Results, key: string): number => results.measures.find((one) => one.key === key)?.value ?? 0;
const text = (results: Results, key: string): string | undefined => {
  const found = results.measures.find((one) => one.key === key);
  return found?.known === true ? found.text : undefined;
};

/** `speed` is the ball's now, in words. */
export function narrate(results: Results, level: Level, plane: Plane, speed: string): Told {
  const { trial, going, outcomeClass } = results;
  const still = { over: false, settled: false };
  const over = { over: true, settled: false };
  if (trial === '') return { text: says.stands(level), ...still };
  if (FINAL.includes(outcomeClass)) return { text: says.ends[outcomeClass] ?? says.ended, ...over };
  if (going) return { text: goesOn(results, level, speed), ...still };
  if (outcomeClass === 'settled') {
    if (trial === 'start') return { text: level === STEADIED ? says.drives(speed) : says.needsSoftware, ...over };
    const after = number(results, 'settling_time') > 0 ? text(results, 'settling_time') : undefined;
    const dip = text(results, plane === SIDE ? 'head_dip' : 'head_sway');
    if (trial === 'stop') return { text: says.stopped(after, dip), over: true, settled: true };
    return { text: after === undefined ? says.hardly : says.settled(level, after), over: true, settled: true };
  }
  if (outcomeClass === 'still moving' && trial === 'start') return { text: level === STEADIED ? says.drives(speed) : says.needsSoftware, ...over };
  return { text: says.ends[outcomeClass] ?? says.ended, ...over };
}

function goesOn(results: Results, level: Level, speed: string): string {
  if (results.trial === 'start') return level === STEADIED ? says.drives(speed) : says.needsSoftware;
  if (results.trial === 'stop') return says.stops;
  // Some of its swings may be older than the software's switch.
  if (level === STEADIED) return says.steadies;
  const swings = Math.round(number(results, 'swings'));
  return level === OFF ? says.rocks(swings) : says.locked(swings);
}
