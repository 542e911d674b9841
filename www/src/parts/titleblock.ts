// The title block: what the run since the last push has shown, in numbers and words, against
// the run before.

import { FRONT, type Plane, type Results } from '../core/types';
import type { Actions } from '../actions';
import { el, say } from '../dom';
import type { Loop } from '../loop';
import { said } from '../words/core';
import { words } from '../words/page';

/** The cells, in order; the head's is dip in the side view and sway in the front view. */
const CELLS = ['settling_time', 'swings', 'peak', 'head_dip', 'residual_wobble', 'drift', 'current_peak', 'stopping_distance'];
/** Between two readings of the results [ms]. */
const PERIOD = 250;

interface Cell {
  readonly label: HTMLElement;
  readonly value: HTMLElement;
  /** What the value alone says, such as of the fuse. */
  readonly note: HTMLElement;
  readonly double: HTMLElement;
  readonly was: HTMLElement;
}

export class TitleBlock {
  readonly element: HTMLElement;
  /** The outcome once more, for narrow sheets, where this block is far below the drawing. */
  readonly line = el('p', { class: 'outcome-line', 'aria-hidden': 'true' });
  readonly #cells = new Map<string, Cell>();
  readonly #outcome = el('p', { class: 'outcome' });
  readonly #outcomeDouble = el('p', { class: 'ofdouble' });
  readonly #outcomeWas = el('p', { class: 'was' });
  readonly #trial = el('p', { class: 'trial' });
  readonly #ended: ((results: Results, plane: Plane) => void)[] = [];
  #read = -Infinity;
  #told = '';

  constructor(
    private readonly actions: Actions,
    loop: Loop,
  ) {
    const list = el('dl', { class: 'cells' });
    for (const key of CELLS) {
      const label = el('dt', {}, words.results.labels[key] ?? key);
      const value = el('dd', { class: 'value' }, '–');
      const note = el('dd', { class: 'tells' });
      const double = el('dd', { class: 'ofdouble' });
      const was = el('dd', { class: 'was' });
      this.#cells.set(key, { label, value, note, double, was });
      list.append(el('div', { class: 'cell', 'data-measure': key }, label, value, note, double, was));
    }
    this.element = el(
      'section',
      { class: 'results', 'aria-label': words.results.title },
      el('div', { class: 'verdict' }, this.#outcome, this.#outcomeDouble, this.#outcomeWas, this.#trial),
      list,
    );
    loop.readLate((seen, now) => {
      if (now - this.#read < PERIOD) return;
      this.#read = now;
      const { active } = actions.store.state;
      const run = seen.frame[seen.layout.planes[active] + seen.layout.run.number] ?? 0;
      this.#show(actions.board.results(active), active, run);
      this.#showDouble(actions.board.doubleResults(active), active);
    });
  }

  /** Called once for each run, when its outcome stands. */
  onEnd(listener: (results: Results, plane: Plane) => void): void {
    this.#ended.push(listener);
  }

  /** The double's values beside the robot's: its letter says whose they are, not the colour alone. */
  #showDouble(results: Results | undefined, plane: Plane): void {
    const idle = results === undefined || results.trial === '';
    const verdict = results === undefined || idle ? '' : results.going ? words.results.going : results.outcome;
    say(this.#outcomeDouble, idle ? '' : words.double.value(verdict));
    for (const [key, cell] of this.#cells) {
      const sways = key === 'head_dip' && plane === FRONT;
      const measure = results?.measures.find((one) => one.key === (sways ? 'head_sway' : key));
      const open =
        results === undefined ||
        (results.going && measure?.known !== true) ||
        (key === 'stopping_distance' && results.trial !== 'stop');
      say(cell.double, idle || open || measure === undefined ? '' : words.double.value(measure.text));
    }
  }

  #show(results: Results, plane: Plane, run: number): void {
    const { level } = this.actions.store.state;
    const idle = results.trial === '';
    const verdict = results.going ? words.results.going : results.outcome;
    say(this.#outcome, idle ? words.results.none : verdict);
    const kind = idle ? 'none' : results.going ? 'going' : results.outcomeClass;
    this.#outcome.dataset['class'] = kind;
    say(this.line, idle ? words.results.none : verdict);
    this.line.dataset['class'] = kind;
    say(this.#outcomeWas, results.outcomeWas === '' ? '' : words.results.was(results.outcomeWas));
    const push = results.impulse === 0 ? '' : words.results.push(results.impulse);
    say(this.#trial, words.results.trial(said(results.trial), plane, level, push));
    for (const [key, cell] of this.#cells) {
      const sways = key === 'head_dip' && plane === FRONT;
      const measure = results.measures.find((one) => one.key === (sways ? 'head_sway' : key));
      say(cell.label, (sways ? words.results.sway : words.results.labels[key]) ?? key);
      // What only the end of the run can tell, or only a stop.
      const open = (results.going && measure?.known !== true) || (key === 'stopping_distance' && results.trial !== 'stop');
      say(cell.value, open ? '–' : (measure?.text ?? '–'));
      say(cell.note, open ? '' : (measure?.note ?? ''));
      cell.note.classList.toggle('past', measure?.past === true);
      cell.value.classList.toggle('inwords', !open && measure?.known === false);
      if (key === 'stopping_distance' && results.trial !== 'stop') {
        say(cell.was, '');
        continue;
      }
      const was = measure?.was ?? '';
      const mark = measure?.change === 1 ? '▲ ' : measure?.change === -1 ? '▼ ' : '';
      say(cell.was, was === '' ? '' : mark + words.results.was(was));
    }
    if (idle || results.going) return;
    const id = `${plane} ${run} ${results.outcomeClass}`;
    if (id === this.#told) return;
    this.#told = id;
    for (const listener of this.#ended) listener(results, plane);
  }
}
