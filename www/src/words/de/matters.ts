// “What matters most” in German. Labels, values, outcomes and the rule of the step come from the core.

import type { Spoken } from '../language';
import type { mattersWords as english } from '../en/matters';
import { plural } from '../numbers';

export const mattersWords: Spoken<typeof english> = {
  about:
    'Jeder Regler, der mitspielt, wird einen Schritt auf und ab gestellt und laufen gelassen; was den Messwert am meisten bewegt, steht vorn, und was den Ausgang ändert, ganz oben.',
  measure: 'Messwert',
  what: 'jeder Regler, ein Schritt auf und ab',
  stands: (measure: string, value: string, outcome: string) => `Wie er steht: ${measure} ${value}, ${outcome}.`,
  told: (measure: string, first: string, effect: string) =>
    first === '' ? `Kein Regler bewegt „${measure}“ durch einen Schritt.` : `„${measure}“ bewegt am meisten: ${first}, ${effect}.`,
  stale: 'Der Roboter hat sich geändert; die Tabelle ist vom Roboter davor.',
  none: 'Kein Regler bewegt es durch einen Schritt auf oder ab.',
  caption: (measure: string) => `was „${measure}“ bewegt`,
  columns: {
    knob: 'Regler',
    now: 'steht auf',
    down: 'einen Schritt ab',
    bars: (measure: string) => `${measure}: weniger ◂ ▸ mehr`,
    up: 'einen Schritt auf',
    try: 'besser',
  },
  noise: 'im Rauschen',
  noSide: 'kein Schritt',
  key: { down: 'Regler einen Schritt ab', up: 'Regler einen Schritt auf', noise: 'nicht mehr als Rauschen' },
  try: (value: string) => `${value} probieren`,
  tryTo: (knob: string, value: string) => `${knob} auf ${value} stellen`,
  put: (way: 'down' | 'up', value: string) => `${way === 'down' ? 'Schritt ab' : 'Schritt auf'}: ${value}`,
  because: (measure: string) => `für ${measure}`,
  set: (knob: string, value: string) => `${knob} ist jetzt ${value}. Rückgängig nimmt es zurück.`,
  refused: (knob: string, expected: string) => `${knob} bleibt, wie es ist: erwartet ${expected}`,
  open: (knob: string) => `den Regler ${knob} öffnen`,
  more: (count: number) => `${plural(count, 'weiteren Regler', 'weitere Regler')} zeigen`,
  fewer: 'nur die ersten zeigen',
  onlyNoise: (labels: readonly string[]) =>
    labels.length === 0 ? '' : `Im Rauschen der Sensoren, also von nichts nicht zu unterscheiden: ${labels.join(', ')}.`,
  idle: (labels: readonly string[]) =>
    labels.length === 0 ? '' : `Ohne Wirkung bei einem solchen Schritt: ${labels.join(', ')}.`,
  silent: (noise: number, idle: number) =>
    [
      noise > 0 ? `${plural(noise, 'Regler bewegt', 'Regler bewegen')} es nur im Rauschen der Sensoren` : '',
      idle > 0 ? `${plural(idle, 'tut', 'tun')} nichts dazu` : '',
    ]
      .filter((text) => text !== '')
      .join(', '),
  runs: (runs: number) => `${plural(runs, 'Lauf', 'Läufe')}.`,
};
