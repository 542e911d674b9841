// One job of the worker as it stands on the page: how far it is, and a way to give it up.

import { GivenUp, lab } from '../../core/lab';
import type { AnswerOf, AskOf, JobName, RobotAsk } from '../../core/lab.types';
import { refused, type Refused } from '../../core/types';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { words } from '../../words/robot';

/** The robot on the board, as jobs are asked about it. */
export const onBoard = (actions: Actions): RobotAsk => ({
  robot: actions.board.robotFile(),
  opened: actions.board.openedFile(),
  inches: actions.store.state.units === 'inch',
});

export class JobLine {
  readonly element: HTMLElement;
  readonly #bar: HTMLProgressElement;
  readonly #going: HTMLElement;
  readonly #said = el('p', { class: 'said', role: 'status' });
  readonly #count = el('span', { class: 'count' });
  #abort: AbortController | undefined;

  constructor(label: string) {
    this.#bar = el('progress', { 'aria-label': label, max: 1 });
    this.#going = el(
      'div',
      { class: 'rowof going', hidden: true },
      this.#bar,
      this.#count,
      button(words.job.cancel, { class: 'link' }, () => {
        this.cancel();
      }),
    );
    this.element = el('div', { class: 'job' }, this.#going, this.#said);
  }

  /** Runs a job; nothing if it was given up or refused, which is then said. */
  async run<J extends JobName>(name: J, ask: AskOf<J>): Promise<AnswerOf<J> | undefined> {
    this.#abort?.abort();
    const abort = new AbortController();
    this.#abort = abort;
    this.say('');
    say(this.#count, words.job.waiting);
    this.#bar.removeAttribute('value');
    this.#going.hidden = false;
    let answer: AnswerOf<J> | Refused;
    try {
      answer = await lab().run(name, ask, {
        signal: abort.signal,
        progress: (done, of) => {
          this.#bar.max = of;
          this.#bar.value = done;
          say(this.#count, words.job.going(done, of));
        },
      });
    } catch (cause) {
      if (this.#abort === abort) {
        this.#going.hidden = true;
        this.say(cause instanceof GivenUp ? words.job.givenUp : String(cause));
      }
      return undefined;
    }
    if (this.#abort !== abort) return undefined;
    this.#abort = undefined;
    this.#going.hidden = true;
    if (refused(answer)) {
      this.say(answer.problems.map(({ path, expected, hint }) => words.job.refused(path, expected, hint)).join(' '));
      return undefined;
    }
    return answer as AnswerOf<J>;
  }

  say(text: string): void {
    say(this.#said, text);
  }

  cancel(): void {
    this.#abort?.abort();
  }
}
