// A lesson being played: one step in sight, the simulation looked at until what the step asks for
// is true. Every step is told to those who do not see it.

import type { Actions } from '../../actions';
import type { BudgetOut, RunOut } from '../../core/lab.types';
import { SIDE } from '../../core/types';
import { button, el, say } from '../../dom';
import type { Seen } from '../../loop';
import { words } from '../../words/lessons';
import { Running } from '../trials/bench';
import type { Do, Lesson, Predict, See, Step } from './format';
import { Guesses, predictForm } from './guesses';
import { LessonKnobs, makePresses, standUp } from './hands';
import { isDown, runOfJob, Scene, type Kept } from './scene';

/** Between two looks at the simulation [ms]. */
const PERIOD = 200;
/** Where everything lies in one column and the page scrolls. */
const NARROW = '(max-width: 1099px)';
/** A step that takes so long gets its hint [ms]. */
const PATIENCE = 25_000;

export interface PlayerEvents {
  /** The last step is reached: all checks have passed. */
  readonly done: () => void;
  readonly finish: () => void;
  readonly leave: () => void;
  readonly again: () => void;
}

export class Player {
  readonly element: HTMLElement;
  readonly #live = el('p', { class: 'unseen', 'aria-live': 'polite' });
  readonly #where = el('span', { class: 'note' });
  readonly #progress: HTMLProgressElement;
  readonly #step = el('div', { class: 'step' });
  readonly #scene: Scene;
  readonly #guesses: Guesses;
  #at = -1;
  #looked = -Infinity;
  #since = 0;
  #status: HTMLElement | undefined;
  #help: HTMLElement | undefined;
  #running: Running | undefined;
  #knobs: LessonKnobs | undefined;
  /** When the lever is to be let go, in the simulation's time [s]. */
  #driveUntil: number | undefined;
  #now = 0;
  #over = false;
  /** The scene begins with the first look at the board after a step has begun. */
  #fresh = true;

  constructor(
    private readonly actions: Actions,
    private readonly lesson: Lesson,
    private readonly events: PlayerEvents,
  ) {
    this.#scene = new Scene(actions);
    this.#guesses = new Guesses(actions, this.#scene);
    this.#progress = el('progress', { max: lesson.steps.length, value: 0, 'aria-hidden': 'true' });
    this.element = el(
      'section',
      { class: 'lesson', 'data-lesson': lesson.key, 'aria-label': lesson.title },
      el(
        'header',
        { class: 'lessonhead' },
        el('h2', {}, lesson.title),
        this.#where,
        this.#progress,
      ),
      this.#step,
      el(
        'div',
        { class: 'rowof lessonfoot' },
        button(words.again, { class: 'link' }, events.again),
        button(words.leave, { class: 'link' }, events.leave),
      ),
      this.#live,
    );
  }

  begin(): void {
    this.#go(0, true);
    // On a page that scrolls the board sticks to the top, and the step lies right under it.
    requestAnimationFrame(() => {
      if (!this.#over && window.matchMedia(NARROW).matches) document.querySelector('.board')?.scrollIntoView({ block: 'start', behavior: 'auto' });
    });
  }

  /** Nothing of the lesson goes on. */
  end(): void {
    this.#over = true;
    this.#running?.cancel();
    if (this.#driveUntil !== undefined) this.actions.lever(SIDE, 0);
    this.#driveUntil = undefined;
  }

  look(seen: Seen, now: number): void {
    if (this.#over) return;
    this.#now = now;
    if (now - this.#looked < PERIOD) return;
    this.#looked = now;
    const step = this.lesson.steps[this.#at];
    const doing = step?.kind === 'do';
    this.#scene.look(seen, doing && !this.#fresh);
    if (this.#fresh) {
      this.#fresh = false;
      this.#since = now;
      this.#scene.begin();
      return;
    }
    if (this.#driveUntil !== undefined && this.#scene.time >= this.#driveUntil) {
      this.#driveUntil = undefined;
      this.actions.lever(SIDE, 0);
    }
    if (doing) this.#check(step);
  }

  #check(step: Do): void {
    if (this.#running?.busy === true) return;
    const job = step.trial !== undefined || step.budget !== undefined;
    const run = this.#scene.run;
    if (step.until === undefined ? false : this.#scene.holds(step.until)) {
      if (!job && step.keep !== undefined && run !== undefined) this.#scene.kept.set(step.keep, run);
      this.#go(this.#at + 1, false);
      return;
    }
    if (job) return;
    const tried = run !== undefined && run.over && run.seconds > 1;
    if (this.#status !== undefined) {
      say(
        this.#status,
        run === undefined ? words.waiting : !run.pure ? words.turned : run.over ? (isDown(run.outcomeClass) ? words.fellAgain : words.notYet)(run.outcome) : words.going(run.seconds.toFixed(0)),
      );
    }
    if (this.#help !== undefined && (tried || this.#now - this.#since > PATIENCE)) this.#help.hidden = false;
  }

  #go(to: number, pressed: boolean): void {
    const step = this.lesson.steps[to];
    if (step === undefined) {
      this.events.finish();
      return;
    }
    // A key pressed on the page at large leaves the focus nowhere: it too goes on to the next step.
    const inside = this.#step.contains(document.activeElement) || document.activeElement === document.body;
    this.#at = to;
    this.#fresh = true;
    this.#looked = -Infinity;
    this.#status = undefined;
    this.#help = undefined;
    this.#running?.cancel();
    this.#running = undefined;
    this.#knobs?.away();
    this.#knobs = undefined;
    const of = this.lesson.steps.length;
    say(this.#where, words.step(to + 1, of));
    this.#progress.value = to + 1;
    const heading = el('h3', { tabindex: -1 }, words.kinds[step.kind]);
    this.#step.dataset['kind'] = step.kind;
    const [content, spoken] = this.#make(step, to === of - 1);
    this.#step.replaceChildren(heading, ...content);
    if (pressed || inside) heading.focus({ preventScroll: true });
    const text = [pressed ? '' : words.doneStep, `${words.kinds[step.kind]}, ${words.step(to + 1, of)}.`, ...spoken].filter((part) => part !== '').join(' ');
    // The same words twice must be heard twice.
    say(this.#live, this.#live.textContent === text ? `${text} ` : text);
    this.#inSight();
    if (step.kind === 'do') standUp(this.actions);
    // A hand that is quicker than the next frame counts too.
    if (this.#scene.beginNow()) {
      this.#fresh = false;
      this.#since = this.#now;
    }
    if (to === of - 1) this.events.done();
  }

  /** A step begins at its top, whatever was scrolled to in the one before. */
  #inSight(): void {
    const scroller = this.element.closest('.place');
    if (scroller === null) return;
    scroller.scrollTop = 0;
    const board = document.querySelector('.board')?.getBoundingClientRect().bottom ?? 0;
    if (!window.matchMedia(NARROW).matches || this.element.getBoundingClientRect().top >= board) return;
    scroller.scrollIntoView({ block: 'start', behavior: 'auto' });
  }

  /** A step's elements, and what is said of it. */
  #make(step: Step, last: boolean): [readonly Node[], readonly string[]] {
    switch (step.kind) {
      case 'say': {
        const text = this.#scene.fill(step.text);
        return [[prose(text), this.#goOn(last)], [text]];
      }
      case 'predict':
        return this.#predict(step);
      case 'do':
        return this.#do(step);
      case 'see':
        return this.#see(step, last);
    }
  }

  #goOn(last: boolean): HTMLElement {
    const go = button(last ? words.finish : words.go, { class: 'act go' }, () => {
      this.#go(this.#at + 1, true);
    });
    return el('div', { class: 'rowof' }, go);
  }

  #predict(step: Predict): [readonly Node[], readonly string[]] {
    const ask = this.#scene.fill(step.ask);
    const form = predictForm(step, this.#scene, this.actions, (guess) => {
      this.#guesses.take(step, guess);
      this.#go(this.#at + 1, true);
    });
    return [[form.element], [ask, ...form.spoken]];
  }

  #do(step: Do): [readonly Node[], readonly string[]] {
    const text = this.#scene.fill(step.text);
    const nodes: Node[] = [prose(text)];
    const row = makePresses(step.press ?? [], this.actions, () => {
      this.actions.lever(SIDE, 1);
      this.#driveUntil = this.#scene.time + 4;
    });
    const { trial, budget } = step;
    if (trial !== undefined || budget !== undefined) {
      const run = button(trial === undefined ? words.search : words.run, { class: 'act', 'data-press': 'run' }, () => {
        void this.#job(step);
      });
      this.#running = new Running(this.actions, [run]);
      this.#running.ready();
      row.append(run);
      nodes.push(row, this.#running.element);
    } else {
      nodes.push(row);
    }
    if ((step.knobs ?? []).length > 0) {
      this.#knobs = new LessonKnobs(step.knobs ?? [], this.actions);
      nodes.push(this.#knobs.element);
    }
    if (trial === undefined && budget === undefined) {
      this.#status = el('p', { class: 'note watch' }, words.waiting);
      nodes.push(this.#status);
    }
    if (step.help !== undefined) {
      this.#help = el('p', { class: 'hint', role: 'status', hidden: true }, `${words.help} ${this.#scene.fill(step.help)}`);
      nodes.push(this.#help);
    }
    return [nodes, [text]];
  }

  /** Runs the step's trial or search in the worker and looks at what it answers. */
  async #job(step: Do): Promise<void> {
    const at = this.#at;
    const { board, store } = this.actions;
    const robot = { robot: board.robotFile(), opened: board.openedFile(), inches: store.state.units === 'inch' };
    const running = this.#running;
    if (running === undefined) return;
    let kept: Kept | undefined;
    if (step.trial !== undefined) {
      const out: RunOut | undefined = await running.run('run', { ...robot, ...step.trial, columns: [] }, words.running(step.trial.trial));
      if (out !== undefined) kept = this.#scene.job = runOfJob(out);
    } else if (step.budget !== undefined) {
      const out: BudgetOut | undefined = await running.run('budget', { ...robot, ...step.budget }, words.search);
      if (out !== undefined) kept = { value: out.value ?? NaN, text: out.text };
    }
    if (kept === undefined || this.#over || at !== this.#at) return;
    if (step.keep !== undefined) this.#scene.kept.set(step.keep, kept);
    if (step.until === undefined || this.#scene.holds(step.until)) this.#go(at + 1, false);
    else {
      // What is turned now was not so in the run.
      this.#scene.job = undefined;
      if (this.#help !== undefined) this.#help.hidden = false;
    }
  }

  #see(step: See, last: boolean): [readonly Node[], readonly string[]] {
    const verdicts = (step.guesses ?? []).map((name) => this.#guesses.verdict(name));
    const text = this.#scene.fill(step.text);
    const nodes: Node[] = verdicts.map(({ text: line, right }) => el('p', { class: right ? 'verdictof right' : 'verdictof' }, line));
    nodes.push(prose(text));
    const rows: string[] = [];
    if (step.table !== undefined) {
      const [table, spoken] = this.#table(step.table);
      nodes.push(table);
      rows.push(...spoken);
    }
    nodes.push(this.#goOn(last));
    return [nodes, [...verdicts.map((one) => one.text), text, ...rows]];
  }

  #table(table: NonNullable<See['table']>): [HTMLElement, readonly string[]] {
    const runs = table.runs.map(({ of, called }) => [this.#scene.fill(called), this.#scene.kept.get(of)] as const);
    const first = runs.find(([, kept]) => kept !== undefined && 'measures' in kept)?.[1];
    const label = (key: string): string =>
      key === 'outcome' ? words.outcome : first !== undefined && 'measures' in first ? (first.measures.get(key)?.label ?? key) : key;
    const value = (kept: Kept | undefined, key: string): string =>
      kept === undefined || !('measures' in kept) ? '–' : key === 'outcome' ? kept.outcome : (kept.measures.get(key)?.text ?? '–');
    const head = el('tr', {}, el('th', { scope: 'col' }, words.runHead), ...table.measures.map((key) => el('th', { scope: 'col' }, label(key))));
    const body = runs.map(([called, kept]) =>
      el('tr', {}, el('th', { scope: 'row' }, called), ...table.measures.map((key) => el('td', {}, value(kept, key)))),
    );
    const spoken = runs.map(([called, kept]) => `${called}: ${table.measures.map((key) => `${label(key)} ${value(kept, key)}`).join(', ')}.`);
    const element = el(
      'div',
      { class: 'wide', role: 'group', 'aria-label': words.table },
      el('table', {}, el('thead', {}, head), el('tbody', {}, ...body)),
    );
    return [element, spoken];
  }
}

const prose = (text: string): HTMLElement => el('p', { class: 'prose' }, text);
