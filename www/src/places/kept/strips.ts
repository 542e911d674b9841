// Strips of a kept run, each with a table of its values.

import { el } from '../../dom';
import { Plot } from '../../parts/plot';
import type { Theme } from '../../theme';
import { words } from './kept.words';
import type { KeptRun, KeptStrip } from './record';
import { row, table } from './table';

/** Rows of a table of values. */
const ROWS = 40;
const NONE = { times: [], values: [], color: '', width: 1, dash: [] };

export function makeStrips(run: KeptRun, theme: Theme): HTMLElement {
  const element = el('div', { class: 'keptstrips' });
  // What never left zero tells nothing, and the ball's turning seen from the side is its way.
  const strips = Object.entries(run.strips)
    .filter(([column, { values }]) => values.some((value) => value !== 0) && !(column === 'roll' && run.view === 'side'))
    .map(([, strip]) => strip);
  if (strips.length === 0) return el('p', { class: 'note' }, words.detail.noStrip);
  for (const strip of strips) element.append(makeStrip(strip, theme));
  return element;
}

function makeStrip(strip: KeptStrip, theme: Theme): HTMLElement {
  const { shown: unit, scale } = strip;
  const values = strip.values.map((value) => value * scale);
  const most = Math.max(...values.map(Math.abs));
  const half = nice(most);
  const box = el('div', { class: 'chart', role: 'img', 'aria-label': words.detail.strip(strip.label, unit) });
  const plot = new Plot(
    box,
    (value) => String(Number(value.toPrecision(3))),
    () => {
      draw();
    },
  );
  const draw = (): void => {
    plot.draw({
      from: strip.times[0] ?? 0,
      to: strip.times.at(-1) ?? 1,
      half,
      curves: [{ times: strip.times, values, color: plot.color('--with-software'), width: 1.6, dash: [] }, NONE],
      cursor: undefined,
    });
  };
  theme.onChange(() => {
    if (!box.isConnected) return;
    plot.forgetColors();
    draw();
  });
  const step = Math.max(1, Math.ceil(values.length / ROWS));
  const fold = el('details', {}, el('summary', {}, words.detail.values));
  fold.addEventListener('toggle', () => {
    if (!fold.open || fold.children.length > 1) return;
    const rows = values.flatMap((value, index) =>
      index % step === 0 ? [row([`${(strip.times[index] ?? 0).toFixed(2)} s`, `${Number(value.toPrecision(4))} ${unit}`])] : [],
    );
    fold.append(table(`${strip.label}, ${words.detail.values}`, ['s', unit], rows));
  });
  return el('figure', { class: 'keptstrip' }, el('figcaption', {}, `${strip.label} [${unit}]`), box, fold);
}

/** The next of 1, 2, 5, 10 … that holds it. */
function nice(most: number): number {
  if (!(most > 0)) return 1;
  const ten = 10 ** Math.floor(Math.log10(most));
  return ([1, 2, 5, 10].find((step) => step * ten >= most) ?? 10) * ten;
}
