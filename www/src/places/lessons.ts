// The place of lessons: the list, or the one that is played. While one is played the visitor's own
// robot is put away; whichever way the lesson is left, it is given back.

import './lessons.css';
import { lab } from '../core/lab';
import type { LabCatalogue } from '../core/lab.types';
import { refused, type Problem } from '../core/types';
import { button, el, say } from '../dom';
import { lessonLink } from './lessons/asked';
import { builtIn } from './lessons/builtin';
import type { Lesson } from './lessons/format';
import { makeList } from './lessons/list';
import { Player } from './lessons/player';
import { keepOwn, markDone, ownLessons } from './lessons/progress';
import { giveBack, putAway } from './lessons/putaway';
import { readLesson, type Known } from './lessons/read';
import { words } from '../words/lessons';
import type { Place, PlaceContext } from './place';

export function make(context: PlaceContext): Place {
  const lessons = new Lessons(context);
  return {
    element: lessons.element,
    opened: () => {
      lessons.opened();
    },
    closed: () => {
      lessons.leave();
    },
  };
}

class Lessons {
  readonly element = el('div', { class: 'lessons' });
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #inside = el('div', {});
  /** Lessons from files, and their texts. */
  #own: readonly { readonly lesson: Lesson; readonly text: string }[] = [];
  #player: Player | undefined;
  #readOwn: Promise<void> | undefined;
  #asked = false;

  constructor(private readonly context: PlaceContext) {
    this.element.append(this.#status, this.#inside);
    context.loop.readLate((seen, now) => {
      this.#player?.look(seen, now);
    });
  }

  opened(): void {
    if (this.#player === undefined) this.#list();
    this.#readOwn ??= this.#takeOwn();
    if (this.#asked) return;
    this.#asked = true;
    lessonLink.on((key) => {
      void this.#byLink(key);
    });
  }

  /** Whatever is played ends, and all is as it was before. */
  leave(told = words.left): void {
    const player = this.#player;
    if (player === undefined) return;
    this.#player = undefined;
    player.end();
    this.#sheet(false);
    giveBack(this.context.actions);
    this.context.actions.notice(told);
    this.#list();
  }

  get #all(): readonly Lesson[] {
    return [...builtIn(), ...this.#own.map(({ lesson }) => lesson)];
  }

  #list(): void {
    this.#inside.replaceChildren(
      makeList(this.#all, new Set(this.#own.map(({ lesson }) => lesson.key)), {
        begin: (lesson) => {
          void this.#begin(lesson);
        },
        open: (text, name) => this.#open(text, name),
        takeAway: (lesson) => {
          this.#own = this.#own.filter((one) => one.lesson !== lesson);
          this.#keep();
          this.#list();
        },
      }),
    );
  }

  async #byLink(key: string): Promise<void> {
    await this.#readOwn;
    if (key === '') return;
    const lesson = this.#all.find((one) => one.key === key);
    if (lesson === undefined) {
      say(this.#status, words.unknown(key));
      return;
    }
    await this.#begin(lesson);
  }

  async #begin(lesson: Lesson): Promise<void> {
    const { actions } = this.context;
    say(this.#status, '');
    this.#player?.end();
    this.#player = undefined;
    const problems = await putAway(actions, lesson.sets, lesson.title);
    const [first] = problems;
    if (first !== undefined) {
      giveBack(actions);
      this.#sheet(false);
      say(this.#status, words.failed(`${first.path} ${first.value}: ${first.expected}`));
      this.#list();
      return;
    }
    // The place may have been closed meanwhile.
    if (!this.element.isConnected) {
      giveBack(actions);
      return;
    }
    actions.notice('');
    if (lesson.steps.some((step) => step.kind === 'do' && (step.trial ?? step.budget) !== undefined)) lab().warm();
    const player = new Player(actions, lesson, {
      done: () => {
        markDone(lesson.key);
      },
      finish: () => {
        this.#finish(lesson);
      },
      leave: () => {
        this.leave();
        this.#inside.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
      },
      again: () => {
        void this.#begin(lesson);
      },
    });
    this.#player = player;
    this.#sheet(true);
    this.#inside.replaceChildren(player.element);
    player.begin();
  }

  #finish(lesson: Lesson): void {
    const next = this.#all[this.#all.findIndex((one) => one.key === lesson.key) + 1];
    this.leave(`${words.end(lesson.title)} ${words.endBack}`);
    const heading = el('h2', { tabindex: -1 }, words.end(lesson.title));
    const row = el('div', { class: 'rowof' });
    if (next !== undefined) {
      row.append(
        button(words.nextIs(next.title), { class: 'act go' }, () => {
          void this.#begin(next);
        }),
      );
    }
    row.append(
      button(words.all, { class: 'link' }, () => {
        this.#list();
        this.#inside.querySelector<HTMLElement>('button')?.focus({ preventScroll: true });
      }),
    );
    this.#inside.replaceChildren(
      el('div', { class: 'lessonend' }, heading, el('p', {}, next === undefined ? `${words.endBack} ${words.allDone}` : words.endBack), row),
    );
    heading.focus({ preventScroll: true });
  }

  /** The sheet makes room for a lesson. */
  #sheet(on: boolean): void {
    document.querySelector('.sheet')?.classList.toggle('inlesson', on);
    // The board's box has changed: the sheet looks at it anew by itself; one frame even if time stands.
    this.context.loop.touch();
  }

  // Lessons from files.

  async #takeOwn(): Promise<void> {
    const texts = ownLessons();
    if (texts.length === 0) return;
    const known = await this.#known();
    if ('problems' in known) return;
    const taken: { lesson: Lesson; text: string }[] = [];
    for (const text of texts) {
      const read = readLesson(text, known);
      if ('lesson' in read) taken.push({ lesson: read.lesson, text });
    }
    this.#own = taken;
    if (this.#player === undefined) this.#list();
  }

  /** Opens a lesson file; answers with what is wrong with it. */
  async #open(text: string, name: string): Promise<{ readonly said: string; readonly problems: readonly Problem[] }> {
    const known = await this.#known();
    const read = 'problems' in known ? known : readLesson(text, known);
    if ('problems' in read) return { said: words.broken(name, read.problems.length), problems: read.problems };
    const { lesson } = read;
    if (builtIn().some(({ key }) => key === lesson.key)) {
      const problem: Problem = { path: 'key', value: lesson.key, expected: words.builtIn, hint: '', kept: words.read.kept, severity: 'error' };
      return { said: words.broken(name, 1), problems: [problem] };
    }
    const again = this.#own.some((one) => one.lesson.key === lesson.key);
    this.#own = [...this.#own.filter((one) => one.lesson.key !== lesson.key), { lesson, text }];
    this.#keep();
    this.#list();
    return { said: (again ? words.replaced : words.opened)(lesson.title), problems: [] };
  }

  #keep(): void {
    keepOwn(this.#own.map(({ text }) => text));
  }

  async #known(): Promise<Known | { readonly problems: readonly Problem[] }> {
    const { actions } = this.context;
    const answer = await lab().run('trials', { robot: actions.board.robotFile() });
    if (refused(answer)) return answer;
    const catalogue = answer as LabCatalogue;
    return {
      knobs: actions.knobs,
      demos: actions.board.demos().map(({ key }) => key),
      measures: new Set(catalogue.trials.flatMap(({ views }) => views.flatMap(({ measures }) => measures.map(({ key }) => key)))),
      outcomes: catalogue.outcomes,
      trials: catalogue.trials.map(({ key }) => key),
      budgets: catalogue.questions.map(({ key }) => key),
    };
  }
}
