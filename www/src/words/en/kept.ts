// Every word of the place of kept runs, except what the core says.

import type { Trouble } from '../../places/kept/db';
import { plural } from '../numbers';

const runs = (number: number): string => plural(number, 'run', 'runs');

export const words = {
  runs: {
    title: 'Kept runs',
    keep: 'keep the present run',
    none: 'Nothing is kept yet. Kick the robot, then press “keep the present run”, or keep a result under “Trials”.',
    table: 'list of kept runs',
    columns: ['name', 'kept', 'robot', 'trial', 'outcome', ''],
    show: 'show',
    hide: 'hide',
    name: (name: string) => `name of ${name}`,
    choose: (name: string) => `show ${name}`,
    kept: (name: string) => `Kept: ${name}.`,
    nothing: 'There is no run to keep yet: kick, bump or drive first.',
    unfinished: 'The run is still in motion: keep it when it has settled.',
    notKept: (reason: string) => `The run could not be kept: ${reason}.`,
    tooLong: 'The run has gone on for too long to be made again: start it from rest, then keep it.',
    deleted: (name: string) => `Deleted: ${name}.`,
    undo: 'put it back',
    memory: 'in memory only',
    revision: (letter: string) => `revision ${letter}`,
  },

  detail: {
    title: (name: string) => `Run: ${name}`,
    facts: {
      trial: 'trial',
      robot: 'robot',
      view: 'view',
      outcome: 'outcome',
      seed: 'seed',
      inputs: 'inputs',
      model: 'model',
      digest: 'digest',
    },
    inputs: (number: number) => plural(number, 'input in its log', 'inputs in its log'),
    setting: 'a trial with its numbers',
    open: 'put its robot on the board',
    opened: (name: string) => `from ${name}`,
    double: 'make it the double',
    replay: 'replay it',
    export: 'export this run',
    delete: 'delete',
    compare: 'beside it',
    nobody: 'nothing',
    present: 'the present run',
    measures: 'measures',
    columns: ['measure', 'this run', 'beside it', 'change'],
    same: 'same',
    more: (text: string) => `▲ ${text}`,
    less: (text: string) => `▼ ${text}`,
    beside: (label: string) => `double B: ${label}`,
    strip: (label: string, view: 'side' | 'front') => `${label}, ${view} view, kept run`,
    readHere: 'Point at a strip, or use the arrow keys on it, to read all of them at one time.',
    noStrip: 'No strip was kept with this run.',
  },

  replay: {
    going: 'Replaying …',
    equal: 'Replayed: the digest is equal, bit for bit.',
    newer: (then: string, now: string) =>
      `Replayed: it differs, and so does the model: it was made by model ${then}, this page has ${now}.`,
    differs: 'Replayed: it differs though the model has the same version. Please report this, with the exported run.',
    upTo: (seconds: number, last: boolean) =>
      last
        ? `It is equal up to t = ${seconds} s and differs after that.`
        : `It is equal up to t = ${seconds} s and differs by t = ${seconds + 1} s.`,
    difference: (label: string, was: string, is: string) => `${label}: ${was}, now ${is}.`,
    failed: (reason: string) => `It could not be replayed: ${reason}.`,
  },

  time: {
    title: 'My robot over time',
    measure: 'measure',
    few: 'Two kept runs make a strip.',
    chart: (label: string) => `${label} by kept run, oldest first`,
    columns: ['run', 'kept', 'value', 'robot'],
    back: 'back to this robot',
    backTo: (name: string) => `back to the robot of ${name}`,
    help: 'Press a point to bring its robot back. × marks a run that has no such number.',
  },

  revisions: {
    title: 'All revisions',
    columns: ['', 'change', 'name', 'when', ''],
    name: (letter: string) => `name of revision ${letter}`,
    hint: 'such as “show floor, Saturday”',
    now: 'on the board',
    undone: 'undone',
    back: 'back to this',
    backTo: (letter: string) => `back to revision ${letter}`,
  },

  file: {
    export: 'export all',
    import: 'import a file',
    name: 'kickstill-kept',
    done: (number: number, name: string) => `Exported ${runs(number)} and all revisions as ${name}.`,
    doneOne: (name: string) => `Exported as ${name}.`,
    remind: (number: number) => `${runs(number)} kept since the last export: a browser may clear its storage, a file stays.`,
    useSettings: 'use its settings too',
  },

  import: {
    done: (kept: number, revisions: number, known: number) =>
      `Imported ${runs(kept)} and ${plural(revisions, 'revision', 'revisions')}` +
      (known === 0 ? '.' : `; ${plural(known, 'record was', 'records were')} here already.`),
    of: (name: string) => `import of ${name}`,
    nothing: 'nothing was imported',
    others: 'this one was left out, the others came in',
    size: (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`,
    atMost: (bytes: number) => `at most ${(bytes / 1e6).toFixed(0)} MB`,
    unreadable: 'a file that can be read',
    expected: 'a file that this page exported',
    version: (version: number) => `version ${version} or older`,
    newer: 'a newer page may have exported it: reload this one',
    list: 'a list',
    robot: 'the id of a sound robot in this file',
    robotEntry: 'an id and a robot file',
    line: (line: number) => `line ${line}`,
    whole: 'a whole record',
    end: 'the end of the file, which was cut off',
  },

  /** What was expected of a field of a file. */
  expect: {
    fields: 'an object',
    id: 'letters, digits, - and _, at most 64',
    text: 'a text',
    time: 'a time in ms since 1970',
    view: '"side" or "front"',
    digest: '16 hexadecimal digits',
    marks: (most: number) => `a list of at most ${most} digests`,
    number: 'a number',
    list: 'a list',
    robot: 'a robot file',
    log: '[time in µs, word, numbers …]',
    trace: 'lists of numbers of equal length, at most 20000 each',
    version: (most: number) => `a number up to ${most}`,
    kind: (kinds: readonly string[]) => `one of ${kinds.join(', ')}`,
  },

  link: {
    title: 'Link to this setting',
    label: 'link',
    copy: 'copy',
    code: 'QR code',
    codeLabel: 'QR code of the link',
    tooLong: (length: number) =>
      `This link of ${length} characters is too long for a code that a camera reads well. Copy it instead.`,
    whole: 'The robot is its own, not a demo robot with changed knobs: the link holds its whole file.',
  },

  trouble: {
    refused:
      'This browser gives the page no storage, as in a private window. Runs are kept until the page is closed: export them.',
    full: 'The browser’s storage is full. What is new is kept until the page is closed: export it, or delete runs.',
    blocked:
      'Another tab holds the storage with an older page. Close it and reload. Until then runs are kept in memory: export them.',
    newer:
      'A newer page in another tab has taken the storage over. Reload this one; export first what it says is in memory only.',
    lost: 'The browser closed its storage. What is new is kept until the page is closed: export it, then reload.',
  } satisfies Record<Trouble, string>,
  tabs: 'Two tabs keep runs and revisions together; the robot found at the next visit is that of the tab changed last.',
};
