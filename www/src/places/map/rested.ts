// A job that runs when the robot has come to rest, and only while its part of the page is in sight.
// It has a worker of its own, so that the place's short jobs need not wait for it; a change of what is
// asked gives up what still runs.

import { GivenUp, Lab } from '../../core/lab';
import type { AnswerOf, AskOf, JobName } from '../../core/lab.types';
import { refused } from '../../core/types';
import { button, el, say } from '../../dom';
import { trialWords } from '../../words/trials';

/** Rest after the last change before it is run [ms]. */
export const REST = 400;

let own: Lab | undefined;

export class Rested<J extends JobName> {
  readonly element: HTMLElement;
  readonly #line = el('p', { class: 'rowof running' });
  readonly #text = el('span', {});
  readonly #bar = el('progress', { max: 1, value: 0 });
  readonly #problems = el('div', { class: 'refusal', role: 'alert' });
  #timer: ReturnType<typeof setTimeout> | undefined;
  #abort: AbortController | undefined;
  #open = false;
  #seen = false;
  #wanted = true;

  constructor(
    private readonly job: J,
    private readonly what: string,
    private readonly hands: {
      /** What is asked now; nothing if it cannot be said yet. */
      readonly ask: () => AskOf<J> | undefined;
      readonly show: (answer: AnswerOf<J>) => void;
      /** What is shown is no longer, or again, what is asked for. */
      readonly stale: (stale: boolean) => void;
      /** It was given up by a press. */
      readonly cancelled: () => void;
    },
  ) {
    this.#bar.setAttribute('aria-label', what);
    this.#line.append(
      this.#bar,
      this.#text,
      button(trialWords.cancel, { class: 'act cancel' }, () => {
        this.#wanted = false;
        this.#abort?.abort();
        hands.cancelled();
      }),
    );
    this.#line.hidden = true;
    this.element = el('div', {}, this.#line, this.#problems);
  }

  /** Runs while this is in sight. */
  watch(part: HTMLElement): void {
    new IntersectionObserver(([entry]) => {
      this.#seen = entry?.isIntersecting === true;
      if (this.#seen && this.#wanted) this.soon(0);
    }).observe(part);
  }

  opened(): void {
    this.#open = true;
    if (this.#wanted) this.soon(0);
  }

  closed(): void {
    this.#open = false;
    clearTimeout(this.#timer);
    if (this.#abort === undefined) return;
    this.#wanted = true;
    this.#abort.abort();
  }

  /** Something else is asked: runs when nothing more has changed for a while. */
  soon(rest = REST): void {
    this.#wanted = true;
    this.hands.stale(true);
    this.#abort?.abort();
    clearTimeout(this.#timer);
    if (this.#open && this.#seen) this.#timer = setTimeout(() => void this.#go(), rest);
  }

  async #go(): Promise<void> {
    const ask = this.hands.ask();
    if (ask === undefined) return;
    this.#wanted = false;
    const abort = new AbortController();
    this.#abort = abort;
    this.#line.hidden = false;
    this.#bar.removeAttribute('value');
    say(this.#text, trialWords.running(this.what));
    this.#problems.replaceChildren();
    own ??= new Lab();
    try {
      const answer = await own.run(this.job, ask, {
        signal: abort.signal,
        progress: (done, of) => {
          if (abort.signal.aborted) return;
          this.#bar.max = Math.max(of, 1);
          this.#bar.value = done;
          say(this.#text, trialWords.progress(done, of));
        },
      });
      if (refused(answer)) this.#refuse(answer.problems);
      else {
        this.hands.show(answer as AnswerOf<J>);
        this.hands.stale(false);
      }
    } catch (cause) {
      if (!(cause instanceof GivenUp)) throw cause;
    } finally {
      if (this.#abort === abort) {
        this.#abort = undefined;
        this.#line.hidden = true;
      }
    }
  }

  #refuse(problems: readonly { readonly path: string; readonly value: string; readonly expected: string; readonly hint: string }[]): void {
    const list = el('ul', {});
    for (const { path, value, expected, hint } of problems.slice(0, 12)) {
      list.append(el('li', {}, `${trialWords.given(path, value)} – ${trialWords.expected(expected, hint)}`));
    }
    this.#problems.replaceChildren(el('p', {}, trialWords.wrong), list);
  }
}
