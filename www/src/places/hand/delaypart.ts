// The part "your delay": the measurement, what came of it, and what the same delay does to the software.

import type { Actions } from '../../actions';
import { refused, STEADIED } from '../../core/types';
import { button, el, say } from '../../dom';
import { handWords as words } from '../../words/hand';
import { canBuzz, Cue } from './cue';
import type { HandInput } from './inputs';
import type { Lever } from './lever';
import { Reaction, SIGNS, type Delay, type Kind } from './reaction';

const DELAY = 'timing.delay_ticks';

export interface DelayHost {
  /** The input chosen, made ready; nothing if it cannot be had, which is said. */
  readonly input: () => Promise<HandInput | undefined>;
  readonly lever: Lever;
  /** Keeps how the board is set, to be given back. */
  readonly putAway: () => void;
}

export class DelayPart {
  readonly element = el('section', { class: 'handpart', 'aria-label': words.delay.title });
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #sign = el('button', { type: 'button', class: 'handsign', hidden: true });
  readonly #lever = el('div', { class: 'handleverplace', hidden: true });
  readonly #result = el('div', {});
  readonly #presses: HTMLElement;
  readonly #stop: HTMLButtonElement;
  readonly #back: HTMLButtonElement;
  readonly #give: HTMLButtonElement;
  readonly #given = el('p', { class: 'note', role: 'status' });
  readonly #software = el('p', {});
  readonly #cue = new Cue();
  readonly #delays = new Map<Kind, Delay>();
  #reaction: Reaction | undefined;
  #unlisten: (() => void) | undefined;
  /** The software's own delay [ticks], while it has the visitor's. */
  #own: number | undefined;
  #latest: Kind = 'press';

  constructor(
    private readonly actions: Actions,
    private readonly host: DelayHost,
  ) {
    const begin = (kind: Kind): HTMLButtonElement =>
      button(words.delay.begin[kind], { class: 'act', 'data-kind': kind }, () => {
        void this.#begin(kind);
      });
    this.#stop = button(words.delay.stop, { class: 'act', hidden: true }, () => {
      this.end(words.delay.stopped);
    });
    this.#presses = el('div', { class: 'rowof' }, begin('press'), begin('lever'), this.#cues());
    this.#give = button(words.delay.give, { class: 'act', hidden: true }, () => {
      this.#giveDelay();
    });
    this.#back = button(words.delay.takeBack, { class: 'act', hidden: true }, () => {
      this.#takeBack();
    });
    this.#sign.addEventListener('pointerdown', ({ timeStamp }) => {
      this.#reaction?.press(timeStamp);
    });
    this.#sign.addEventListener('keydown', (event) => {
      if (event.key !== ' ' && event.key !== 'Enter') return;
      event.preventDefault();
      if (!event.repeat) this.#reaction?.press(event.timeStamp);
    });
    document.addEventListener('visibilitychange', () => {
      if (document.hidden) this.end(words.delay.hidden);
    });
    this.element.append(
      el('h2', {}, words.delay.title),
      el('p', {}, words.delay.about(SIGNS)),
      this.#presses,
      this.#sign,
      this.#lever,
      this.#status,
      this.#result,
      this.#software,
      el('div', { class: 'rowof' }, this.#stop, this.#give, this.#back),
      this.#given,
    );
    actions.store.watch(['knobs', 'robot'], () => {
      this.#tellSoftware();
    });
  }

  /** The last delay measured [ms]. */
  get delay(): Delay | undefined {
    return this.#delays.get(this.#latest);
  }

  /** The last delay measured in whole ticks of the robot, within the knob's range; none without one. */
  get ticks(): number | undefined {
    const { delay } = this;
    if (delay === undefined) return undefined;
    const most = this.actions.knobs.get(DELAY)?.max ?? 0;
    return Math.min(Math.round((delay.median * 1000) / this.actions.store.state.robot.tickUs), most);
  }

  /** Whatever is measured ends; what was measured stays. */
  end(told = ''): void {
    if (this.#reaction === undefined) return;
    this.#reaction.end();
    this.#close();
    say(this.#status, told);
  }

  /** The place is left: the software has its own delay again. */
  leave(): void {
    const own = this.#own;
    this.#own = undefined;
    if (own !== undefined) this.#set(own, words.delay.revisionBack);
    say(this.#given, '');
  }

  #cues(): HTMLElement {
    const check = (text: string, set: (on: boolean) => void): HTMLElement => {
      const box = el('input', { type: 'checkbox' });
      box.addEventListener('change', () => {
        set(box.checked);
      });
      return el('label', { class: 'check' }, box, text);
    };
    const row = el('span', { class: 'handcues' }, check(words.delay.sound, (on) => (this.#cue.sound = on)));
    if (canBuzz()) row.append(check(words.delay.buzz, (on) => (this.#cue.buzz = on)));
    return row;
  }

  async #begin(kind: Kind): Promise<void> {
    this.end();
    this.#cue.ready();
    const input = await this.host.input();
    if (input === undefined || !this.element.isConnected) return;
    this.#presses.hidden = true;
    this.#lever.hidden = kind !== 'lever';
    this.#lever.append(this.host.lever.element);
    this.#stop.hidden = false;
    this.#sign.hidden = false;
    const { lever } = this.host;
    this.#unlisten = lever.listen();
    const reaction = new Reaction(kind, input, {
      wait: (number) => {
        this.#sign.dataset['now'] = 'wait';
        say(this.#sign, words.delay.wait(number, SIGNS));
      },
      sign: (way) => {
        this.#cue.give();
        const to = way < 0 ? 'left' : 'right';
        this.#sign.dataset['now'] = way === 0 ? 'press' : to;
        say(this.#sign, way === 0 ? words.delay.now : words.delay.ways[to]);
      },
      answered: (time) => {
        say(this.#status, words.delay.answered(Math.round(time)));
      },
      tooSoon: () => {
        say(this.#status, words.delay.tooSoon);
      },
      wrongWay: () => {
        say(this.#status, words.delay.wrongWay);
      },
      missed: () => {
        say(this.#status, words.delay.missed);
      },
      done: (delay) => {
        this.#delays.set(kind, delay);
        this.#latest = kind;
        this.#close();
        this.#show();
      },
    });
    this.#reaction = reaction;
    lever.onMoved((time) => {
      if (input.name === 'lever') reaction.lever(lever.share, time);
    });
    (kind === 'press' ? this.#sign : lever.element).focus({ preventScroll: true });
  }

  #close(): void {
    this.#reaction = undefined;
    this.host.lever.onMoved(undefined);
    this.#unlisten?.();
    this.#unlisten = undefined;
    this.#presses.hidden = false;
    this.#lever.hidden = true;
    this.#stop.hidden = true;
    this.#sign.hidden = true;
  }

  #show(): void {
    const rows = [...this.#delays].map(([kind, { median, spread, times, falseStarts }]) =>
      el(
        'tr',
        { 'data-kind': kind },
        el('th', { scope: 'row' }, words.delay.kinds[kind]),
        el('td', { class: 'median' }, words.delay.ms(Math.round(median))),
        el('td', {}, words.delay.ms(Math.round(spread))),
        el('td', {}, times.map((time) => Math.round(time)).join(', ')),
        el('td', {}, String(falseStarts)),
      ),
    );
    const head = el('tr', {}, ...words.delay.head.map((text) => el('th', { scope: 'col' }, text)));
    this.#result.replaceChildren(
      el('div', { class: 'wide' }, el('table', { class: 'handdelays' }, el('caption', { class: 'unseen' }, words.delay.title), el('thead', {}, head), el('tbody', {}, ...rows))),
    );
    const { delay } = this;
    if (delay !== undefined) {
      const text = words.delay.result(Math.round(delay.median), Math.round(delay.spread), delay.falseStarts);
      say(this.#status, text);
    }
    this.#tellSoftware();
  }

  #tellSoftware(): void {
    const { actions, delay, ticks } = this;
    const tick = actions.store.state.robot.tickUs / 1000;
    const own = actions.value(DELAY)?.value ?? 0;
    const late = own * tick;
    const texts = [words.delay.software(tick, own, late)];
    if (delay !== undefined && ticks !== undefined) {
      const most = actions.knobs.get(DELAY)?.max ?? 0;
      texts.push(words.delay.yours(ticks, Math.round(ticks * tick)));
      if (Math.round(delay.median / tick) > most) texts.push(words.delay.most(most, Math.round(most * tick)));
    }
    say(this.#software, texts.join(' '));
    // Where it has been changed since by another hand, there is nothing to take back.
    if (this.#own !== undefined && own !== ticks) this.#own = undefined;
    this.#give.hidden = ticks === undefined || this.#own !== undefined || own === ticks;
    this.#back.hidden = this.#own === undefined;
  }

  /** One revision: the software is as late as the visitor, and is kicked. */
  #giveDelay(): void {
    const { actions, ticks } = this;
    const own = actions.value(DELAY)?.value;
    if (ticks === undefined || own === undefined) return;
    this.host.putAway();
    if (!this.#set(ticks, words.delay.revision)) return;
    this.#own = own;
    this.#tellSoftware();
    actions.level(STEADIED);
    actions.resetRun();
    actions.kick(actions.store.state.active);
    say(this.#given, words.delay.given);
  }

  #takeBack(): void {
    const own = this.#own;
    if (own === undefined || !this.#set(own, words.delay.revisionBack)) return;
    this.#own = undefined;
    this.#tellSoftware();
    this.actions.resetRun();
    this.actions.kick(this.actions.store.state.active);
    say(this.#given, words.delay.takenBack);
  }

  #set(ticks: number, why: string): boolean {
    const { actions } = this;
    actions.revisions.history.close();
    actions.because = why;
    const answer = actions.setKnob(DELAY, ticks);
    actions.because = '';
    actions.revisions.history.close();
    if (refused(answer)) actions.showProblems(answer.problems, words.delay.title);
    return !refused(answer);
  }
}
