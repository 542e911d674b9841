// Words of the place "My robot". Labels, help and problems of the numbers come from the core.

import type { MarkWord } from '../../core/lab.types';

const TRIALS = 'kick from the side and the front, stop';

export const words = {
  parts: {
    label: 'parts of this place',
    names: { start: 'Ten numbers', spread: 'What the guesses do', marks: 'Every value’s mark', ledger: 'Parts ledger' },
  },

  job: {
    cancel: 'cancel',
    waiting: 'waiting for the worker …',
    going: (done: number, of: number) => `${done} of at most ${of} runs`,
    givenUp: 'Cancelled.',
    stale: 'The robot has changed since: run it again.',
    refused: (place: string, expected: string, hint: string) =>
      [`${place === '' ? '' : `${place}: `}expected ${expected}`, hint].filter((part) => part !== '').join('; '),
  },

  marks: {
    words: { measured: 'measured', sheet: 'from its sheet', guessed: 'guessed' } as Readonly<Record<MarkWord, string>>,
    none: 'not said',
    of: (label: string) => `${label}: where it comes from`,
  },

  start: {
    title: 'My robot in ten numbers',
    about:
      'With scale, tape and the data sheets at hand this takes a few minutes. What is left empty keeps the usual value shown in grey and counts as a guess; the rest of the robot is filled in by rules, and marked as guessed.',
    name: 'name',
    usualName: 'My robot',
    number: (number: number) => `number ${number} of ten`,
    wrong: (count: number) => (count === 1 ? 'One number is wrong.' : `${count} numbers are wrong.`),
    right: 'All numbers can be taken.',
    field: (expected: string, hint: string, kept: string) =>
      [`expected: ${expected}`, hint, kept].filter((part) => part !== '').join('; '),
    summary: 'this robot',
    summaries: {
      mass: 'weighs',
      head_share: 'head’s share of the balance',
      topples: 'would tip over with a head of',
      rocks: 'rocks, motors locked, once in',
      speed: 'drives at up to',
      kick: 'usual kick',
    } as Readonly<Record<string, string>>,
    marks: ([measured, sheet, guessed]: readonly [number, number, number]) =>
      `${measured} values measured, ${sheet} from sheets, ${guessed} guessed`,
    put: 'put it on the board',
    because: 'ten numbers',
    done: (name: string) => `${name} stands on the board. The robot before is one undo away (Ctrl+Z).`,
    kick: 'switch on and kick it',
    check: 'run the show-day check',
    guesses: 'what the guesses do',
    empty: 'empty the form',
    filled: 'The form is empty.',
    broken: 'The form could not be read:',
  },

  verdict: {
    title: 'Show-day check',
    steadied: (name: string, settles: string) => `${name} is steadied: after a kick it ${settles}.`,
    notYet: (name: string, count: number, of: number) =>
      `${name} is not ready yet: ${count} of ${of} trials ${count === 1 ? 'breaks' : 'break'} a limit. The first reason:`,
    kickBut: (name: string, count: number) =>
      `${name} settles after a kick; ${count === 1 ? 'one trial breaks' : `${count} trials break`} a limit. The first reason:`,
    reason: (title: string, label: string, found: string, limit: string) =>
      label === 'outcome' ? `${title}: ${found}.` : `${title}: ${label} ${found}, limit ${limit}.`,
    change: 'Change next:',
    columns: ['trial', 'outcome', 'limit', 'found', 'verdict', 'change next'],
    holds: 'holds',
    breaks: 'breaks',
    caution: 'A model’s verdict, not a permission: try the real robot slowly, with people clear of it, and by your local rules.',
    /** By outcome class; then by measure. */
    outcomes: {
      'out of control':
        'less correction P first; then more weight hung lower, or a lighter head. If it runs away at once, a loop may be reversed.',
      sways: 'less damping D or a shorter delay, because D times delay is what makes it swing by itself; then a lighter head.',
      'rests leaning': 'more correction P or a smaller dead band: dry friction holds it short of upright.',
      'head lost': 'stronger magnets, a lighter or lower head, or gentler ramps.',
      hop: 'a gentler push or ramp: the shell left the floor.',
      'brown-out': 'a lower driver limit and gentler ramps first; then a battery with less resistance.',
      diverged: 'softer gains: the numbers ran away, which no real robot would live to see.',
      'still moving': 'more damping D: it dies down too slowly.',
    } as Readonly<Record<string, string>>,
    measures: {
      settling_time: 'more damping D, a smaller dead band, or more weight hung lower.',
      head_dip: 'a lighter or lower head, more weight hung lower, a softer stop, or more lead in the levelling.',
      head_sway: 'a lighter or lower head, or more weight hung lower.',
      current_peak: 'a lower driver limit, gentler ramps or less D; not a larger fuse.',
      hold_used: 'stronger magnets, a lighter or lower head, or gentler ramps.',
      run_out_time: 'a shorter radio time-out or a harder stopping ramp.',
      stopping_distance: 'a harder stopping ramp, as far as the head’s dip allows.',
    } as Readonly<Record<string, string>>,
    other: 'see the trial in “Trials”, with its strips.',
  },

  spread: {
    title: 'What the guesses do',
    about: (spreads: readonly [string, string, string]) =>
      `Each variant draws every marked value of the plant anew: measured within ±${spreads[0]}, from its sheet within ±${spreads[1]}, guessed within ±${spreads[2]}. What has no mark stays as it is.`,
    first: `Forty variants of the robot on the board (${TRIALS}), each value drawn within what its mark allows.`,
    run: 'run the variants',
    progress: 'variants',
    none: 'No value of this robot says where it comes from, so nothing is drawn. Mark its values first: one press marks all as guesses.',
    markAll: 'mark every unmarked value as guessed',
    markedAll: 'unmarked values marked as guessed',
    varied: ([measured, sheet, guessed]: readonly [number, number, number]) =>
      `Drawn here: ${measured} measured, ${sheet} from sheets, ${guessed} guessed`,
    holds: (count: number, of: number, limit: string) =>
      `holds in ${count} of ${of}${limit === '' ? '' : ` (settled, ${limit})`}`,
    outcomes: (list: readonly { readonly class: string; readonly count: number }[]) =>
      list.map(({ class: name, count }) => `${name} ${count}`).join(', '),
    impossible: (count: number) => `${count} could not be built and ${count === 1 ? 'was' : 'were'} left out`,
    columns: ['', 'from least to most', 'as described', 'least', 'lower quarter', 'middle', 'upper quarter', 'most', 'limit'],
    lacking: (count: number) => `none in ${count}`,
    next: 'Measure this next',
    nextNone: 'No guess moves these results beyond noise. What is left to measure is on the bench, not here.',
    nextLine: (label: string, value: string, mark: string, share: string) => `${label}, ${value}, ${mark} (±${share})`,
    does: (low: string, high: string) => `${low} to ${high}`,
    turns: 'changes the outcome',
    noise: 'within the noise',
    how: 'how:',
    others: 'then',
    key: 'line: least to most; box: the middle half; stroke: the middle; dot: the robot as described; dashes: the limit',
    done: (next: string) => (next === '' ? 'The variants are done.' : `The variants are done. Measure next: ${next}.`),
    tableOf: (title: string) => `${title}: spread of the variants`,
  },

  list: {
    title: 'Every value’s mark',
    about: 'Where each value of the plant comes from. It does not alter the motion; it says how far a verdict can be trusted.',
    find: 'find a value',
    filter: 'show',
    all: 'all values',
    none: 'No value is like that.',
    group: (name: string) => `${name}: mark all shown`,
    groupPick: 'mark all …',
    because: (label: string, word: string) => `${label} ${word}`,
    groups: {
      pack: 'battery cells',
      fuse: 'fuse',
      wiring: 'wiring',
      regulator: 'head regulators',
    } as Readonly<Record<string, string>>,
  },

  ledger: {
    title: 'Parts ledger',
    about:
      'What was added or is planned. A part that is on adds its weight to its body, as a point at its height above the shell’s centre; one that is off is planned and weighs nothing.',
    empty: 'No part is listed yet.',
    table: 'parts of the robot',
    columns: ['part', 'on the', 'weight', 'height', 'mark', 'on'],
    effects: ['dip', 'settling, side', 'settling, front', 'balance left'],
    effectsOf: 'The four columns from “dip” on say what a part changes by being on; they are reckoned together with the grams left, below.',
    on: (name: string) => `${name} is on the robot`,
    remove: 'strike off',
    removeOf: (name: string) => `strike ${name} off the list`,
    add: 'Add a part',
    fields: { name: 'name', body: 'on the', mass: 'weight', height: 'height above the shell’s centre', mark: 'mark', on: 'on at once' },
    placeholder: { name: 'brass feet', mass: ['120 g', '4 oz'], height: ['-150 mm', '-6 in'] } as {
      readonly name: string;
      readonly mass: readonly [string, string];
      readonly height: readonly [string, string];
    },
    bodies: ['shell', 'carriage', 'head'] as const,
    put: 'add it',
    added: (name: string) => `${name} added`,
    switchedOn: (name: string) => `${name} on`,
    switchedOff: (name: string) => `${name} off`,
    removed: (name: string) => `${name} struck off`,
    wrongSwitch: (name: string, reason: string) => `${name} stays as it is: ${reason}`,
    left: 'Grams left for the head',
    dip: 'greatest dip of the head in a stop',
    run: 'reckon it',
    progress: 'runs',
    answer: (left: string, dip: string) => `${left} left for the head, within a dip of ${dip}.`,
    over: (left: string, dip: string) => `The head is ${left} too heavy for a dip of ${dip}.`,
    noHead: (dip: string) => `No head weight in the range holds a dip of ${dip}. Soften the stop, or hang the weight lower.`,
    found: 'how it was found: the head alone made heavier and lighter, until the heaviest that holds and the next that breaks lie within 0.4 % of each other',
    foundRuns: (runs: number) => `${runs} runs`,
    searches: ['trial', 'must hold', 'heaviest that holds', 'next that breaks', 'edge'],
    dipLimit: (dip: string) => `dip ≤ ${dip}`,
    settles: 'settles within the run',
    sharp: 'sharp: 2 % less holds, 2 % more breaks',
    ragged: 'ragged: it goes back and forth within 2 %',
    now: (dip: string, side: string, front: string, margin: string) =>
      `as it is: dip ${dip}, settling ${side} (side) and ${front} (front), ${margin} of the balance left`,
    nothing: '–',
  },
};
