// What is said when the workers break.

export const words = {
  again: 'try again; if it happens again, load the page anew',
  nothingRun: 'nothing was run',
  noMap: 'no map was made',
  runner: 'the part of the program that runs trials',
  runEnds: 'a run that comes to its end',
  mapMaker: 'the part of the program that makes maps',
  mapEnds: 'a map that comes to its end',
  brokeOff: 'the worker broke off',
  unreadable: 'its message could not be read',
  notUnderstood: 'it said what is not understood',
};
