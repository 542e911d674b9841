// The words of the place Edge. Sentences on the robot itself come from the core.

import type { BreakWord, OscillationRow, RestWord } from '../../core/lab.edge';
import { minus, three } from '../numbers';

const degrees = (radians: number): string => {
  const value = (radians * 180) / Math.PI;
  return `${minus(value.toFixed(Math.abs(value) < 1 ? 2 : 1))}°`;
};

export const edgeWords = {
  about: 'How far to the edge of stability, by the robot’s linear model with its software’s ticks, hold and delays; what is not linear, such as dead bands and dry friction, comes in further down.',
  opening: 'looking…',
  view: 'view',
  views: { side: 'side view', front: 'front view' },
  speed: (unit: string) => `rolling at, ${unit} (0 stands)`,
  rest: 'software',
  rests: { on: 'on', locked: 'locked', off: 'off, motors open', braked: 'off, motors shorted' } satisfies Record<RestWord, string>,
  wrong: (expected: string, hint: string) => `No linear model of this: expected ${expected}${hint === '' ? '' : `; ${hint}`}.`,
  kept: 'What is shown is of before.',
  /** Of a job whose robot has since been changed. */
  stale: 'The robot has been changed since.',

  poles: {
    title: 'Motions and root track',
    about: 'Press a motion and the robot on the board swings in it.',
    growth: 'growth, 1/s',
    frequency: 'frequency, Hz',
    dies: 'dies away',
    grows: 'grows',
    equal: (ratio: number) => `ζ ${String(ratio)}`,
    beyond: (count: number) => (count === 1 ? 'one faster motion lies beyond the paper' : `${count} faster motions lie beyond the paper`),
    closer: 'closer',
    wider: 'wider',
    track: 'root track of',
    noTrack: 'no knob',
    trackKey: (from: string, to: string) => `□ ${from}, ▲ ${to}, × as it stands`,
    grip: (label: string) => `${label}, along its root track`,
    columns: { motion: 'motion', growth: 'growth', frequency: 'frequency', damping: 'damping ratio' },
    growthText: (value: number) => `${three(value)} /s`,
    frequencyText: (value: number) => (value === 0 ? 'no swing' : `${three(value)} Hz`),
    dampingText: (value: number) => three(Math.round(value * 1000) / 1000),
    press: (motion: string, text: string) => `${motion}: ${text}; show it on the board`,
    unsteady: 'grows',
    more: (count: number) => (count === 1 ? 'one faster motion' : `${count} faster motions`),
    describe: (poles: string, track: string) =>
      `Poles by growth, from left to right, and frequency, upwards; right of the line a motion grows. ${poles}${track === '' ? '' : ` Root track of ${track}.`}`,
    point: (growth: number, frequency: number) => `${three(growth)} per second at ${three(frequency)} Hz`,
    none: 'No motion is left after a tick.',
  },

  swing: {
    caption: (name: string, text: string) => `Shown by itself: ${name}; ${text}.`,
    rate: (rate: number) => (rate === 1 ? 'at true speed' : rate < 1 ? `${three(1 / rate)} times slower than true` : `${three(rate)} times faster than true`),
    amplitude: (radians: number) => `largest angle drawn ${degrees(radians)}`,
    stop: 'show the robot as it is',
    next: 'next position',
    phase: (part: number) => ['at its start', 'a quarter on', 'half a swing on', 'three quarters on'][part] ?? '',
    creep: (part: number) => ['at its start', 'half a time constant on', 'one time constant on', 'one and a half on'][part] ?? '',
    began: (name: string, text: string) => `On the board: ${name}; ${text}. Escape ends it.`,
    ended: 'The board shows the robot as it is.',
  },

  spans: {
    title: 'Stable spans of the knobs',
    about: 'Solid where the robot stays steady, hatched where it does not, finely hatched where only dry friction holds it. Turn one and the others follow.',
    all: (count: number) => `all ${count}`,
    none: 'No knob of this view has an edge.',
    both: (text: string) => `try both sides of ${text}`,
    running: 'both sides of the edge',
  },

  curve: {
    title: 'Gain and phase of the open loop',
    break: 'cut at',
    breaks: { duty: 'the drive’s duty', carriage: 'the carriage loop', head: 'the head’s servo', band: 'the dead band' } satisfies Record<BreakWord, string>,
    gain: 'gain, dB',
    phase: 'phase, °',
    frequency: 'frequency, Hz',
    columns: { margin: 'margin', value: 'how much' },
    none: 'In this way of standing no loop is closed: there is nothing to cut open.',
    locus: 'the loop on the complex plane',
    unit: 'size 1',
    point: '−1',
    describe: (where: string, margins: string) => `Gain and phase over frequency of the loop cut at ${where}. ${margins}`,
    describeLocus: 'The open loop on the complex plane, real part to the right, imaginary part upwards, with the circle around −1 that it just touches.',
    real: 'real part',
    imaginary: 'imaginary part',
    unstable: 'The closed loop is not stable: margins tell how far off it is, not how much is left.',
  },

  oscillation: {
    title: 'Sustained oscillation',
    about: 'What dead band, dry friction, limits and steps of the sensors make of it: predicted by describing functions, and what the whole simulation does after a small kick.',
    columns: { cause: 'cause', predicted: 'predicted', doubts: 'whether to trust it' },
    causes: { band: 'dead band', friction: 'dry friction', limit: 'a limit' } satisfies Record<OscillationRow['cause'], string>,
    sure: 'within its assumptions',
    none: 'None is predicted.',
    run: 'simulate it',
    smooth: 'without dry friction, as the linear model has it',
    running: 'sustained oscillation',
    simulated: 'Simulated',
    beside: (ofAmplitude: number, ofFrequency: number) =>
      `Simulated against the nearest predicted: amplitude × ${three(ofAmplitude)}, frequency × ${three(ofFrequency)}.`,
  },

  hand: {
    title: 'Classic hand methods',
    about: 'Find the gain Ku at which the loop just goes on swinging and its period Pu, then follow a published rule. Nothing is turned before you press “try”.',
    run: 'find Ku and Pu',
    running: 'hand methods',
    columns: { rule: 'rule', settings: 'would set', model: 'linear model', kick: 'usual kick', settling: 'settling time' },
    stable: 'steady',
    unstable: 'not steady',
    tryIt: 'try',
    tryRule: (rule: string) => `try ${rule}`,
    because: (rule: string) => rule,
    tried: (rule: string) => `${rule}: knobs turned; undo puts them back.`,
    refused: (label: string, expected: string) => `${label} was refused: expected ${expected}.`,
    source: (text: string) => `source: ${text}`,
  },
};
