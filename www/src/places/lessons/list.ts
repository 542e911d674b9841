// The list of lessons: in their order, which are done, which comes next; and opening one's own.

import type { Problem } from '../../core/types';
import { button, el, say } from '../../dom';
import { download } from '../kept/table';
import { words } from '../../words/lessons';
import type { Lesson } from './format';
import { isDone } from './progress';

/** Largest file that is read [bytes]. */
const MOST = 500_000;

export interface ListEvents {
  readonly begin: (lesson: Lesson) => void;
  readonly open: (text: string, name: string) => Promise<{ readonly said: string; readonly problems: readonly Problem[] }>;
  readonly takeAway: (lesson: Lesson) => void;
}


export function makeList(lessons: readonly Lesson[], own: ReadonlySet<string>, events: ListEvents): HTMLElement {
  const next = lessons.find(({ key }) => !isDone(key));
  const list = el('ol', { class: 'lessonlist', 'aria-label': words.list });
  for (const lesson of lessons) {
    const { key, title, about, minutes } = lesson;
    const begin = button(title, { class: 'link title', 'aria-label': words.begin(title) }, () => {
      events.begin(lesson);
    });
    const marks = [isDone(key) ? words.done : lesson === next ? words.next : '', own.has(key) ? words.own : ''].filter((mark) => mark !== '');
    const item = el(
      'li',
      { 'data-lesson': key, 'data-done': String(isDone(key)) },
      el('div', { class: 'rowof' }, begin, el('span', { class: 'note' }, [words.minutes(minutes), ...marks].join(' · '))),
      el('p', { class: 'note' }, about),
      el(
        'div',
        { class: 'rowof small' },
        el('a', { class: 'link', href: `#lesson=${key}`, title: words.linkTitle(title), 'aria-label': words.linkTitle(title) }, words.link),
        button(words.save, { class: 'link', 'aria-label': words.saveTitle(title) }, () => {
          download(new Blob([`${JSON.stringify(lesson, undefined, 2)}\n`], { type: 'application/json' }), `${key}.lesson.json`);
        }),
        own.has(key)
          ? button(words.takeAway, { class: 'link', 'aria-label': words.takeAwayTitle(title) }, () => {
              events.takeAway(lesson);
            })
          : undefined,
      ),
    );
    list.append(item);
  }
  const status = el('p', { class: 'note', role: 'status' });
  const problems = el('ul', { class: 'refusal', hidden: true });
  const file = el('input', { type: 'file', accept: '.json,application/json', hidden: true, 'data-open': 'lesson' });
  file.addEventListener('change', () => {
    const chosen = file.files?.[0];
    file.value = '';
    if (chosen === undefined) return;
    const show = (told: { readonly said: string; readonly problems: readonly Problem[] }): void => {
      // A file that was taken makes the list anew: that one says it.
      if (told.problems.length === 0 && !status.isConnected) {
        const fresh = document.querySelector('.lessons .opens [role=status]');
        if (fresh !== null) say(fresh, told.said);
        return;
      }
      say(status, told.said);
      problems.hidden = told.problems.length === 0;
      problems.replaceChildren(
        ...told.problems
          .slice(0, 40)
          .map(({ path, value, expected, hint, kept, line, column }) => el('li', {}, words.problem(path, value, expected, hint, kept, line, column))),
      );
    };
    if (chosen.size > MOST) {
      show({ said: words.unreadable(chosen.name), problems: [] });
      return;
    }
    chosen
      .text()
      .then((text) => events.open(text, chosen.name))
      .then(show)
      .catch(() => {
        show({ said: words.unreadable(chosen.name), problems: [] });
      });
  });
  const done = lessons.filter(({ key }) => isDone(key)).length;
  return el(
    'div',
    {},
    el('p', { class: 'note' }, words.about),
    el('p', { class: 'note count' }, words.doneCount(done, lessons.length)),
    list,
    el(
      'div',
      { class: 'opens' },
      el(
        'div',
        { class: 'rowof' },
        button(words.open, { class: 'act' }, () => {
          file.click();
        }),
        file,
        el('span', { class: 'note' }, words.openNote),
      ),
      status,
      problems,
    ),
  );
}
