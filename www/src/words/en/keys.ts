// The list of all keys.

/** A key as it stands on the keyboard, and what it does. */
type Row = readonly [keys: string, text: string];

export const keyWords = {
  title: 'Keys',
  about:
    'Tab goes from one thing to the next, Enter and Space press. Letters, digits and signs act at once, unless something is being typed; they can be switched off.',
  switchedOff: 'Single keys are switched off now.',
  close: 'close',
  groups: [
    {
      title: 'robot',
      rows: [
        ['K', 'kick, as hard and as high as the last one'],
        ['B', 'bump the head'],
        ['S', 'software on or off'],
        ['← →', 'held: drive, or lean in the front view'],
        ['D', 'double: start it, put it away'],
        ['X', 'swap with the double'],
      ],
    },
    {
      title: 'time',
      rows: [
        ['P', 'pause, run on'],
        ['Space', 'the same, when nothing else has the focus'],
        ['.', 'one tick'],
        ['R', 'run again from rest'],
      ],
    },
    {
      title: 'what is shown',
      rows: [
        ['T', 'turn the robot'],
        ['V', 'both views, one view'],
        ['?', 'this list'],
        ['Esc', 'back: from a drag, a list, a motion shown by itself, a place under the board'],
      ],
    },
    {
      title: 'changes of the robot',
      rows: [
        ['Ctrl+Z', 'undo'],
        ['Ctrl+Shift+Z', 'redo'],
      ],
    },
    {
      title: 'knob',
      rows: [
        ['↑ ↓', 'a step up or down, on its number and its track'],
        ['← →', 'a step, on its track'],
        ['Page ↑ ↓', 'ten steps, on its track'],
        ['Home End', 'the ends of its track'],
        ['Delete', 'back to what it was, on its track'],
        ['Enter', 'takes the number typed, with or without its unit'],
        ['Esc', 'leaves the number as it was'],
      ],
    },
    {
      title: 'handles on the drawing',
      rows: [
        ['↑ ↓', 'slope of the floor; plumb-bob of the carriage'],
        ['Page ↑ ↓', 'ten steps of the plumb-bob'],
        ['Delete', 'levels the floor; puts the plumb-bob back'],
      ],
    },
    {
      title: 'strip',
      rows: [
        ['← →', 'look back and forth, 0.05 s a step'],
        ['Shift ← →', '0.5 s a step; so do the Page keys'],
        ['Home End', 'its beginning, its end'],
      ],
    },
    {
      title: 'map, and grams on the head',
      rows: [
        ['← → ↑ ↓', 'from cell to cell, from point to point'],
        ['Shift ← →', 'farther at once; so do the Page keys'],
        ['Home End', 'the ends'],
        ['Enter', 'becomes what is pointed at'],
        ['P', 'held: plays the cell'],
      ],
    },
    {
      title: 'root track',
      rows: [
        ['← →', 'its knob a step down or up'],
        ['Page ↑ ↓', 'ten steps'],
      ],
    },
  ] as readonly { readonly title: string; readonly rows: readonly Row[] }[],
};
