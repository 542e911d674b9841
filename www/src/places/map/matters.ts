// What matters most here: a measure of any trial against every knob, a step each way. Bars to the left
// and right of the measure as it stands, with the numbers beside them; a change of the outcome is a word.

import '../trials.css';
import './matters.css';
import { refused } from '../../core/types';
import type { MattersOut, MattersRow, MattersSide } from '../../core/lab.matters';
import type { LabCatalogue, SoftwareWord, ViewWord } from '../../core/lab.types';
import { button, el, say } from '../../dom';
import { Knob } from '../../parts/knob';
import type { Place, PlaceContext } from '../place';
import { said } from '../../words/core';
import { trialWords } from '../../words/trials';
import { Bench } from '../trials/bench';
import { Choice } from '../trials/fields';
import { mattersWords as words } from '../../words/matters';
import { Rested } from './rested';

/** What is looked at first: a measure that every knob moves a little, not by jumps. */
const FIRST = { trial: 'stop', view: 'side', measure: 'head_dip' } as const;
const SOFTWARE: SoftwareWord = 'on';
/** Rows that are shown at first. */
const SHOWN = 12;

type Way = 'down' | 'up';

export function makeMatters(context: PlaceContext): Place {
  const part = new MattersPart(context);
  return {
    element: part.element,
    opened: () => {
      part.opened();
    },
    closed: () => {
      part.closed();
    },
  };
}

class MattersPart {
  readonly element: HTMLElement;
  readonly #bench: Bench;
  readonly #trial: Choice;
  readonly #view: Choice;
  readonly #measure: Choice;
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #rested: Rested<'matters'>;
  readonly #stands = el('p', { class: 'stands' });
  readonly #stale = el('p', { class: 'stale', hidden: true }, words.stale);
  readonly #remark = el('p', { class: 'note remark', hidden: true });
  readonly #box = el('div', { class: 'mattersbox' });
  readonly #key = el('p', { class: 'matterskey note', hidden: true });
  readonly #more: HTMLButtonElement;
  readonly #silentCount = el('summary', {});
  readonly #silentList = el('div', { class: 'note' });
  readonly #silent = el('details', { class: 'rest', hidden: true }, this.#silentCount, this.#silentList);
  readonly #rule = el('p', { class: 'note rest' });
  #catalogue: LabCatalogue | undefined;
  #out: MattersOut | undefined;
  #all = false;
  /** The knob whose row is open, and its part. */
  #openKey = '';
  #knob: Knob | undefined;

  constructor(private readonly context: PlaceContext) {
    const { actions } = context;
    this.#bench = new Bench(actions, ([first]) => {
      say(this.#status, first === undefined ? '' : `${trialWords.wrong} ${trialWords.expected(first.expected, first.hint)}`);
    });
    const chosen = (): void => {
      this.#offer();
      this.#rested.soon(0);
    };
    this.#trial = new Choice(trialWords.trial, chosen);
    this.#view = new Choice(trialWords.view, chosen);
    this.#measure = new Choice(words.measure, chosen);
    this.#rested = new Rested('matters', words.what, {
      ask: () => {
        if (this.#catalogue === undefined) return undefined;
        return {
          ...this.#bench.robot(),
          trial: { trial: this.#trial.value, view: this.#view.value as ViewWord, software: SOFTWARE },
          measure: this.#measure.value,
        };
      },
      show: (out) => {
        this.#show(out);
        const [first] = out.rows.filter(({ noise }) => noise !== true);
        actions.tell(words.told(out.measure.label, first?.label ?? '', first?.effectText ?? ''));
      },
      stale: (stale) => {
        this.#stale.hidden = !stale || this.#out === undefined;
      },
      cancelled: () => {
        actions.tell(trialWords.cancelled);
      },
    });
    this.#more = button('', { class: 'link', hidden: true }, () => {
      this.#all = !this.#all;
      this.#draw();
    });
    this.#key.append(
      el('span', {}, el('i', { class: 'bar down', 'aria-hidden': 'true' }), ` ${words.key.down}`),
      el('span', {}, el('i', { class: 'bar up', 'aria-hidden': 'true' }), ` ${words.key.up}`),
      el('span', {}, el('i', { class: 'bar noise', 'aria-hidden': 'true' }), ` ${words.key.noise}`),
    );
    this.element = el(
      'div',
      { class: 'trials matters' },
      el('p', { class: 'note about' }, words.about),
      el('div', { class: 'fields' }, this.#trial.element, this.#view.element, this.#measure.element),
      this.#status,
      el('div', { class: 'headline' }, this.#stands, this.#rested.element),
      this.#stale,
      this.#remark,
      this.#key,
      this.#box,
      this.#more,
      this.#silent,
      this.#rule,
    );
    this.#rested.watch(this.element);
    this.#bench.onCatalogue((catalogue) => {
      this.#catalogue = catalogue;
      this.#offer();
      this.#rested.soon(this.#out === undefined ? 0 : undefined);
    });
    this.#bench.onChange(() => {
      this.#rested.soon();
    });
    actions.store.watch(['knobs', 'robot', 'units'], () => {
      this.#knob?.refresh();
    });
  }

  opened(): void {
    this.#bench.opened();
    this.#rested.opened();
  }

  closed(): void {
    this.#bench.closed();
    this.#rested.closed();
  }

  #offer(): void {
    const catalogue = this.#catalogue;
    if (catalogue === undefined) return;
    this.#trial.offer(catalogue.trials.map(({ key }) => [key, said(key)]), this.#trial.value || FIRST.trial);
    const trial = catalogue.trials.find(({ key }) => key === this.#trial.value);
    if (trial === undefined) return;
    this.#view.offer(trial.views.map(({ view }) => [view, trialWords.views[view]]), this.#view.value || FIRST.view);
    const measures = trial.views.find(({ view }) => view === this.#view.value)?.measures ?? [];
    this.#measure.offer(measures.map(({ key, label }) => [key, label]), this.#measure.value || FIRST.measure);
  }

  #show(out: MattersOut): void {
    this.#out = out;
    say(this.#stands, words.stands(out.measure.label, out.text, out.outcome));
    say(this.#remark, out.remark ?? '');
    this.#remark.hidden = (out.remark ?? '') === '';
    const noise = out.rows.filter((row) => row.noise === true).map(({ label }) => label);
    const idle = out.idle ?? [];
    const silent = [words.onlyNoise(noise), words.idle(idle)].filter((text) => text !== '');
    this.#silent.hidden = silent.length === 0;
    say(this.#silentCount, words.silent(noise.length, idle.length));
    this.#silentList.replaceChildren(...silent.map((text) => el('p', {}, text)));
    say(this.#rule, `${out.step} ${words.runs(out.runs ?? 0)}`);
    this.#draw();
  }

  #draw(): void {
    const out = this.#out;
    if (out === undefined) return;
    const focused = document.activeElement;
    const id = focused instanceof HTMLElement && this.#box.contains(focused) ? focused.dataset['id'] : undefined;
    const rows = out.rows.filter(({ noise }) => noise !== true);
    const open = rows.findIndex(({ key }) => key === this.#openKey);
    const count = this.#all ? rows.length : Math.max(SHOWN, open + 1);
    const most = Math.max(...rows.flatMap(({ down, up }) => [down, up]).map((side) => (side?.turns === true ? 0 : Math.abs(side?.change ?? 0))), 0);
    if (open < 0) this.#close();
    this.#key.hidden = rows.length === 0;
    this.#more.hidden = rows.length <= SHOWN;
    say(this.#more, this.#all ? words.fewer : words.more(rows.length - count));
    if (!this.#all && count >= rows.length) this.#more.hidden = true;
    if (rows.length === 0) {
      this.#box.replaceChildren(el('p', {}, words.none));
      return;
    }
    const { knob, now, down, bars, up, try: better } = words.columns;
    const head = el('tr', { role: 'row' }, ...[knob, now, down, bars(out.measure.label), up, better].map((text) => el('th', { scope: 'col', role: 'columnheader' }, text)));
    const body = el('tbody', { role: 'rowgroup' });
    for (const row of rows.slice(0, count)) {
      body.append(this.#row(row, most));
      if (row.key === this.#openKey) body.append(this.#opened(row));
    }
    this.#box.replaceChildren(
      el('table', { class: 'matterstable', role: 'table', 'aria-label': words.caption(out.measure.label) }, el('thead', { role: 'rowgroup' }, head), body),
    );
    if (id !== undefined) this.#box.querySelector<HTMLElement>(`[data-id="${CSS.escape(id)}"]`)?.focus({ preventScroll: true });
  }

  #row(row: MattersRow, most: number): HTMLElement {
    const cell = (kind: string, ...children: (Node | string)[]): HTMLElement => el('td', { role: 'cell', class: kind }, ...children);
    const open = row.key === this.#openKey;
    const name = button(row.label, { class: 'link', 'data-id': `open ${row.key}`, 'aria-expanded': String(open), title: words.open(row.label) }, () => {
      this.#toggle(row.key);
    });
    const side = row.better === undefined ? undefined : row[row.better];
    return el(
      'tr',
      { role: 'row', class: open ? 'open' : undefined },
      el('th', { scope: 'row', role: 'rowheader' }, name),
      cell('now', row.now),
      cell('stepdown', ...sideText(row.down)),
      cell('bars', el('span', { class: 'barbox', 'aria-hidden': 'true' }, bar(row.down, 'down', most), bar(row.up, 'up', most))),
      cell('stepup', ...sideText(row.up)),
      cell('trial', ...(side === undefined ? [] : [this.#try(row, side, words.try(side.text), `try ${row.key}`)])),
    );
  }

  #try(row: MattersRow, side: MattersSide, text: string, id: string): HTMLButtonElement {
    return button(text, { class: 'act', 'data-id': id, 'aria-label': `${text}, ${words.tryTo(row.label, side.text)}` }, () => {
      this.#put(row, side);
    });
  }

  /** The knob itself under its row, with both steps as presses. */
  #opened(row: MattersRow): HTMLElement {
    const { actions } = this.context;
    this.#knob ??= new Knob(row.key, actions);
    const ways: Way[] = ['down', 'up'];
    const presses = ways.flatMap((way) => {
      const side = row[way];
      return side === undefined ? [] : [this.#try(row, side, words.put(way, side.text), `${way} ${row.key}`)];
    });
    return el(
      'tr',
      { role: 'row', class: 'opened' },
      el('td', { role: 'cell', colspan: 6 }, el('div', { class: 'openedknob' }, this.#knob.element, el('div', { class: 'rowof' }, ...presses))),
    );
  }

  #toggle(key: string): void {
    const again = key === this.#openKey;
    this.#close();
    if (!again) this.#openKey = key;
    this.#draw();
  }

  #close(): void {
    this.#openKey = '';
    this.#knob = undefined;
  }

  #put(row: MattersRow, side: MattersSide): void {
    const { actions } = this.context;
    actions.revisions.history.close();
    actions.because = words.because(this.#out?.measure.label ?? '');
    const answer = actions.setKnob(row.key, side.value);
    actions.because = '';
    actions.revisions.history.close();
    if (refused(answer)) actions.notice(words.refused(row.label, answer.problems[0]?.expected ?? ''));
    else actions.notice(words.set(row.label, side.text));
  }
}

/** What a side gave: its number and the change, or the outcome as a word. */
function sideText(side: MattersSide | undefined): (Node | string)[] {
  if (side === undefined) return [el('span', { class: 'none' }, words.noSide)];
  const value = el('span', { class: 'at' }, side.text);
  if (side.turns === true) return [value, ' ', el('b', { class: side.settled ? 'turned good' : 'turned' }, side.settled && side.measure !== undefined ? `${side.outcome}, ${side.measureText}` : side.outcome)];
  const change = side.changeText ?? '';
  const told: (Node | string)[] = [value, ' ', el('span', { class: 'found' }, side.measureText)];
  if (change !== '') told.push(' ', el('span', { class: 'change' }, side.noise === true && side.change !== 0 ? words.noise : change));
  return told;
}

/** A bar from the middle to the side to which the measure goes. */
function bar(side: MattersSide | undefined, way: Way, most: number): HTMLElement {
  if (side === undefined) return el('i', { class: 'track' });
  if (side.turns === true) return el('i', { class: 'track word' }, side.outcome);
  const change = side.change ?? 0;
  const share = most > 0 ? Math.min(Math.abs(change) / most, 1) : 0;
  const classes = ['bar', way, change < 0 ? 'less' : 'more', ...(side.noise === true ? ['noise'] : [])];
  const drawn = el('i', { class: classes.join(' ') });
  drawn.style.setProperty('--share', share.toFixed(4));
  return el('i', { class: 'track' }, drawn);
}
