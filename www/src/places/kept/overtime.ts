// My robot over time: one measure of every kept run, oldest first. A point brings its robot back.

import uPlot from 'uplot';
import type { Actions } from '../../actions';
import { button, el, letGoAfterPointer } from '../../dom';
import type { Theme } from '../../theme';
import { words } from '../../words/kept';
import type { KeptRun } from './record';
import { row, table, when } from './table';

const FONT = '11px Verdana, "DejaVu Sans", sans-serif';
/** A press this near to a point takes it [px]. */
const REACH = 24;

export interface OverTime {
  readonly element: HTMLElement;
  readonly show: (runs: readonly KeptRun[]) => void;
}

export function makeOverTime(actions: Actions, theme: Theme): OverTime {
  const pick = letGoAfterPointer(el('select', { 'aria-label': words.time.measure }));
  const few = el('p', { class: 'note' }, words.time.few);
  const help = el('p', { class: 'note' }, words.time.help);
  const box = el('div', { class: 'timechart' });
  const list = el('div', {});
  let runs: readonly KeptRun[] = [];
  let plot: uPlot | undefined;

  const back = (run: KeptRun): void => {
    actions.revisions.putSetting({ opened: run.opened, now: run.now }, words.detail.opened(run.name));
  };
  const measureOf = (run: KeptRun) => run.measures.find(({ key }) => key === pick.value);
  const color = (name: string): string => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

  const draw = (): void => {
    plot?.destroy();
    plot = undefined;
    if (runs.length < 2 || box.clientWidth < 60) return;
    const values = runs.map((run) => measureOf(run)?.value ?? null);
    const known = values.filter((value): value is number => value !== null);
    const degrees = runs.some((run) => measureOf(run)?.unit === 'rad');
    const factor = degrees ? 180 / Math.PI : 1;
    const unit = degrees ? '°' : (runs.map((run) => measureOf(run)?.unit).find((one) => one !== undefined) ?? '');
    const top = 1.15 * factor * Math.max(...known, 1e-9);
    const low = Math.min(0, 1.15 * factor * Math.min(...known, 0));
    const axis: uPlot.Axis = {
      stroke: () => color('--muted'),
      grid: { stroke: () => color('--grid'), width: 1 },
      ticks: { show: false },
      font: FONT,
    };
    plot = new uPlot(
      {
        width: box.clientWidth,
        height: 170,
        legend: { show: false },
        cursor: { show: false },
        padding: [8, 16, 0, 0],
        scales: { x: { time: false, range: [0.5, runs.length + 0.5] }, y: { range: [low, top] } },
        axes: [
          {
            ...axis,
            size: 22,
            gap: 3,
            // Whole runs only.
            splits: () => runs.map((_, index) => index + 1).filter((at) => at % Math.ceil(runs.length / 12) === 0 || runs.length <= 12),
            values: (_plot, splits) => splits.map(String),
          },
          { ...axis, size: 58, gap: 3, values: (_plot, splits) => splits.map((value) => `${Number(value.toPrecision(3))} ${unit}`) },
        ],
        series: [
          {},
          {
            stroke: () => color('--with-software'),
            width: 1.5,
            points: { show: true, size: 9, fill: () => color('--paper') },
          },
        ],
        hooks: { draw: [crosses(values, color)] },
      },
      [runs.map((_, index) => index + 1), values.map((value) => (value === null ? null : value * factor))],
      box,
    );
    const made = plot;
    made.over.addEventListener('click', (event) => {
      const place = event.clientX - made.over.getBoundingClientRect().left;
      const index = Math.round(made.posToVal(place, 'x')) - 1;
      const run = runs[index];
      if (run !== undefined && Math.abs(made.valToPos(index + 1, 'x') - place) < REACH) back(run);
    });
  };

  const fill = (): void => {
    few.hidden = runs.length >= 2;
    help.hidden = box.hidden = runs.length < 2;
    box.setAttribute('role', 'img');
    box.setAttribute('aria-label', words.time.chart(pick.selectedOptions[0]?.textContent ?? ''));
    const rows = runs.map((run, index) =>
      row([
        `${index + 1} ${run.name}`,
        when(run.at),
        measureOf(run)?.text ?? '–',
        button(words.time.back, { class: 'link', 'aria-label': words.time.backTo(run.name) }, () => {
          back(run);
        }),
      ]),
    );
    list.replaceChildren(...(runs.length < 2 ? [] : [table(words.time.title, words.time.columns, rows)]));
    draw();
  };
  pick.addEventListener('change', fill);
  theme.onChange(() => {
    if (box.isConnected) draw();
  });
  let width = 0;
  new ResizeObserver(() => {
    if (box.clientWidth === width) return;
    width = box.clientWidth;
    draw();
  }).observe(box);

  return {
    element: el(
      'div',
      { class: 'overtime' },
      el('header', {}, el('h2', {}, words.time.title), el('label', {}, `${words.time.measure} `, pick)),
      few,
      box,
      help,
      list,
    ),
    show: (now) => {
      runs = [...now].sort((a, b) => a.at - b.at);
      const chosen = pick.value;
      const labels = new Map(runs.flatMap((run) => run.measures.map(({ key, label }) => [key, label] as const)));
      pick.replaceChildren(...[...labels].map(([key, label]) => el('option', { value: key }, label)));
      if (labels.has(chosen)) pick.value = chosen;
      pick.disabled = labels.size === 0;
      fill();
    },
  };
}

/** Marks at the foot for the runs that have no number. */
const crosses =
  (values: readonly (number | null)[], color: (name: string) => string) =>
  (plot: uPlot): void => {
    const { ctx: pen, bbox } = plot;
    const arm = 4 * devicePixelRatio;
    pen.save();
    pen.strokeStyle = color('--without-software');
    pen.lineWidth = 1.5 * devicePixelRatio;
    pen.beginPath();
    values.forEach((value, index) => {
      if (value !== null) return;
      const x = plot.valToPos(index + 1, 'x', true);
      const y = bbox.top + 2 * arm;
      pen.moveTo(x - arm, y - arm);
      pen.lineTo(x + arm, y + arm);
      pen.moveTo(x - arm, y + arm);
      pen.lineTo(x + arm, y - arm);
    });
    pen.stroke();
    pen.restore();
  };
