// The place of power: a run's current looked at by the core, and what fuse, wire, driver, windings,
// regulators and battery say to it. A change of the robot marks the report stale and runs it anew.

import './trials.css';
import './power.css';
import { lab } from '../core/lab';
import type { KnobChange, PowerAsk, PowerOut } from '../core/lab.power';
import { SOFTWARE_WORDS, VIEW_WORDS, type LabCatalogue, type SoftwareWord, type ViewWord } from '../core/lab.types';
import { setAll } from '../core/setall';
import type { Problem } from '../core/types';
import { button, el, say } from '../dom';
import type { Place, PlaceContext } from './place';
import { said } from '../words/core';
import { powerWords as words } from '../words/power';
import { advice } from './power/advice';
import { Band } from './power/band';
import { Programme } from './power/programme';
import { axleTable, cautions, cellsTable, groups, reportTable } from './power/tables';
import { WattsPart } from './power/watts';
import { trialWords } from '../words/trials';
import { Bench, Running } from './trials/bench';
import { Choice, Field, Fields } from './trials/fields';

/** Rest after the last change before it is run anew [ms]. */
const REST = 400;
/** Trial that is looked at first: the hardest on the supply that has no fault in it. */
const FIRST = 'reverse';
const COMMON = ['seconds', 'band'];
/** Longest stretch of the board's run that is looked at [s]; one that has not been pushed shows this much. */
const LONGEST_LIVE = 60;
const UNPUSHED = 20;

/** The main fuse's verdict of a report in words, for whoever has room for one line. */
export const fuseVerdict = (out: PowerOut): string => out.rows.find(({ key }) => key === 'fuse')?.text ?? '';

export function make(context: PlaceContext): Place {
  const place = new Power(context);
  return {
    element: place.element,
    opened: () => {
      place.opened();
    },
    closed: () => {
      place.closed();
    },
  };
}

class Power {
  readonly element: HTMLElement;
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #bench: Bench;
  readonly #source: Choice;
  readonly #trial: Choice;
  readonly #view: Choice;
  readonly #software: Choice;
  readonly #fields = new Fields();
  readonly #common = new Fields();
  readonly #more: HTMLElement;
  readonly #about = el('p', { class: 'note' });
  readonly #running: Running;
  readonly #run: HTMLButtonElement;
  readonly #verdict = el('p', { class: 'outcome', tabindex: -1 });
  readonly #of = el('p', { class: 'note' });
  readonly #stale = el('p', { class: 'stale', role: 'status', hidden: true }, words.stale);
  readonly #band = new Band();
  readonly #fuse = el('div', {});
  readonly #advice = el('div', {});
  readonly #watts = new WattsPart();
  readonly #groups = el('div', { class: 'groups' });
  readonly #programme: Programme;
  readonly #axle = el('div', {});
  readonly #swing = new Field('swing', words.axle.swing);
  readonly #speed = new Field('speed_held', words.axle.speed);
  readonly #cells = el('div', {});
  readonly #cautions = el('div', {});
  readonly #report: HTMLElement;
  #catalogue: LabCatalogue | undefined;
  #open = false;
  /** A change has come that the report does not know. */
  #wanted = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #said = '';

  constructor(private readonly context: PlaceContext) {
    const { actions } = context;
    const failed = (problems: readonly Problem[]): void => {
      const [first] = problems;
      say(this.#status, first === undefined ? '' : `${trialWords.wrong} ${trialWords.expected(first.expected, first.hint)}`);
    };
    say(this.#status, trialWords.opening);
    this.#bench = new Bench(actions, failed);
    const chosen = (): void => {
      this.#offer();
      this.#soon(0);
    };
    this.#source = new Choice(words.source, chosen);
    this.#source.offer([
      ['trial', words.sources.trial],
      ['live', words.sources.live],
    ]);
    this.#trial = new Choice(trialWords.trial, chosen);
    this.#view = new Choice(trialWords.view, chosen);
    this.#software = new Choice(trialWords.software, chosen);
    this.#run = button(words.run, { class: 'act', 'data-act': 'power' }, () => {
      this.#soon(0);
    });
    this.#running = new Running(actions, []);
    this.#programme = new Programme(() => {
      this.#soon(REST);
    });
    this.#more = el('details', {}, el('summary', {}, words.more), this.#common.element);
    const form = el(
      'form',
      { class: 'trialform' },
      el('div', { class: 'fields' }, this.#source.element, this.#trial.element, this.#view.element, this.#software.element),
      this.#about,
      this.#fields.element,
      this.#more,
      el('div', { class: 'rowof presses' }, this.#run, this.#running.element),
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
    });
    form.addEventListener('change', (event) => {
      if (event.target instanceof HTMLInputElement) this.#soon(0);
    });
    const axleFields = el('div', { class: 'fields' }, this.#swing.element, this.#speed.element);
    axleFields.addEventListener('change', () => {
      this.#soon(0);
    });
    this.#report = el(
      'div',
      { class: 'report', hidden: true },
      el(
        'section',
        { class: 'fusepart', 'aria-label': words.fuse },
        el('h2', {}, words.fuse),
        this.#verdict,
        this.#of,
        this.#stale,
        el('div', { class: 'fuseside' }, el('div', {}, this.#fuse), el('div', {}, el('h3', {}, words.band.title), this.#band.element)),
      ),
      el('section', { class: 'advicepart', 'aria-label': words.advice.title }, el('h2', {}, words.advice.title), this.#advice),
      this.#watts.element,
      el('section', { 'aria-label': words.parts }, el('h2', {}, words.parts), this.#groups),
      this.#programme.element,
      el('section', { class: 'axlepart', 'aria-label': words.axle.title }, el('h2', {}, words.axle.title), axleFields, this.#axle),
      el('section', { class: 'cellspart', 'aria-label': words.cells.title }, el('h2', {}, words.cells.title), el('p', { class: 'note' }, words.cells.about), this.#cells),
    );
    this.element = el(
      'div',
      { class: 'trials power twosided' },
      el('div', { class: 'asked' }, el('p', { class: 'note' }, words.about), form, this.#status),
      el(
        'div',
        {},
        this.#report,
        el('section', { 'aria-label': words.cautions.title }, el('h2', {}, words.cautions.title), el('p', { class: 'note' }, words.cautions.about), this.#cautions),
      ),
    );
    this.#bench.onCatalogue((catalogue) => {
      this.#catalogue = catalogue;
      say(this.#status, '');
      this.#offer();
      this.#soon(this.#report.hidden ? 0 : REST);
    });
    this.#bench.onChange(() => {
      this.#wanted = true;
      this.#stale.hidden = false;
    });
  }

  opened(): void {
    lab().warm();
    this.#open = true;
    this.#bench.opened();
    if (this.#wanted && this.#catalogue !== undefined) this.#soon(0);
  }

  closed(): void {
    this.#open = false;
    clearTimeout(this.#timer);
    this.#bench.closed();
    this.#running.cancel();
  }

  #offer(): void {
    const catalogue = this.#catalogue;
    if (catalogue === undefined) return;
    const live = this.#source.value === 'live';
    const { state } = this.context.actions.store;
    this.#trial.offer(catalogue.trials.map(({ key }) => [key, said(key)]), this.#trial.value || FIRST);
    const trial = catalogue.trials.find(({ key }) => key === this.#trial.value);
    if (trial === undefined) return;
    const views = live ? VIEW_WORDS : trial.views.map(({ view }) => view);
    this.#view.offer(views.map((view) => [view, trialWords.views[view]]), this.#view.value || (VIEW_WORDS[state.active] ?? 'side'));
    const level = this.#software.value || (state.level === 0 ? 'on' : (SOFTWARE_WORDS[state.level] ?? 'on'));
    this.#software.offer(catalogue.levels.map(({ key, word }) => [key, word]), level);
    const rows = trial.views.find(({ view }) => view === this.#view.value)?.numbers ?? [];
    this.#fields.show(rows.filter(({ key }) => !COMMON.includes(key)));
    this.#common.show(rows.filter(({ key }) => COMMON.includes(key)));
    for (const part of [this.#trial.element, this.#software.element, this.#fields.element, this.#more]) part.hidden = live;
    say(this.#about, live ? '' : `${trial.about}.`);
  }

  /** Runs when nothing more has changed for a while. */
  #soon(rest: number): void {
    this.#wanted = true;
    clearTimeout(this.#timer);
    if (this.#open) this.#timer = setTimeout(() => void this.#go(), rest);
  }

  #ask(): PowerAsk | undefined {
    const more = { programme: this.#programme.text, ...this.#held() };
    if (this.#source.value === 'trial') {
      return {
        ...this.#bench.robot(),
        trial: this.#trial.value,
        view: this.#view.value as ViewWord,
        software: this.#software.value as SoftwareWord,
        numbers: { ...this.#fields.typed(), ...this.#common.typed() },
        ...more,
      };
    }
    const { board } = this.context.actions;
    const plane = this.#view.value === 'front' ? 1 : 0;
    const record = board.record(plane);
    if (record.ticks === 0) return undefined;
    const { trial, seconds } = board.results(plane);
    const looked = Math.min(trial === '' ? UNPUSHED : Math.max(seconds, 1), LONGEST_LIVE, (record.ticks * record.tickUs) / 1e6);
    say(this.#about, words.liveNote(looked, record.complete));
    return {
      robot: record.robot,
      inches: this.#bench.inches,
      live: {
        view: plane === 1 ? 'front' : 'side',
        seed: record.seed,
        ticks: record.ticks,
        log: record.log,
        seconds: looked,
        title: words.liveTitle,
      },
      ...more,
    };
  }

  #held(): { readonly swing?: string; readonly speed_held?: string } {
    const [swing, speed] = [this.#swing.typed, this.#speed.typed];
    return { ...(swing === undefined ? {} : { swing }), ...(speed === undefined ? {} : { speed_held: speed }) };
  }

  async #go(): Promise<void> {
    // The latest wish counts: what runs now comes to its end first.
    if (this.#running.busy || this.#catalogue === undefined) return;
    this.#wanted = false;
    const ask = this.#ask();
    if (ask === undefined) {
      say(this.#about, words.noLive);
      return;
    }
    const before = document.activeElement;
    const out = await this.#running.run('power', ask, words.running);
    if (out !== undefined) this.#show(out, before);
    // What is shown is no longer what is asked for.
    else this.#stale.hidden = this.#report.hidden;
    if (this.#wanted && this.#open && out !== undefined) this.#soon(REST / 4);
  }

  #show(out: PowerOut, before: Element | null): void {
    const turn = (changes: readonly KnobChange[], because: string): void => {
      this.#turn(changes, because);
    };
    const id = before instanceof HTMLElement && this.element.contains(before) ? before.dataset['id'] : undefined;
    const verdict = out.rows.find(({ key }) => key === 'fuse');
    const text = fuseVerdict(out);
    this.#report.hidden = false;
    this.#stale.hidden = !this.#wanted;
    this.#verdict.dataset['stand'] = verdict?.verdict ?? '';
    this.#verdict.classList.toggle('broken', verdict?.verdict === 'past');
    say(this.#verdict, words.told(text));
    const title = out.outcome === '' ? out.title : `${out.title}: ${out.outcome}`;
    say(this.#of, `${words.fresh(out.robot, title)}. ${words.plane(out.onePlane)}`);
    this.#band.show(out.band, text);
    this.#fuse.replaceChildren(reportTable(out.rows.filter(({ group }) => group === 'fuse')));
    this.#advice.replaceChildren(...advice(out, turn));
    this.#watts.show(out);
    this.#groups.replaceChildren(...groups(out));
    this.#programme.show(out.programme);
    this.#swing.usual(out.axle.ownSwing, words.axle.own(out.axle.ownSwing));
    this.#speed.usual(out.axle.ownSpeed, words.axle.own(out.axle.ownSpeed));
    this.#axle.replaceChildren(axleTable(out));
    this.#cells.replaceChildren(cellsTable(out, turn));
    this.#cautions.replaceChildren(cautions(out));
    if (id !== undefined && !this.element.contains(document.activeElement)) {
      // The press that was used: itself, if it is still there, else what it led to.
      const again = this.element.querySelector<HTMLElement>(`[data-id="${CSS.escape(id)}"]`);
      (again ?? this.#verdict).focus({ preventScroll: again !== null });
    }
    if (text !== this.#said) this.context.actions.tell(words.told(text));
    this.#said = text;
  }

  /** Turns knobs, each a change that can be undone. */
  #turn(changes: readonly KnobChange[], because: string): void {
    const { actions } = this.context;
    actions.because = because;
    const other = changes.filter(({ key, to }) => actions.value(key)?.value !== to);
    const [stuck] = setAll(other, ({ key, to }) => actions.setKnob(key, to));
    actions.because = '';
    if (stuck === undefined) {
      actions.notice(words.advice.set(changes.map(({ label, toText }) => `${label} ${toText}`).join(words.advice.and)));
    } else {
      actions.notice(words.advice.refused(stuck.one.label, stuck.problems[0]?.expected ?? ''));
    }
  }
}
