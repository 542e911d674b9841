// What the three parts of the place share: the robot on the board as a question, the catalogue
// of trials for it, and a job with its progress, its cancel press and its problems.

import type { Actions } from '../../actions';
import { GivenUp, lab } from '../../core/lab';
import type { AnswerOf, AskOf, JobName, LabCatalogue, RobotAsk } from '../../core/lab.types';
import { refused, type Problem } from '../../core/types';
import { button, el, say } from '../../dom';
import { trialWords as words } from '../../words/trials';

/** Pause after the last change of the robot before the catalogue is read anew [ms]. */
const REST = 150;

export class Bench {
  catalogue: LabCatalogue | undefined;
  readonly #listeners: ((catalogue: LabCatalogue) => void)[] = [];
  readonly #changes: (() => void)[] = [];
  #open = false;
  #stale = true;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    readonly actions: Actions,
    private readonly failed: (problems: readonly Problem[]) => void,
  ) {
    let first = true;
    actions.store.watch(['robot', 'knobs', 'units'], () => {
      if (first) {
        first = false;
        return;
      }
      this.#stale = true;
      for (const change of this.#changes) change();
      clearTimeout(this.#timer);
      if (this.#open) this.#timer = setTimeout(() => void this.#read(), REST);
    });
  }

  /** The robot as it stands on the board. */
  robot(): RobotAsk {
    const { board, store } = this.actions;
    return { robot: board.robotFile(), opened: board.openedFile(), inches: store.state.units === 'inch' };
  }

  get inches(): boolean {
    return this.actions.store.state.units === 'inch';
  }

  /** Calls now, if there is a catalogue, and whenever it was read anew. */
  onCatalogue(listener: (catalogue: LabCatalogue) => void): void {
    this.#listeners.push(listener);
    if (this.catalogue !== undefined) listener(this.catalogue);
  }

  /** Calls when the robot, its knobs or the units have changed. */
  onChange(listener: () => void): void {
    this.#changes.push(listener);
  }

  opened(): void {
    this.#open = true;
    if (this.#stale) void this.#read();
  }

  closed(): void {
    this.#open = false;
    clearTimeout(this.#timer);
  }

  async #read(): Promise<void> {
    this.#stale = false;
    const answer = await lab().run('trials', this.robot());
    if (refused(answer)) {
      this.#stale = true;
      this.failed(answer.problems);
      return;
    }
    this.catalogue = answer as LabCatalogue;
    this.failed([]);
    for (const listener of this.#listeners) listener(this.catalogue);
  }
}

/** A job's line: what runs, how far it is, a press to cancel it; below it what was wrong. */
export class Running {
  readonly element: HTMLElement;
  readonly #line = el('p', { class: 'rowof running' });
  readonly #text = el('span', {});
  readonly #bar = el('progress', { max: 1, value: 0 });
  readonly #problems = el('div', { class: 'refusal', role: 'alert' });
  #abort: AbortController | undefined;

  constructor(
    private readonly actions: Actions,
    /** Presses that are out of use while the job runs. */
    private readonly presses: readonly HTMLButtonElement[],
  ) {
    this.#line.append(
      this.#bar,
      this.#text,
      button(words.cancel, { class: 'act cancel' }, () => {
        this.cancel();
      }),
    );
    this.#line.hidden = true;
    this.element = el('div', {}, this.#line, this.#problems);
    for (const press of presses) press.disabled = true;
  }

  /** There is something to run now: the presses come into use. */
  ready(): void {
    if (!this.busy) for (const press of this.presses) press.disabled = false;
  }

  get busy(): boolean {
    return this.#abort !== undefined;
  }

  cancel(): void {
    this.#abort?.abort();
  }

  /** Runs a job; nothing is answered if it was given up or refused, which is then shown. */
  async run<J extends JobName>(job: J, ask: AskOf<J>, what: string): Promise<AnswerOf<J> | undefined> {
    if (this.busy) return undefined;
    const abort = new AbortController();
    this.#abort = abort;
    this.#line.hidden = false;
    this.#bar.removeAttribute('value');
    this.#bar.setAttribute('aria-label', what);
    say(this.#text, words.running(what));
    this.show([]);
    for (const press of this.presses) press.disabled = true;
    const focused = document.activeElement;
    try {
      const answer = await lab().run(job, ask, {
        signal: abort.signal,
        progress: (done, of) => {
          this.#bar.max = Math.max(of, 1);
          this.#bar.value = done;
          say(this.#text, `${words.running(what)} ${words.progress(done, of)}`);
        },
      });
      if (refused(answer)) {
        this.show(answer.problems);
        return undefined;
      }
      return answer as AnswerOf<J>;
    } catch (cause) {
      if (!(cause instanceof GivenUp)) throw cause;
      this.actions.tell(words.cancelled);
      return undefined;
    } finally {
      this.#abort = undefined;
      const inside = this.#line.contains(document.activeElement);
      this.#line.hidden = true;
      for (const press of this.presses) press.disabled = false;
      // A press that went out of use has lost the focus; it gets it back.
      if ((inside || document.activeElement === document.body) && this.presses.includes(focused as HTMLButtonElement)) {
        (focused as HTMLButtonElement).focus({ preventScroll: true });
      } else if (inside) {
        this.presses[0]?.focus({ preventScroll: true });
      }
    }
  }

  /** Shows what was wrong; nothing takes it away. */
  show(problems: readonly Problem[]): void {
    this.#problems.replaceChildren();
    if (problems.length === 0) return;
    const list = el('ul', {});
    for (const { path, value, expected, hint } of problems.slice(0, 30)) {
      list.append(el('li', {}, `${words.given(path, value)} – ${words.expected(expected, hint)}`));
    }
    this.#problems.append(el('p', {}, words.wrong), list);
  }
}

/** Presses that copy a text; where the browser refuses, the text is shown to be copied by hand. */
export function copies(actions: Actions, texts: () => readonly [label: string, of: string, text: string][]): HTMLElement {
  const box = el('textarea', { class: 'copy', readonly: true, rows: 6, hidden: true });
  const presses = texts().map(([label], index) =>
    button(label, { class: 'link' }, () => {
      const [, of, text] = texts()[index] ?? ['', '', ''];
      navigator.clipboard.writeText(text).then(
        () => {
          box.hidden = true;
          actions.notice(words.copied(of));
        },
        () => {
          box.hidden = false;
          box.value = text;
          box.setAttribute('aria-label', of);
          box.select();
          actions.notice(words.copyFailed);
        },
      );
    }),
  );
  return el('div', {}, el('div', { class: 'rowof' }, ...presses), box);
}
