// The part "the contest": what is chosen, the try, its score beside the software's, the best tries.

import type { Actions } from '../../actions';
import { lab } from '../../core/lab';
import type { ContestOut, KicksOut } from '../../core/lab.types';
import { FRONT, refused, SIDE, type LiveRecord, type Plane, type Problem } from '../../core/types';
import { button, el, say } from '../../dom';
import type { Seen } from '../../loop';
import type { Rate } from '../../store';
import type { Theme } from '../../theme';
import { handWords as words } from '../../words/hand';
import { bestTries, forgetBest, keepBest, settingsOf, type Best } from './best';
import type { DelayPart } from './delaypart';
import type { HandInput, InputName } from './inputs';
import { keepTry, type Tried } from './keeping';
import type { Lever } from './lever';
import { Panel } from './panel';
import { ResultTable, sentences, withinOf } from './result';
import { FROM, SECONDS, Try } from './try';

/** Best tries that are listed. */
const LISTED = 8;

/** How a try was played. */
interface Played {
  readonly kicks: number;
  readonly rate: Rate;
  readonly input: InputName;
}

export interface ContestHost {
  readonly lever: Lever;
  readonly delay: DelayPart;
  readonly putAway: () => void;
  /** The input chosen, made ready; nothing if it cannot be had, which is said. */
  readonly input: () => Promise<HandInput | undefined>;
  /** Makes room for a try, or takes it back. */
  readonly room: (playing: boolean) => void;
}

export class ContestPart {
  readonly element = el('section', { class: 'handpart contest', 'aria-label': words.contest.title });
  readonly panel: Panel;
  /** What came of it, below both parts. */
  readonly after = el('div', { class: 'handafter' });
  readonly #status = el('p', { class: 'handsaid', role: 'status' });
  readonly #table: ResultTable;
  readonly #after = el('div', { class: 'rowof', hidden: true });
  readonly #again: HTMLButtonElement;
  readonly #keep: HTMLButtonElement;
  readonly #best = el('div', {});
  readonly #view: HTMLSelectElement;
  readonly #strength: HTMLSelectElement;
  readonly #rate: HTMLSelectElement;
  readonly #beside = el('input', { type: 'checkbox', checked: true });
  #kicks = 1;
  #try: Try | undefined;
  #unlisten: (() => void) | undefined;
  #tried: Tried | undefined;
  /** Counts what was begun: what is stale is dropped. */
  #wish = 0;

  constructor(
    private readonly actions: Actions,
    private readonly host: ContestHost,
    theme: Theme,
  ) {
    const select = (label: string, options: readonly (readonly [string, string])[]): readonly [HTMLElement, HTMLSelectElement] => {
      const list = el('select', {}, ...options.map(([value, text]) => el('option', { value }, text)));
      return [el('label', { class: 'handfield' }, el('span', {}, label), list), list];
    };
    const [viewField, view] = select(words.contest.view, [
      ['0', words.contest.views.side],
      ['1', words.contest.views.front],
    ]);
    const [strengthField, strength] = select(
      words.contest.strength,
      [0.05, 0.1, 0.25, 0.5, 1].map((share) => [String(share), words.contest.percent(share * 100)] as const),
    );
    const [rateField, rate] = select(
      words.contest.rate,
      ([1, 0.5, 0.25] as const).map((one) => [String(one), words.contest.rates[one]] as const),
    );
    this.#view = view;
    this.#strength = strength;
    this.#strength.value = '0.1';
    this.#rate = rate;
    this.#table = new ResultTable(theme);
    this.panel = new Panel(() => {
      this.stop(words.stopped.byPress);
    });
    const begin = button(words.contest.begin, { class: 'act go begin' }, () => {
      void this.#begin();
    });
    this.#again = button(words.contest.again, { class: 'act go again' }, () => {
      void this.#begin();
    });
    const other = button(words.contest.other, { class: 'act' }, () => {
      this.#kicks += 1;
      void this.#begin();
    });
    this.#keep = button(words.keep.press, { class: 'act keeptry' }, () => {
      void this.#keepIt();
    });
    this.#after.append(this.#again, other, this.#keep);
    this.element.append(
      el('h2', {}, words.contest.title),
      el('p', {}, words.contest.about(SECONDS)),
      el('div', { class: 'rowof fields' }, viewField, strengthField, rateField, el('label', { class: 'check' }, this.#beside, words.contest.beside)),
      el('div', { class: 'rowof' }, begin),
    );
    this.after.append(this.#status, this.#after, this.#table.element, this.#best);
    this.#showBest();
  }

  get playing(): boolean {
    return this.#try !== undefined;
  }

  opened(): void {
    this.#view.value = String(this.actions.store.state.active);
    lab().warm();
    this.#showBest();
  }

  say(text: string): void {
    say(this.#status, text);
  }

  look(seen: Seen, now: number): void {
    this.#try?.look(seen, now);
  }

  /** Ends a try that is played; answers whether there was one. */
  stop(why: string): boolean {
    this.#wish += 1;
    if (this.#try === undefined) return false;
    this.#try.stop(why);
    return true;
  }

  async #begin(): Promise<void> {
    const { actions, host } = this;
    this.stop('');
    const wish = this.#wish;
    say(this.#status, words.contest.ready);
    const input = await host.input();
    if (input === undefined || wish !== this.#wish) return;
    const plane: Plane = this.#view.value === '1' ? FRONT : SIDE;
    const view = plane === FRONT ? 'front' : 'side';
    const kicks = this.#kicks;
    const plan = await lab().run('kicks', { robot: actions.board.robotFile(), view, kicks, seconds: SECONDS, inches: actions.store.state.units === 'inch' });
    if (wish !== this.#wish || !this.element.isConnected) {
      input.stop();
      return;
    }
    if (refused(plan)) {
      this.#failed(plan.problems);
      return;
    }
    host.putAway();
    say(this.#status, '');
    host.room(true);
    this.#unlisten = host.lever.listen();
    this.panel.begin(plan as KicksOut, plane === SIDE);
    this.panel.element.scrollIntoView({ block: 'start' });
    const rate = Number(this.#rate.value) as Rate;
    const setup = { plane, input, strength: Number(this.#strength.value), kicks, rate, beside: this.#beside.checked };
    this.#try = new Try(actions, setup, plan as KicksOut, {
      frame: (seconds, angle, head, share) => {
        this.panel.frame(seconds, angle, head);
        if (input.name !== 'lever') host.lever.show(share);
      },
      say: (text) => {
        this.panel.say(text);
        actions.tell(text);
      },
      done: (record) => {
        this.#close();
        void this.#score(record, (plan as KicksOut).plan.length / 3, { kicks, rate, input: input.name });
      },
      stopped: (why) => {
        this.#close();
        say(this.#status, why);
        this.#after.hidden = false;
        this.#keep.hidden = this.#tried === undefined;
      },
    });
    host.lever.element.focus({ preventScroll: true });
  }

  #close(): void {
    this.#try = undefined;
    this.#unlisten?.();
    this.#unlisten = undefined;
    // Whoever had the lever has the press that begins the next try.
    const held = this.panel.element.contains(document.activeElement);
    this.host.room(false);
    this.#after.hidden = false;
    this.after.scrollIntoView({ block: 'start' });
    if (held) this.#again.focus({ preventScroll: true });
  }

  async #score(record: LiveRecord, planned: number, played: Played): Promise<void> {
    const { actions, host } = this;
    const { kicks } = played;
    const wish = this.#wish;
    const { robot, digest, view, seed, ticks, log } = record;
    const { ticks: delay, delay: measured } = host.delay;
    say(this.#status, words.contest.scoring);
    const opened = actions.board.openedFile();
    const robotName = actions.store.state.robot.name;
    const answer = await lab().run('contest', {
      robot,
      kicks,
      seconds: SECONDS,
      digest,
      live: { view: view === 'front' ? 'front' : 'side', seed, ticks, log, from: FROM * 1e6 },
      ...(delay === undefined ? {} : { delay }),
      inches: actions.store.state.units === 'inch',
    });
    if (wish !== this.#wish) return;
    if (refused(answer)) {
      this.#failed(answer.problems);
      return;
    }
    const out = answer as ContestOut;
    this.#tried = { record, out, opened, robotName };
    this.#keep.hidden = false;
    this.#keep.disabled = false;
    this.#table.show(out);
    const told = [sentences(out, SECONDS, measured?.median)];
    told.push(...this.#rank(record, out, planned, played));
    say(this.#status, told.join(' '));
    this.#showBest();
    this.after.scrollIntoView({ block: 'start' });
  }

  /** Puts it among the best; answers with what is to be said of that. */
  #rank(record: LiveRecord, out: ContestOut, planned: number, { kicks, rate, input }: Played): readonly string[] {
    // Pushes of one's own make another try of it.
    const pushes = record.log.filter(([, word]) => word === 'kick' || word === 'bump').length;
    if (pushes > planned || !out.equal) return [words.best.notCounted];
    const settings = settingsOf(record.robot);
    const view = record.view === 'front' ? 'front' : 'side';
    const one: Best = {
      at: Date.now(),
      robot: this.actions.store.state.robot.name.slice(0, 200),
      settings,
      view,
      kicks,
      input,
      rate,
      within: withinOf(out.person),
      software: withinOf(out.software),
    };
    const before = this.#like(one);
    const kept = keepBest(one);
    const list: string[] = [];
    if (before.length > 0 && before.every(({ within }) => within < one.within)) list.push(words.best.record);
    if (!kept) list.push(words.best.notKept);
    return list;
  }

  /** Tries of the same robot, settings, view and clock. */
  #like({ settings, view, rate }: Pick<Best, 'settings' | 'view' | 'rate'>): readonly Best[] {
    return bestTries().tries.filter((one) => one.settings === settings && one.view === view && one.rate === rate);
  }

  #showBest(): void {
    const { tries, damaged } = bestTries();
    const children: HTMLElement[] = [];
    if (damaged) children.push(el('p', { class: 'note damaged' }, words.best.damaged));
    if (tries.length > 0) {
      const head = el('tr', {}, ...words.best.head.map((text) => el('th', { scope: 'col' }, text)));
      const settings = settingsOf(this.actions.board.robotFile());
      const rows = tries.slice(0, LISTED).map((one) =>
        el(
          'tr',
          {},
          el('td', {}, words.best.seconds(one.within.toFixed(1))),
          el('td', {}, words.best.seconds(one.software.toFixed(1))),
          el('td', {}, one.settings === settings ? one.robot : words.best.otherSettings(one.robot)),
          el('td', {}, words.contest.short[one.view]),
          el('td', {}, words.inputs[one.input]),
          el('td', {}, words.contest.rates[one.rate as 1] ?? String(one.rate)),
        ),
      );
      children.push(
        el('h2', {}, words.best.title),
        el('div', { class: 'wide' }, el('table', { class: 'handbest' }, el('caption', { class: 'unseen' }, words.best.title), el('thead', {}, head), el('tbody', {}, ...rows))),
      );
    }
    if (damaged || tries.length > 0) {
      children.push(
        button(words.best.forget, { class: 'link' }, () => {
          forgetBest();
          this.#showBest();
        }),
      );
    }
    this.#best.replaceChildren(...children);
  }

  async #keepIt(): Promise<void> {
    const tried = this.#tried;
    if (tried === undefined) return;
    this.#keep.disabled = true;
    try {
      say(this.#status, await keepTry(this.actions, tried));
    } catch (cause) {
      this.#keep.disabled = false;
      say(this.#status, words.keep.failed(cause instanceof Error ? cause.message : String(cause)));
    }
  }

  #failed(problems: readonly Problem[]): void {
    const [first] = problems;
    say(this.#status, words.contest.failed(first === undefined ? '' : `${first.path} ${first.value}: ${first.expected}`));
  }
}
