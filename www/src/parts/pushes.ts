// Kick and bump in numbers: what a drag aims, for those who press.

import { FRONT, SIDE, type Plane } from '../core/types';
import type { Actions } from '../actions';
import { el, say } from '../dom';
import type { Push } from '../store';
import { words } from '../words/page';

interface Field {
  readonly label: string;
  readonly unit: () => string;
  /** In the unit shown. */
  readonly read: (plane: Plane) => number;
  readonly most: () => number;
  readonly least: () => number;
  readonly write: (plane: Plane, value: number) => void;
}

const replaced = <T>(pair: readonly [T, T], plane: Plane, value: T): [T, T] =>
  plane === SIDE ? [value, pair[FRONT]] : [pair[SIDE], value];

export function makePushes(actions: Actions): HTMLElement {
  const { store } = actions;
  const kick = (plane: Plane, part: Partial<Push>): void => {
    const { kick: both } = store.state;
    store.set({ kick: replaced(both, plane, { ...both[plane], ...part }) });
  };
  // As hard as a hand can drag, and twice that.
  const hardest = (usual: readonly [number, number]): number => 10 * Math.max(usual[SIDE], usual[FRONT]);
  const inch = (): boolean => store.state.units === 'inch';
  /** Shown lengths in a metre. */
  const perMetre = (): number => (inch() ? 1 / 0.0254 : 1000);
  const fields: readonly Field[] = [
    {
      label: words.pushes.kick,
      unit: () => 'N·s',
      read: (plane) => store.state.kick[plane].impulse,
      most: () => hardest(store.state.robot.kick),
      least: () => -hardest(store.state.robot.kick),
      write: (plane, impulse) => {
        kick(plane, { impulse });
      },
    },
    {
      label: words.pushes.height,
      unit: () => (inch() ? 'in' : 'mm'),
      read: (plane) => store.state.kick[plane].height * perMetre(),
      most: () => store.state.robot.radius * 2 * perMetre(),
      least: () => 0,
      write: (plane, height) => {
        kick(plane, { height: height / perMetre() });
      },
    },
    {
      label: words.pushes.bump,
      unit: () => 'N·s',
      read: (plane) => store.state.bump[plane],
      most: () => hardest(store.state.robot.bump),
      least: () => -hardest(store.state.robot.bump),
      write: (plane, impulse) => {
        store.set({ bump: replaced(store.state.bump, plane, impulse) });
      },
    },
  ];
  const element = el('details', { class: 'pushes' }, el('summary', {}, words.pushes.title));
  for (const field of fields) element.append(makeField(actions, field));
  return element;
}

function makeField(actions: Actions, field: Field): HTMLElement {
  const { store } = actions;
  const input = el('input', { type: 'number', step: 'any', class: 'number' });
  const unit = el('span', {});
  const wrong = el('p', { class: 'wrong', role: 'alert' });
  const show = (): void => {
    if (document.activeElement !== input) input.value = String(Number(field.read(store.state.active).toPrecision(4)));
    say(unit, field.unit());
    input.min = String(field.least());
    input.max = String(field.most());
  };
  input.addEventListener('change', () => {
    const value = input.valueAsNumber;
    const fits = Number.isFinite(value) && value >= field.least() && value <= field.most();
    say(wrong, fits ? '' : words.pushes.range(field.least(), field.most(), field.unit()));
    if (fits) field.write(store.state.active, value);
  });
  input.addEventListener('blur', () => {
    say(wrong, '');
    show();
  });
  store.watch(['kick', 'bump', 'active', 'robot', 'units'], show);
  return el('label', { class: 'knob' }, el('span', { class: 'label' }, field.label), input, unit, wrong);
}
