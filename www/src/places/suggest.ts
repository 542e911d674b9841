// The place of suggested settings: what is wanted is asked for, a worker of its own searches, the best
// so far is told and shown on the double, and what was found is explained. Nothing is applied without a press.

import './trials.css';
import './suggest.css';
import { GivenUp, Lab } from '../core/lab';
import type { KnobChange, SuggestAsk, SuggestNews, SuggestOut } from '../core/lab.suggest';
import { refused, STEADIED, type Problem } from '../core/types';
import { button, el, say } from '../dom';
import { download } from './kept/table';
import type { Place, PlaceContext } from './place';
import { suggestWords as words } from '../words/suggest';
import { become, has } from './suggest/apply';
import { OnDouble } from './suggest/double';
import { SuggestForm } from './suggest/form';
import { changesTable, comparedTable, hatch, rowsTable } from './suggest/tables';
import { trialWords } from '../words/trials';

/** Between two tellings of how far it is [ms]. */
const PERIOD = 250;
const still = window.matchMedia('(prefers-reduced-motion: reduce)');

/** What was found, or what there was when it was stopped. */
interface Found {
  readonly ask: SuggestAsk;
  readonly robot: string;
  readonly changes: readonly KnobChange[];
  /** Missing where the search was stopped. */
  readonly out: SuggestOut | undefined;
}

export function make(context: PlaceContext): Place {
  const place = new Suggest(context);
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

class Suggest {
  readonly element: HTMLElement;
  readonly #lab = new Lab();
  readonly #form: SuggestForm;
  readonly #double: OnDouble;
  readonly #wantDouble = el('input', { type: 'checkbox', 'data-act': 'double' });
  readonly #motorsOff = el('p', { class: 'note', role: 'status' });
  readonly #search: HTMLButtonElement;
  readonly #none = el('p', { class: 'note', role: 'status' });
  readonly #problems = el('div', { class: 'refusal', role: 'alert' });
  // While it runs.
  readonly #running: HTMLElement;
  readonly #stage = el('p', { class: 'stage', role: 'status' });
  readonly #bar = el('progress', { max: 1, value: 0, 'aria-label': words.running });
  readonly #progress = el('span', {});
  readonly #cancel: HTMLButtonElement;
  readonly #score = el('p', { class: 'note' });
  readonly #best = el('div', {});
  // Afterwards.
  readonly #result = el('section', { class: 'suggested', hidden: true });
  readonly #title = el('h2', { tabindex: -1 });
  readonly #explained = el('div', { class: 'explained' });
  readonly #become: HTMLButtonElement;
  readonly #show: HTMLButtonElement;
  readonly #save: HTMLButtonElement;
  readonly #state = el('p', { class: 'stale', role: 'status' });
  readonly #tables = el('div', {});
  #abort: AbortController | undefined;
  #news: SuggestNews | undefined;
  #began = 0;
  #told = -Infinity;
  #knobs = '';
  #found: Found | undefined;
  #open = false;

  constructor(private readonly context: PlaceContext) {
    const { actions } = context;
    this.#form = new SuggestForm(actions, () => {
      this.#arrange();
    });
    this.#double = new OnDouble(actions, () => {
      this.#wantDouble.checked = false;
      this.#arrange();
    });
    // A double that somebody put up is not taken away unasked; nor is anything set moving for whoever does not want it.
    this.#wantDouble.checked = !still.matches && actions.store.state.double === undefined;
    this.#wantDouble.addEventListener('change', () => {
      this.#doubled();
    });
    this.#search = button(words.search, { class: 'act', 'data-act': 'search' }, () => void this.#go());
    this.#cancel = button(words.cancel, { class: 'act cancel', 'data-act': 'stop' }, () => {
      this.#abort?.abort();
    });
    this.#running = el(
      'section',
      { class: 'searching', hidden: true, 'aria-label': words.running },
      this.#stage,
      el('p', { class: 'rowof' }, this.#bar, this.#progress, this.#cancel),
      el('h2', {}, words.best),
      this.#score,
      this.#best,
    );
    this.#become = button(words.become, { class: 'act', 'data-act': 'become', title: words.becomeTitle }, () => {
      this.#becomeIt();
    });
    this.#show = button(words.showDouble, { class: 'act', 'data-act': 'show' }, () => {
      this.#wantDouble.checked = true;
      this.#doubled();
    });
    this.#save = button(words.save, { class: 'act', 'data-act': 'save' }, () => {
      this.#saveFile();
    });
    this.#result.append(
      this.#title,
      this.#explained,
      el('p', { class: 'rowof presses' }, this.#become, this.#show, this.#save),
      this.#state,
      el('p', { class: 'caution' }, words.cautions),
      this.#tables,
    );
    const kick = button(words.kickBoth, { class: 'act', 'data-act': 'kick' }, () => {
      actions.kick(actions.store.state.active);
    });
    this.element = el(
      'div',
      { class: 'trials suggest twosided' },
      el(
        'div',
        { class: 'asked' },
        this.#form.wanted,
        el('div', { class: 'rowof begin' }, this.#form.spend, this.#search),
        this.#none,
        this.#problems,
        el('div', { class: 'ondouble' }, el('label', { class: 'box' }, this.#wantDouble, words.double), kick),
        el('p', { class: 'note' }, words.doubleHint),
        this.#motorsOff,
        this.#form.more,
      ),
      el('div', {}, hatch(), el('p', { class: 'note' }, words.about), this.#running, this.#result),
    );
    actions.store.watch(['double', 'level'], () => {
      this.#arrange();
    });
    actions.store.watch(['robot', 'knobs'], () => {
      if (this.#open) this.#compare();
    });
  }

  opened(): void {
    this.#open = true;
    this.#lab.warm();
    this.#arrange();
    this.#compare();
  }

  closed(): void {
    this.#open = false;
    this.#abort?.abort();
  }

  get #busy(): boolean {
    return this.#abort !== undefined;
  }

  #arrange(): void {
    const loops = this.#form.loops.length > 0;
    this.#search.disabled = this.#busy || !loops;
    say(this.#search, this.#found === undefined ? words.search : words.again);
    say(this.#none, loops ? '' : words.noLoop);
    const { level } = this.context.actions.store.state;
    say(this.#motorsOff, this.#double.up && level !== STEADIED ? words.doubleOff : '');
    this.#show.hidden = this.#double.up || (this.#found?.changes.length ?? 0) === 0;
  }

  /** What the double should show: what is running, or else what was found. */
  get #shown(): { readonly ask: SuggestAsk; readonly changes: readonly KnobChange[]; readonly label: string } | undefined {
    if (this.#asked !== undefined) return { ask: this.#asked, changes: this.#news?.knobs ?? [], label: words.doubleLabel };
    const found = this.#found;
    if (found === undefined) return undefined;
    return { ask: found.ask, changes: found.changes, label: found.out === undefined ? words.doubleLabel : words.doubleFound };
  }

  #asked: SuggestAsk | undefined;

  /** Puts the double up or lets it be, as the box says. */
  #doubled(): void {
    const { actions } = this.context;
    const shown = this.#shown;
    if (!this.#wantDouble.checked) {
      if (this.#double.up) actions.undouble();
    } else if (shown !== undefined) {
      const { ask, changes, label } = shown;
      // Before there is anything better it would only be the same robot once more.
      if (changes.length > 0 && !this.#double.up) {
        const { robot, opened = robot } = ask;
        if (!this.#double.putUp({ opened, now: robot })) {
          this.#wantDouble.checked = false;
          actions.notice(words.doubleRefused);
        }
      }
      if (this.#double.up) this.#double.show(changes, label);
    }
    this.#arrange();
  }

  #showProblems(problems: readonly Problem[]): void {
    this.#problems.replaceChildren();
    if (problems.length === 0) return;
    const rows = problems.slice(0, 30).map(({ path, value, expected, hint }) =>
      el('li', {}, `${trialWords.given(path, value)} – ${trialWords.expected(expected, hint)}`),
    );
    this.#problems.append(el('p', {}, trialWords.wrong), el('ul', {}, ...rows));
  }

  async #go(): Promise<void> {
    if (this.#busy) return;
    const { actions } = this.context;
    const { board, store } = actions;
    const ask: SuggestAsk = {
      robot: board.robotFile(),
      opened: board.openedFile(),
      inches: store.state.units === 'inch',
      ...this.#form.question(),
    };
    const name = store.state.robot.name;
    const abort = new AbortController();
    this.#abort = abort;
    this.#asked = ask;
    this.#news = undefined;
    this.#knobs = '';
    this.#told = -Infinity;
    this.#began = performance.now();
    this.#showProblems([]);
    this.#result.hidden = true;
    this.#running.hidden = false;
    this.#bar.removeAttribute('value');
    say(this.#progress, '');
    say(this.#stage, words.stages.linear);
    say(this.#score, '');
    this.#best.replaceChildren(el('p', { class: 'note' }, words.noBest));
    // A double of the search before begins anew with this robot.
    if (this.#double.up) this.#double.forget();
    this.#found = undefined;
    this.#arrange();
    actions.tell(words.running);
    this.#cancel.focus({ preventScroll: true });
    this.#running.scrollIntoView({ block: 'nearest' });
    // Time goes on also where there is nothing to tell.
    const clock = setInterval(() => {
      this.#tellTime();
    }, 1000);
    try {
      const answer = await this.#lab.run('suggest', ask, {
        signal: abort.signal,
        progress: (_done, _of, news) => {
          if (news !== undefined) this.#heard(news as SuggestNews);
        },
      });
      if (refused(answer)) this.#showProblems(answer.problems);
      else {
        const out = answer as SuggestOut;
        this.#found = { ask, robot: out.robot, changes: out.changes, out };
      }
    } catch (cause) {
      if (!(cause instanceof GivenUp)) throw cause;
      const { knobs = [] } = (this.#news as SuggestNews | undefined) ?? {};
      this.#found = { ask, robot: name, changes: knobs, out: undefined };
    } finally {
      clearInterval(clock);
      this.#abort = undefined;
      this.#asked = undefined;
      const inside = this.#running.contains(document.activeElement) || document.activeElement === document.body;
      this.#running.hidden = true;
      this.#finished(inside);
    }
  }

  /** The latest news are told, a few times a second. */
  #heard(news: SuggestNews): void {
    const before = this.#news;
    this.#news = news;
    const now = performance.now();
    const other = before?.stage !== news.stage;
    if (!other && now - this.#told < PERIOD && news.done < news.of) return;
    this.#told = now;
    if (other) say(this.#stage, words.stages[news.stage]);
    this.#bar.max = Math.max(news.of, 1);
    this.#bar.value = news.done;
    this.#tellTime();
    say(this.#score, news.knobs.length === 0 ? '' : words.score(news.best.score, news.best.limitsKept));
    const knobs = news.knobs.map(({ key, to }) => `${key} ${to}`).join();
    if (knobs === this.#knobs) return;
    this.#knobs = knobs;
    this.#best.replaceChildren(news.knobs.length === 0 ? el('p', { class: 'note' }, words.noBest) : changesTable(news.knobs));
    this.#doubled();
  }

  #tellTime(): void {
    const { done = 0, of = 0 } = this.#news ?? {};
    say(this.#progress, words.progress(done, of, performance.now() - this.#began));
  }

  /** Shows what was found; `focus` asks for the eyes of whoever waited for it. */
  #finished(focus: boolean): void {
    const found = this.#found;
    this.#arrange();
    if (found === undefined) {
      if (focus) this.#search.focus({ preventScroll: true });
      return;
    }
    const { out, robot, changes } = found;
    const ms = performance.now() - this.#began;
    const lines = out?.explained ?? [changes.length === 0 ? words.stoppedNone : words.stopped];
    say(this.#title, out === undefined ? words.stoppedFor(robot) : out.better ? words.found(robot) : words.foundNone(robot));
    this.#explained.replaceChildren(...lines.map((line) => el('p', {}, line)));
    this.#tables.replaceChildren();
    const part = (title: string, hint: string, content: HTMLElement): void => {
      this.#tables.append(el('section', { 'aria-label': title }, el('h2', {}, title), hint === '' ? undefined : el('p', { class: 'note' }, hint), content));
    };
    if (changes.length > 0) part(words.changes, '', changesTable(changes));
    if (out !== undefined) {
      if (out.rows.length > 0) part(words.rows, words.rowsHint, rowsTable(out));
      part(words.compared, words.comparedHint, comparedTable(out));
      this.#tables.append(el('p', { class: 'note' }, words.took(out.evaluations, out.simulated, ms)));
    }
    const some = changes.length > 0 && (out === undefined || out.better);
    this.#become.hidden = !some;
    this.#save.hidden = !some || out === undefined;
    this.#result.hidden = false;
    this.#compare();
    if (changes.length > 0) this.#doubled();
    this.context.actions.tell(words.told(out?.better === true, lines[0] ?? ''));
    if (focus && this.#open) this.#title.focus({ preventScroll: false });
  }

  /** Whether the board still has the robot that this was found for, or has what was found. */
  #compare(): void {
    const found = this.#found;
    if (found === undefined) return;
    const { actions } = this.context;
    const applied = found.changes.length > 0 && has(actions, found.changes);
    const other = actions.store.state.robot.name !== found.robot;
    const stale = !applied && actions.board.robotFile() !== found.ask.robot;
    this.#become.disabled = applied || other;
    say(this.#state, other ? words.other(found.robot) : applied ? words.isIt : stale ? words.stale : '');
    this.#state.hidden = this.#state.textContent === '';
  }

  #becomeIt(): void {
    const found = this.#found;
    if (found === undefined) return;
    const { actions } = this.context;
    const wrong = become(actions, found.changes);
    const [first] = wrong?.problems ?? [];
    if (first === undefined) {
      actions.notice(words.became);
      // The press is out of use now; what it says instead is beside it.
      this.#title.focus({ preventScroll: true });
    } else {
      actions.notice(words.refused(first.path, first.expected));
    }
    this.#compare();
  }

  #saveFile(): void {
    const out = this.#found?.out;
    if (out === undefined) return;
    const name = `${out.robot.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase() || 'robot'}-suggested.robot.json`;
    download(new Blob([out.file], { type: 'application/json' }), name);
    this.context.actions.notice(words.saved(name));
  }
}
