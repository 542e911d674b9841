// Advice on the fuse. First what lowers the demand, as the core tried it, each a press away; last a
// larger fuse, only in the core's own line that names what bears it, else the core's refusal.

import type { KnobChange, PowerOut } from '../../core/lab.power';
import { button, el } from '../../dom';
import { powerWords } from '../../words/power';

const words = powerWords.advice;

const told = (changes: readonly KnobChange[]): string =>
  changes.map(({ label, fromText, toText }) => words.change(label, fromText, toText)).join(words.and);

export function advice(out: PowerOut, turn: (changes: readonly KnobChange[], because: string) => void): HTMLElement[] {
  const { first, larger, fuse } = out.advice;
  if (first.length === 0) return [el('p', { class: 'note' }, words.fine)];
  const steps = el('ol', { class: 'advice' });
  first.forEach((one, index) => {
    const item = el('li', {}, el('span', { class: 'do' }, one.text));
    if (one.changes.length === 0) item.append(el('p', { class: 'note' }, words.none));
    else {
      const text = told(one.changes);
      item.append(
        el('p', { class: one.verdict === 'past' ? 'tried broken' : 'tried' }, `${text}: ${words.tried(one.fuse, one.peak, one.outcome)}`),
        button(words.turn, { class: 'act', 'aria-label': words.turnTo(text), 'data-id': `advice ${index}` }, () => {
          turn(one.changes, words.because(one.text));
        }),
      );
    }
    steps.append(item);
  });
  const last = el('p', { class: 'larger' }, `${words.larger}: ${larger}`);
  if (fuse !== undefined) {
    last.append(
      ' ',
      button(words.turn, { class: 'act', 'aria-label': words.turnTo(told([fuse])), 'data-id': 'advice fuse' }, () => {
        turn([fuse], words.because(larger));
      }),
    );
  }
  return [el('p', {}, words.first), steps, last];
}
