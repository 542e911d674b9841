// The words around the handbook; its chapters are files of their own, www/handbook/en.

export const handbookWords = {
  opening: 'Opening the handbook …',
  failed: (reason: string) => `The handbook could not be loaded: ${reason}. Close it and open it again.`,
  unknown: (name: string) => (name === '' ? 'The link names no chapter.' : `There is no chapter “${name}”.`),
  contents: 'Chapters of the handbook',
  find: 'Find in the handbook',
  found: (count: number, listed: number) =>
    count === 0 ? 'Found nowhere.' : count === listed ? `Found in ${count} ${count === 1 ? 'section' : 'sections'}.` : `Found in ${count} sections; the first ${listed}:`,
  around: 'chapter before and after',
  previous: (title: string) => `← ${title}`,
  next: (title: string) => `${title} →`,
  printOne: 'print this chapter',
  printAll: 'print the handbook',
  knobs: {
    columns: ['knob', 'what it does', 'range and step', 'now', 'in the firmware'] as readonly string[],
    range: (least: string, greatest: string, step: string, logarithmic: boolean) => `${least} … ${greatest}, by ${step}${logarithmic ? ', logarithmic' : ''}`,
  },
};
