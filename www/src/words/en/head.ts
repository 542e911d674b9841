// The words of the story of grams on the head. Values, outcomes and limits in words come from the core.

export const headWords = {
  about:
    'The same head with more on it: dip at a usual stop, settling after the usual kick (the longer of both views), and the least distance of any loop from its edge, until it fails.',
  what: 'the head, heavier and heavier',
  dip: 'greatest head dip taken',
  settling: 'longest settling taken',
  usual: (text: string) => `usual: ${text}`,
  stale: 'The robot has changed; the picture is of the robot before.',
  keys: 'Arrow keys move along the curves, Page keys by five, Home and End to the ends; Enter puts that mass on. A press on a point does so at once.',
  label: (told: string) => `Added mass on the head: ${told}`,
  describe: 'Three curves over added mass: head dip, settling time, least margin.',
  axis: (unit: string) => `added to the head, ${unit}`,
  stands: 'as it stands',
  panels: {
    dip: (unit: string) => `head dip at a stop, ${unit}`,
    settling: (unit: string) => `settling after a kick, ${unit}`,
    margin: 'least margin of any loop',
  },
  limit: (text: string) => `limit ${text}`,
  usualMargin: (text: string) => `usually at least ${text}`,
  fails: (outcome: string) => `fails: ${outcome}`,
  passed: (text: string) => `${text}`,
  edge: (text: string) => `edge ${text}`,
  readout: (added: string, dip: string, settling: string, margin: string, loop: string, outcome: string) =>
    `${added}: dip ${dip}, settling ${settling}, margin ${margin}${loop === '' ? '' : ` (${loop})`}, ${outcome}`,
  put: (added: string) => `put ${added} on`,
  putNothing: 'as it stands',
  because: (added: string) => `${added} on the head`,
  set: (mass: string) => `The head now weighs ${mass}. Undo takes it back.`,
  refused: (expected: string) => `The head stays as it is: expected ${expected}`,
  table: 'as a table',
  caption: 'dip, settling and margin against added mass',
  columns: ['added', 'head dip', 'settling', 'least margin', 'loop', 'outcome', ''] as const,
};
