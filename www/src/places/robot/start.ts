// The guided start: the form, what can be told of the robot before it runs, the board, the check.

import { Lab } from '../../core/lab';
import type { StartOut } from '../../core/lab.types';
import { refused, STEADIED } from '../../core/types';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { words } from '../../words/robot';
import { Form } from './form';
import { JobLine, onBoard } from './job';
import { makeVerdict, verdictLine } from './verdict';

/** Pause after the last key before the form is read [ms]. */
const REST = 250;

export function makeStart(actions: Actions, seeGuesses: () => void): HTMLElement {
  const { start } = words;
  // Its own worker: typing must not wait for a hundred runs.
  const reader = new Lab();
  const summary = el('dl', { class: 'summaryof' });
  const marks = el('p', { class: 'note' });
  const state = el('p', { class: 'said', role: 'status' });
  const after = el('div', { class: 'after', hidden: true });
  const job = new JobLine(words.verdict.title);
  const verdict = el('div', {});
  let answer: StartOut | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let asked = 0;

  const read = async (): Promise<StartOut | undefined> => {
    clearTimeout(timer);
    const { typed } = form;
    asked += 1;
    const mine = asked;
    const ask = { name: typed.name, numbers: { ...typed.numbers }, marks: { ...typed.marks }, inches: actions.store.state.units === 'inch' };
    const found = await reader.run('start', ask);
    // Something was typed meanwhile: the later answer counts.
    if (mine !== asked) return answer;
    if (refused(found)) {
      say(state, `${start.broken} ${found.problems.map(({ expected }) => expected).join('; ')}`);
      return undefined;
    }
    answer = found as StartOut;
    form.show(answer);
    tell(answer);
    return answer;
  };
  // Where there is room the rows stay short: how a number is found is told beside them. Screen
  // readers have it at the number itself.
  const how = el('div', { class: 'how', 'aria-hidden': 'true' });
  const form = new Form(
    () => {
      clearTimeout(timer);
      timer = setTimeout(() => void read(), REST);
    },
    (label, help) => {
      how.replaceChildren(el('h3', {}, label), el('p', {}, help));
    },
  );

  const tell = (out: StartOut): void => {
    say(state, out.wrong.length === 0 ? start.right : start.wrong(out.wrong.length));
    state.classList.toggle('broken', out.wrong.length > 0);
    summary.replaceChildren(
      ...out.summary.flatMap(({ key, text }) => [el('dt', {}, start.summaries[key] ?? key), el('dd', {}, text)]),
    );
    say(marks, out.robot === undefined ? '' : start.marks(out.marks));
  };

  const put = async (): Promise<void> => {
    const out = await read();
    if (out === undefined) return;
    if (out.robot === undefined) {
      form.focusWrong();
      actions.tell(start.wrong(out.wrong.length));
      return;
    }
    actions.because = start.because;
    try {
      actions.openRobot(out.robot, out.name);
    } finally {
      actions.because = '';
    }
    if (actions.store.state.problems.some(({ severity }) => severity === 'error')) return;
    after.hidden = false;
    say(done, start.done(out.name));
    after.scrollIntoView({ block: 'center' });
    await check();
    after.scrollIntoView({ block: 'nearest' });
  };

  const check = async (): Promise<void> => {
    verdict.replaceChildren();
    const robot = onBoard(actions);
    const { name } = actions.store.state.robot;
    const catalogue = await job.run('trials', robot);
    if (catalogue === undefined) return;
    const set = await job.run('set', { ...robot, limits: catalogue.usualLimits });
    if (set === undefined) return;
    verdict.replaceChildren(makeVerdict(name, set));
    const { text, reason, next } = verdictLine(name, set);
    actions.tell([text, reason, next === '' ? '' : `${words.verdict.change} ${next}`].filter((part) => part !== '').join(' '));
  };

  const done = el('p', {});
  after.append(
    done,
    el(
      'div',
      { class: 'rowof' },
      button(start.kick, { class: 'act' }, () => {
        actions.level(STEADIED);
        actions.kick(actions.store.state.active);
      }),
      button(start.check, { class: 'act' }, () => void check()),
      button(start.guesses, { class: 'link' }, seeGuesses),
    ),
    job.element,
    verdict,
  );
  actions.store.watch(['units'], () => void read());
  return el(
    'section',
    { class: 'startof', 'aria-label': start.title },
    el('h2', {}, start.title),
    after,
    el('p', { class: 'note' }, start.about),
    el(
      'div',
      { class: 'startcolumns' },
      form.element,
      el(
        'div',
        { class: 'startside' },
        el('h3', {}, start.summary),
        state,
        summary,
        marks,
        el(
          'div',
          { class: 'rowof' },
          button(start.put, { class: 'act put' }, () => void put()),
          button(start.empty, { class: 'link' }, () => {
            form.empty();
            actions.tell(start.filled);
          }),
        ),
        how,
      ),
    ),
  );
}
