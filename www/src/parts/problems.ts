// What was refused, and why.

import type { Actions } from '../actions';
import type { Problem } from '../core/types';
import { button, el } from '../dom';
import { words } from '../words/page';

/** What was wrong with a file or a number, all of it, with place, expectation and what was kept. */
export function makeProblems(actions: Actions): HTMLElement {
  const SHOWN = 30;
  const element = el('section', { class: 'problems', role: 'alert', tabindex: -1 });
  const row = (problem: Problem): HTMLElement => {
    const place =
      problem.line === undefined
        ? problem.path
        : [problem.path, words.problems.at(problem.line, problem.column)].filter((text) => text !== '').join(', ');
    const list = el('dl', {});
    const add = (term: string, text: string): void => {
      if (text !== '') list.append(el('dt', {}, term), el('dd', {}, text));
    };
    add(words.problems.place, place);
    add(words.problems.given, problem.value);
    add(words.problems.expected, [problem.expected, problem.hint].filter((text) => text !== '').join('; '));
    add(words.problems.kept, problem.kept);
    return el('li', { class: problem.severity }, list);
  };
  actions.store.watch(['problems', 'problemsOf'], ({ problems, problemsOf }) => {
    element.hidden = problems.length === 0;
    element.replaceChildren();
    if (problems.length === 0) return;
    const errors = problems.filter((problem) => problem.severity === 'error').length;
    const list = el('ul', {});
    for (const problem of problems.slice(0, SHOWN)) list.append(row(problem));
    if (problems.length > SHOWN) list.append(el('li', {}, words.problems.more(problems.length - SHOWN)));
    element.append(
      el('h2', {}, words.problems.title(problemsOf, errors)),
      button(words.problems.close, { class: 'link' }, () => {
        actions.store.set({ problems: [] });
      }),
      list,
    );
  });
  return element;
}
