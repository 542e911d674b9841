// What the guesses do: variants in the worker, their ranges, and what to measure next.

import type { SpreadNext, SpreadOut, SpreadTrial } from '../../core/lab.types';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { words } from '../../words/robot';
import { JobLine, onBoard } from './job';
import { rangeBar } from './ranges';
import { table } from './table';

export function makeSpread(actions: Actions): HTMLElement {
  const { spread } = words;
  const job = new JobLine(spread.progress);
  const stale = el('p', { class: 'note', role: 'status' });
  const results = el('div', { class: 'spreadof' });
  /** Robot file that the results are of. */
  let of = '';

  const run = async (): Promise<void> => {
    const ask = onBoard(actions);
    const out = await job.run('spread', ask);
    if (out === undefined) return;
    of = ask.robot;
    say(stale, '');
    results.replaceChildren(...show(out));
    const [next] = out.next;
    job.say(spread.done(next?.label ?? ''));
    actions.tell(spread.done(next?.label ?? ''));
  };
  const none = el(
    'div',
    { class: 'nomarks' },
    el('p', {}, spread.none),
    button(spread.markAll, { class: 'act' }, () => {
      actions.change(spread.markedAll, (board) => {
        for (const key of actions.knobs.keys()) {
          if (actions.value(key)?.mark === '') {
            const answer = board.setMark(key, 'guessed');
            if (answer !== undefined) return answer;
          }
        }
        return undefined;
      });
      void run();
    }),
  );
  const start = button(spread.run, { class: 'act' }, () => void run());
  actions.store.watch(['knobs', 'robot', 'units'], () => {
    const marked = [...actions.knobs.keys()].some((key) => (actions.value(key)?.mark ?? '') !== '');
    none.hidden = marked;
    start.hidden = !marked;
    if (of !== '' && of !== actions.board.robotFile()) say(stale, words.job.stale);
    else say(stale, '');
  });
  return el(
    'section',
    { 'aria-label': spread.title },
    el('h2', {}, spread.title),
    el('p', { class: 'note' }, spread.first),
    none,
    start,
    job.element,
    stale,
    results,
  );
}

function show(out: SpreadOut): HTMLElement[] {
  const { spread } = words;
  return [
    makeNext(out.next),
    ...out.trials.map(makeTrial),
    el('p', { class: 'note' }, spread.key),
    el('p', { class: 'note' }, `${spread.about(out.spreads)} ${spread.varied(out.varied)}.`),
  ];
}

function makeNext(next: readonly SpreadNext[]): HTMLElement {
  const { spread } = words;
  const [first, ...others] = next;
  if (first === undefined) return el('div', { class: 'next' }, el('h3', {}, spread.next), el('p', {}, spread.nextNone));
  const does = (one: SpreadNext): HTMLElement =>
    el(
      'ul',
      {},
      ...one.moves.map(({ title, label, low, high, turns, noise }) => {
        const more = [turns ? spread.turns : '', noise ? spread.noise : ''].filter((part) => part !== '').join(', ');
        return el('li', {}, `${title}: ${label} ${spread.does(low, high)}${more === '' ? '' : ` (${more})`}`);
      }),
    );
  const line = (one: SpreadNext): string => spread.nextLine(one.label, one.value, words.marks.words[one.mark], one.share);
  return el(
    'div',
    { class: 'next' },
    el('h3', {}, spread.next),
    el('p', {}, el('strong', {}, first.label), line(first).slice(first.label.length)),
    el('p', {}, el('em', {}, spread.how), ` ${first.how === '' ? first.help : first.how}`),
    does(first),
    others.length === 0
      ? undefined
      : el(
          'details',
          {},
          el('summary', {}, `${spread.others}: ${others.map(({ label }) => label).join(', ')}`),
          el('ol', {}, ...others.map((one) => el('li', {}, `${line(one)}. ${one.how === '' ? one.help : one.how}`, does(one)))),
        ),
  );
}

function makeTrial(trial: SpreadTrial): HTMLElement {
  const { spread } = words;
  const rows = trial.measures.map((range) => [
    range.none > 0 ? `${range.label} (${spread.lacking(range.none)})` : range.label,
    rangeBar(range),
    range.nominalText,
    ...(range.texts.length === 5 ? range.texts : ['', '', '', '', '']),
    range.limitText,
  ]);
  const told = [
    spread.holds(trial.holds, trial.of, trial.limit),
    spread.outcomes(trial.outcomes),
    trial.impossible > 0 ? spread.impossible(trial.impossible) : '',
  ];
  return el(
    'div',
    { class: 'trialof' },
    el('h3', {}, trial.title),
    el('p', { class: trial.holds < trial.of ? 'broken holds' : 'holds' }, told[0]),
    el('p', {}, told.slice(1).filter((part) => part !== '').join('; ')),
    table(spread.tableOf(trial.title), spread.columns, rows, 2),
  );
}
