// Small charts of a run that is over, against the time since what set it going; the run it is
// compared with is faint behind it.

import type { StripData, Strips } from '../../core/lab.types';
import { button, el, say } from '../../dom';
import { Plot, type Curve } from '../../parts/plot';
import { openTable } from '../../parts/striptable';
import type { Theme } from '../../theme';
import { words as page } from '../../words/page';
import { trialWords as words } from '../../words/trials';

/** Halves of a scale that read well. */
const STEPS = [1, 2, 3, 5, 10];
const NO_CURVE = { times: [], values: [] };

function half(values: readonly ArrayLike<number>[]): number {
  let most = 0;
  for (const list of values) for (let i = 0; i < list.length; i++) most = Math.max(most, Math.abs(list[i] ?? 0));
  if (!(most > 0)) return 1;
  const size = 10 ** Math.floor(Math.log10(most));
  return (STEPS.find((step) => step * size >= most) ?? 10) * size;
}

interface Box {
  readonly figure: HTMLElement;
  readonly plot: Plot;
  readonly title: HTMLElement;
  readonly press: HTMLElement;
  draw: () => void;
  /** Shows the same as figures. */
  table: () => void;
}

export class Charts {
  readonly element = el('div', { class: 'charts' });
  readonly #boxes = new Map<string, Box>();

  /** `inks` are the page's colours of the run and of what is faint behind it. */
  constructor(
    theme: Theme,
    private readonly inks: { readonly now: string; readonly before: string } = { now: '--with-software', before: '--before' },
  ) {
    theme.onChange(() => {
      for (const box of this.#boxes.values()) {
        box.plot.forgetColors();
        box.draw();
      }
    });
  }

  show(keys: readonly string[], now: Strips, before: Strips | undefined): void {
    const boxes: HTMLElement[] = [];
    for (const key of keys) {
      const strip = now[key];
      if (strip === undefined) continue;
      const box = this.#box(key);
      boxes.push(box.figure);
      say(box.title, words.chart(strip.label, strip.shown));
      this.#draw(box, strip, before?.[key]);
    }
    this.element.replaceChildren(...boxes);
  }

  #box(key: string): Box {
    const known = this.#boxes.get(key);
    if (known !== undefined) return known;
    const title = el('span', { class: 'title' });
    const area = el('div', { class: 'plot', 'aria-hidden': 'true' });
    const table = button(page.strip.table, { class: 'link' }, () => {
      box.table();
    });
    const figure = el('figure', { class: 'strip' }, el('figcaption', {}, title, el('span', { class: 'links' }, table)), area);
    const plot = new Plot(area, (value) => String(Number(value.toPrecision(3))).replace('-', '−'), () => {
      box.draw();
    });
    const box: Box = { figure, plot, title, press: table, draw: () => undefined, table: () => undefined };
    this.#boxes.set(key, box);
    return box;
  }

  #draw(box: Box, strip: StripData, before: StripData | undefined): void {
    const shown = (data: StripData | undefined): { times: ArrayLike<number>; values: ArrayLike<number> } =>
      data === undefined ? NO_CURVE : { times: data.times, values: data.values.map((value) => value * data.scale) };
    const [a, b] = [shown(strip), shown(before)];
    const top = half([a.values, b.values]);
    const from = Math.min(0, strip.times[0] ?? 0);
    const to = Math.max(strip.times[strip.times.length - 1] ?? 1, from + 0.1);
    box.draw = (): void => {
      const faint: Curve = { ...b, color: box.plot.color(this.inks.before), width: 1.5, dash: [3, 3] };
      const ink: Curve = { ...a, color: box.plot.color(this.inks.now), width: 1.8, dash: [] };
      box.plot.draw({ from, to, half: top, curves: [faint, ink], cursor: undefined });
    };
    box.draw();
    const kind = { name: strip.label, label: strip.label, unit: strip.shown, digits: 2 };
    box.press.setAttribute('aria-label', page.strip.tableOf(strip.label));
    box.table = (): void => {
      openTable(kind, [{ who: 'a', ...a }, ...(before === undefined ? [] : [{ who: 'was' as const, ...b }])], from, to);
    };
  }
}
