// The parts ledger: the list, a part more, on and off; what each part does; grams left.

import type { LedgerOut } from '../../core/lab.types';
import { refused, type LedgerPart, type Problem } from '../../core/types';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { words } from '../../words/robot';
import { makeAddPart } from './addpart';
import { JobLine, onBoard } from './job';
import { table } from './table';

const told = (problems: readonly Problem[]): string =>
  problems.map(({ expected, hint }) => [`expected ${expected}`, hint].filter((part) => part !== '').join('; ')).join('. ');

export function makeLedger(actions: Actions): HTMLElement {
  const { ledger } = words;
  const list = el('div', { class: 'ledgerlist' });
  const wrong = el('p', { class: 'wrong', role: 'alert' });
  const job = new JobLine(ledger.progress);
  const stale = el('p', { class: 'note', role: 'status' });
  const found = el('div', { class: 'leftof' });
  const dip = el('input', { type: 'text', id: 'ledger-dip', class: 'short', autocomplete: 'off', value: '4°' });
  let out: LedgerOut | undefined;
  /** Robot file that `out` is of. */
  let of = '';
  let shown = '';

  const act = (why: string, change: () => ReturnType<Actions['change']>): boolean => {
    const answer = change();
    say(wrong, refused(answer) ? words.ledger.wrongSwitch(why, told(answer.problems)) : '');
    if (!refused(answer)) actions.tell(`${why}.`);
    return !refused(answer);
  };

  const row = (part: LedgerPart, index: number): (Node | string)[] => {
    const on = el('input', { type: 'checkbox', 'aria-label': ledger.on(part.name), 'data-part': index });
    on.checked = part.on;
    on.addEventListener('change', () => {
      const why = on.checked ? ledger.switchedOn(part.name) : ledger.switchedOff(part.name);
      if (!act(why, () => actions.change(why, (board) => board.switchPart(index, on.checked)))) on.checked = part.on;
    });
    const remove = button(ledger.remove, { class: 'link', 'aria-label': ledger.removeOf(part.name) }, () => {
      const why = ledger.removed(part.name);
      act(why, () => actions.change(why, (board) => board.removePart(index)));
    });
    const effect = out?.parts.find((one) => one.index === index);
    const effects =
      effect === undefined || of !== actions.board.robotFile()
        ? ledger.effects.map(() => ledger.nothing)
        : effect.refused === ''
          ? [effect.dip, effect.side, effect.front, effect.margin]
          : [el('span', { title: effect.refused }, ledger.nothing), ledger.nothing, ledger.nothing, ledger.nothing];
    const mark = words.marks.words[part.mark as keyof typeof words.marks.words] ?? words.marks.none;
    return [part.name, part.body, part.mass, part.height, mark, on, ...effects, remove];
  };

  const show = (): void => {
    const parts = actions.board.parts();
    const file = actions.board.robotFile();
    const now = JSON.stringify([parts, out === undefined ? '' : of === file, out]);
    say(stale, out !== undefined && of !== file ? words.job.stale : '');
    if (now === shown) return;
    shown = now;
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset['part'] : undefined;
    list.replaceChildren(
      parts.length === 0
        ? el('p', { class: 'note' }, ledger.empty)
        : table(ledger.table, [...ledger.columns, ...ledger.effects, ''], parts.map(row)),
    );
    if (focused !== undefined) list.querySelector<HTMLElement>(`[data-part="${focused}"]`)?.focus();
  };

  const reckon = async (): Promise<void> => {
    const ask = onBoard(actions);
    const answer = await job.run('ledger', { ...ask, dip: dip.value });
    if (answer === undefined) return;
    out = answer;
    of = ask.robot;
    const text =
      answer.left === undefined
        ? ledger.noHead(answer.dip)
        : answer.sign < 0
          ? ledger.over(answer.left.replace('−', ''), answer.dip)
          : ledger.answer(answer.left, answer.dip);
    const { now } = answer;
    found.replaceChildren(
      el('p', { class: answer.sign < 0 || answer.left === undefined ? 'broken' : 'answer' }, text),
      el('p', {}, ledger.now(now.dip, now.side, now.front, now.margin)),
      table(
        ledger.left,
        ledger.searches,
        answer.searches.map((search) => [
          search.title,
          search.limit === '' ? ledger.settles : ledger.dipLimit(search.limit),
          search.holds === '' ? ledger.nothing : search.holds,
          search.breaks === '' ? ledger.nothing : search.breaks,
          search.breaks === '' ? ledger.nothing : search.sharp ? ledger.sharp : ledger.ragged,
        ]),
      ),
      el('p', { class: 'note' }, `${ledger.found}; ${ledger.foundRuns(answer.runs)}.`),
    );
    show();
    actions.tell(text);
  };
  dip.addEventListener('keydown', (event) => {
    if (event.key === 'Enter') void reckon();
  });
  actions.store.watch(['knobs', 'robot', 'units'], show);
  return el(
    'section',
    { class: 'ledgerof', 'aria-label': ledger.title },
    el('h2', {}, ledger.title),
    el('p', { class: 'note' }, ledger.about),
    list,
    el('p', { class: 'note' }, ledger.effectsOf),
    wrong,
    makeAddPart(actions),
    el('h3', {}, ledger.left),
    el(
      'div',
      { class: 'rowof' },
      el('label', { for: 'ledger-dip' }, ledger.dip),
      dip,
      button(ledger.run, { class: 'act' }, () => void reckon()),
    ),
    job.element,
    stale,
    found,
  );
}
