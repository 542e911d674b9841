// The double: starting it, what it does in words, changing places with it, putting it away. One
// row under the sheet's head, there only when it is wanted.

import type { Actions } from '../actions';
import { FRONT, SIDE, type Plane } from '../core/types';
import { button, el, say } from '../dom';
import type { Loop, Seen } from '../loop';
import { words } from '../words/page';
import { pickRobotFile } from './robotfile';

/** Bit of the core's flags. */
const HEAD_LOST = 64;
/** Between two sentences [ms]. */
const PERIOD = 500;

/** Why the double of a plane moves no more, or has lost its head. */
function why({ frame, layout }: Seen, plane: Plane): string {
  const at = (place: number | undefined): number => frame[layout.doubles[plane] + (place ?? 0)] ?? 0;
  const end = at(layout.run.ended);
  if (end > 0) return words.ended.run[end - 1] ?? words.ended.other;
  return (at(layout.columns['flags']) & HEAD_LOST) !== 0 ? words.ended.headLost : '';
}

/** The row; `link` opens it. */
export function makeDouble(actions: Actions, loop: Loop, link: HTMLElement): HTMLElement {
  const { store } = actions;
  let open = false;
  const off = button(words.double.off, { class: 'link' }, () => {
    actions.doubleOff();
    close();
  });
  const before = button(words.double.before, { class: 'link' }, () => {
    actions.doubleBefore();
    close();
  });
  const file = button(words.double.file, { class: 'link' }, () => {
    pickRobotFile(actions, (text, name) => {
      if (actions.doubleOf({ opened: text, now: text }, words.double.fromFile(name), name)) close();
    });
  });
  const swap = button(words.double.swap, { class: 'link', title: words.double.swapTitle }, () => {
    actions.swapDouble();
  });
  const become = button(words.double.become, { class: 'link', title: words.double.becomeTitle }, () => {
    actions.becomeDouble();
    link.focus();
  });
  const away = button(words.double.away, { class: 'link' }, () => {
    actions.undouble();
    close();
    link.focus();
  });
  const letter = el('span', { class: 'letter', 'aria-hidden': 'true' }, 'B');
  const label = el('span', { class: 'label' });
  const state = el('span', { class: 'state' });
  const starts = el('span', { class: 'starts', role: 'group', 'aria-label': words.double.start }, el('span', { class: 'tag' }, words.double.start), off, before, file);
  const runs = el('span', { class: 'runs' }, letter, label, state, swap, become, away);
  const element = el('div', { class: 'double', id: 'double', role: 'group', 'aria-label': words.double.name, hidden: true }, runs, starts);

  link.setAttribute('aria-controls', element.id);
  const arrange = (): void => {
    const { double } = store.state;
    element.hidden = double === undefined && !open;
    runs.hidden = double === undefined;
    starts.hidden = double !== undefined && !open;
    link.setAttribute('aria-expanded', String(!starts.hidden && !element.hidden));
    say(label, double === undefined ? '' : words.double.label(double.label));
  };
  function close(): void {
    open = false;
    arrange();
  }
  link.addEventListener('click', () => {
    open = !open;
    before.disabled = actions.settingBefore === undefined;
    arrange();
  });
  store.watch(['double'], arrange);
  store.watch(['knobs', 'robot'], () => {
    before.disabled = actions.settingBefore === undefined;
  });

  let told = -Infinity;
  let ended = '';
  loop.readLate((seen, now) => {
    if (store.state.double === undefined) {
      actions.doubleEnded[SIDE] = false;
      actions.doubleEnded[FRONT] = false;
      ended = '';
      return;
    }
    if (now - told < PERIOD) return;
    told = now;
    const { shown, active } = store.state;
    const said: string[] = [];
    for (const plane of [SIDE, FRONT] as const) {
      const reason = why(seen, plane);
      actions.doubleEnded[plane] = reason !== '';
      const looked = shown === 'both' || plane === active;
      if (reason !== '' && looked) said.push(shown === 'both' ? words.ended.inView(plane, reason) : reason);
    }
    const text = said.join(' ');
    if (text !== ended) {
      ended = text;
      if (text !== '') actions.tell(words.double.news(text));
    }
    const { frame, layout } = seen;
    const travel = layout.columns['travel'] ?? 0;
    const apart = (frame[layout.doubles[active] + travel] ?? 0) - (frame[layout.planes[active] + travel] ?? 0);
    say(state, text === '' ? words.double.apart(apart, active, store.state.units === 'inch') : text);
  });
  return element;
}
