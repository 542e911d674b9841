// The words of “what matters most”. Labels, values, outcomes and the rule of the step come from the core.

import { plural } from '../numbers';

export const mattersWords = {
  about: 'Every knob that plays a part is moved a step each way and run; what moves the measure most stands first, and what changes the outcome above all.',
  measure: 'measure',
  what: 'every knob, a step each way',
  stands: (measure: string, value: string, outcome: string) => `As it stands: ${measure} ${value}, ${outcome}.`,
  told: (measure: string, first: string, effect: string) =>
    first === '' ? `No knob moves the ${measure} by a step.` : `What moves the ${measure} most: ${first}, ${effect}.`,
  stale: 'The robot has changed; the table is of the robot before.',
  none: 'No knob moves it by a step each way.',
  caption: (measure: string) => `what moves the ${measure}`,
  columns: {
    knob: 'knob',
    now: 'stands at',
    down: 'a step down',
    bars: (measure: string) => `${measure}: less ◂ ▸ more`,
    up: 'a step up',
    try: 'better',
  },
  noise: 'within the noise',
  noSide: 'no step',
  key: { down: 'knob a step down', up: 'knob a step up', noise: 'no more than noise' },
  try: (value: string) => `try ${value}`,
  tryTo: (knob: string, value: string) => `put ${knob} to ${value}`,
  put: (way: 'down' | 'up', value: string) => `${way === 'down' ? 'step down' : 'step up'}: ${value}`,
  because: (measure: string) => `for the ${measure}`,
  set: (knob: string, value: string) => `${knob} is now ${value}. Undo takes it back.`,
  refused: (knob: string, expected: string) => `${knob} stays as it is: expected ${expected}`,
  open: (knob: string) => `open the knob ${knob}`,
  more: (count: number) => `show ${plural(count, 'more knob', 'more knobs')}`,
  fewer: 'show the first alone',
  onlyNoise: (labels: readonly string[]) =>
    labels.length === 0 ? '' : `Within the noise of the sensors, and so not to be told from nothing: ${labels.join(', ')}.`,
  idle: (labels: readonly string[]) => (labels.length === 0 ? '' : `Without effect by such a step: ${labels.join(', ')}.`),
  silent: (noise: number, idle: number) =>
    [noise > 0 ? `${plural(noise, 'knob moves', 'knobs move')} it only within the noise of the sensors` : '', idle > 0 ? `${plural(idle, 'does', 'do')} nothing to it` : '']
      .filter((text) => text !== '')
      .join(', '),
  runs: (runs: number) => `${plural(runs, 'run', 'runs')}.`,
};
