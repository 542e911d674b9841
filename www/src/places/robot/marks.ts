// Every value of the plant with where it comes from.

import type { MarkWord } from '../../core/lab.types';
import { refused, type Board, type KnobInfo, type Refused } from '../../core/types';
import type { Actions } from '../../actions';
import { el, say } from '../../dom';
import { explain } from '../../helps';
import { words as page } from '../../words/page';
import { words } from '../../words/robot';

/** Sections of the robot that say how it is built, not how it is driven. */
const PLANT: ReadonlySet<string> = new Set([
  'shell', 'carriage', 'head', 'head_joint', 'castors', 'hold', 'travel_drive', 'lean_drive',
  'battery', 'pack', 'fuse', 'wiring', 'regulator', 'floor',
]);
const MARKS = Object.keys(words.marks.words) as MarkWord[];
const said = (mark: string): string => words.marks.words[mark as MarkWord] ?? words.marks.none;

interface Row {
  readonly info: KnobInfo;
  readonly element: HTMLElement;
  readonly value: HTMLElement;
  readonly pick: HTMLSelectElement;
}

function picker(label: string, first: string): HTMLSelectElement {
  const pick = el('select', { class: 'markof', 'aria-label': label }, el('option', { value: '' }, first));
  for (const word of MARKS) pick.append(el('option', { value: word }, words.marks.words[word]));
  return pick;
}

export function makeMarks(actions: Actions): HTMLElement {
  const { list } = words;
  const find = el('input', { type: 'search', class: 'find', placeholder: list.find, 'aria-label': list.find });
  const filter = el('select', { 'aria-label': list.filter }, el('option', { value: 'all' }, list.all));
  for (const word of MARKS) filter.append(el('option', { value: word }, words.marks.words[word]));
  filter.append(el('option', { value: '' }, words.marks.none));
  const count = el('p', { class: 'note' });
  const none = el('p', { class: 'note', hidden: true }, list.none);
  const wrong = el('p', { class: 'wrong', role: 'alert' });
  const groups = el('div', { class: 'groups' });
  const sections: { readonly element: HTMLDetailsElement; readonly rows: readonly Row[] }[] = [];

  const mark = (keys: readonly string[], word: string, label: string): void => {
    const each = (board: Board): Refused | undefined => {
      for (const key of keys) {
        const answer = board.setMark(key, word);
        if (refused(answer)) return answer;
      }
      return undefined;
    };
    const because = list.because(label, said(word));
    const answer = actions.change(because, each);
    say(wrong, refused(answer) ? answer.problems.map(({ expected }) => expected).join('; ') : '');
    if (!refused(answer)) actions.tell(`${because}.`);
  };

  const build = (): void => {
    const byGroup = new Map<string, KnobInfo[]>();
    for (const info of actions.knobs.values()) {
      if (PLANT.has(info.group)) byGroup.set(info.group, [...(byGroup.get(info.group) ?? []), info]);
    }
    for (const [name, infos] of byGroup) {
      const title = list.groups[name] ?? page.knobs.groups[name] ?? name;
      const rows = infos.map((info): Row => {
        const pick = picker(words.marks.of(info.label), words.marks.none);
        pick.addEventListener('change', () => {
          mark([info.key], pick.value, info.label);
        });
        const name = el('span', { class: 'name' }, info.label);
        explain(info.key, name);
        const value = el('span', { class: 'value' });
        const element = el('div', { class: 'markrow', 'data-key': info.key }, name, value, pick);
        return { info, element, value, pick };
      });
      const whole = picker(list.group(title), list.groupPick);
      whole.addEventListener('change', () => {
        const keys = rows.filter(({ element }) => !element.hidden).map(({ info }) => info.key);
        if (whole.value !== '') mark(keys, whole.value, title);
        whole.value = '';
      });
      const element = el('details', {}, el('summary', {}, title), whole, ...rows.map((row) => row.element));
      element.open = sections.length < 3;
      sections.push({ element, rows });
      groups.append(element);
    }
  };

  const narrow = (): void => {
    const wanted = find.value.trim().toLowerCase();
    const narrowed = wanted !== '' || filter.value !== 'all';
    let hits = 0;
    for (const { element, rows } of sections) {
      let here = 0;
      for (const row of rows) {
        const text = `${row.info.label} ${row.info.key} ${row.info.symbol}`.toLowerCase();
        const hit = text.includes(wanted) && (filter.value === 'all' || row.pick.value === filter.value);
        row.element.hidden = !hit;
        if (hit) here += 1;
      }
      element.hidden = here === 0;
      if (narrowed && here > 0) element.open = true;
      hits += here;
    }
    none.hidden = hits > 0;
  };
  find.addEventListener('input', narrow);
  filter.addEventListener('change', narrow);

  actions.store.watch(['knobs', 'robot', 'units'], () => {
    if (sections.length === 0) build();
    const all = new Map<string, number>();
    for (const { rows } of sections) {
      for (const { info, value, pick } of rows) {
        const now = actions.value(info.key);
        say(value, now?.text ?? '');
        pick.value = now?.mark ?? '';
        all.set(pick.value, (all.get(pick.value) ?? 0) + 1);
      }
    }
    say(count, [...MARKS, ''].map((word) => `${said(word)} ${all.get(word) ?? 0}`).join(', '));
  });
  return el(
    'section',
    { class: 'marksof', 'aria-label': list.title },
    el('h2', {}, list.title),
    el('p', { class: 'note' }, list.about),
    el('div', { class: 'rowof' }, find, filter, count),
    wrong,
    none,
    groups,
  );
}
