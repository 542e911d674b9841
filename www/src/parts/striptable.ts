// The table behind a strip: the same traces as figures, at even times, to be read or copied.

import { button, el, say } from '../dom';
import { words } from '../words/page';
import { valueAt, type Kind, type Trace, type Who } from './stripview';

/** Steps of time that read well [s]; the table takes the first that needs no more rows than this. */
const STEPS = [0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5];
const ROWS = 60;
/** Units as a column's name can hold them. */
const PLAIN: Readonly<Record<string, string>> = { '°': 'deg' };
const WHO: readonly Who[] = ['a', 'b', 'was'];

interface Row {
  readonly time: number;
  readonly values: readonly (number | undefined)[];
}

function rowsOf(traces: readonly Trace[], from: number, to: number): readonly Row[] {
  const step = STEPS.find((one) => (to - from) / one < ROWS) ?? (to - from) / ROWS;
  const count = Math.floor((to - from) / step + 1e-9) + 1;
  return Array.from({ length: count }, (_, index) => {
    const time = from + index * step;
    return { time, values: traces.map((trace) => valueAt(trace, time)) };
  });
}

export function openTable(kind: Kind, given: readonly Trace[], from: number, to: number): void {
  const traces = WHO.flatMap((who) => given.filter((trace) => trace.who === who && trace.times.length > 0));
  // What the board still holds, from the run's beginning if it does.
  const first = Math.max(0, Math.min(from, ...traces.map((trace) => trace.times[0] ?? 0)));
  const rows = rowsOf(traces, first, Math.max(to, first));
  const text = (value: number | undefined): string => (value === undefined ? '–' : words.strip.number(value, kind.digits));
  const head = [words.strip.time, ...traces.map(({ who }) => words.strip.whose[who])];
  const body = el('tbody');
  for (const { time, values } of rows) {
    const cells = values.map((value) => el('td', {}, text(value)));
    body.append(el('tr', {}, el('th', { scope: 'row' }, time.toFixed(2)), ...cells));
  }
  const caption = words.strip.caption(kind.label, kind.unit);
  const table = el(
    'table',
    {},
    el('caption', {}, caption),
    el('thead', {}, el('tr', {}, ...head.map((one) => el('th', { scope: 'col' }, one)))),
    body,
  );
  const said = el('p', { class: 'said', role: 'status' });
  const csv = (): string =>
    [
      [`${words.strip.time}_s`, ...traces.map(({ who }) => `${kind.name}_${who}_${PLAIN[kind.unit] ?? kind.unit}`)].map((name) => name.replaceAll(' ', '_')),
      ...rows.map(({ time, values }) => [time.toFixed(3), ...values.map((value) => value?.toPrecision(6) ?? '')]),
    ]
      .map((line) => line.join(','))
      .join('\n');
  const dialog = el(
    'dialog',
    { class: 'striptable', 'aria-label': caption },
    el(
      'div',
      { class: 'rowof' },
      button(words.strip.copy, { class: 'act' }, () => {
        navigator.clipboard.writeText(csv()).then(
          () => {
            say(said, words.strip.copied);
          },
          () => {
            say(said, words.strip.notCopied);
          },
        );
      }),
      button(words.strip.close, { class: 'act' }, () => {
        dialog.close();
      }),
      said,
    ),
    el('div', { class: 'wide', tabindex: 0, role: 'region', 'aria-label': caption }, table),
  );
  const back = document.activeElement;
  dialog.addEventListener('close', () => {
    dialog.remove();
    if (back instanceof HTMLElement) back.focus();
  });
  document.body.append(dialog);
  dialog.showModal();
}
