// The place "by hand": the visitor's own delay, and the contest against the software. The board is set for a
// try, and set back as it was when the place is left; the knobs stay the visitor's.

import './hand.css';
import { el, say } from '../dom';
import { handWords as words } from '../words/hand';
import type { Place, PlaceContext } from './place';
import { PutAway } from './hand/away';
import { ContestPart } from './hand/contestpart';
import { DelayPart } from './hand/delaypart';
import { leverInput, PadInput, TiltInput, type HandInput, type InputName } from './hand/inputs';
import { Lever } from './hand/lever';

export function make(context: PlaceContext): Place {
  const hand = new Hand(context);
  return {
    element: hand.element,
    opened: () => {
      hand.opened();
    },
    closed: () => {
      hand.closed();
    },
  };
}

const NAMES: readonly InputName[] = ['lever', 'tilt', 'pad'];

class Hand {
  readonly element = el('div', { class: 'hand' });
  readonly #setup = el('div', { class: 'handsetup' });
  readonly #status = el('p', { class: 'note handinput', role: 'status' });
  readonly #lever = new Lever();
  readonly #putAway: PutAway;
  readonly #delay: DelayPart;
  readonly #contest: ContestPart;
  readonly #inputs: Readonly<Record<InputName, HandInput>>;
  #chosen: InputName = 'lever';

  constructor(private readonly context: PlaceContext) {
    const { actions, loop, theme } = context;
    this.#putAway = new PutAway(actions);
    this.#inputs = { lever: leverInput(this.#lever), tilt: new TiltInput(), pad: new PadInput() };
    const putAway = (): void => {
      this.#putAway.keep();
    };
    const input = (): Promise<HandInput | undefined> => this.#input();
    const lever = this.#lever;
    this.#delay = new DelayPart(actions, { input, lever, putAway });
    this.#contest = new ContestPart(
      actions,
      {
        lever,
        delay: this.#delay,
        putAway,
        input,
        room: (playing) => {
          this.#room(playing);
        },
      },
      theme,
    );
    this.#setup.append(el('p', {}, words.about), this.#choice(), this.#status, el('div', { class: 'handparts' }, this.#contest.element, this.#delay.element, this.#contest.after));
    this.element.append(this.#contest.panel.element, this.#setup);
    loop.read((seen, now) => {
      this.#contest.look(seen, now);
    });
    // Escape leaves the try first, and only then the place.
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.key !== 'Escape' || event.defaultPrevented || !this.element.isConnected) return;
        if (this.#contest.stop(words.stopped.byPress)) event.preventDefault();
      },
      true,
    );
    window.addEventListener('gamepaddisconnected', () => {
      if (this.#chosen === 'pad' && this.element.isConnected && !this.#contest.playing) say(this.#status, words.pad.gone);
    });
    window.addEventListener('gamepadconnected', () => {
      if (this.#chosen === 'pad') say(this.#status, words.pad.here);
    });
  }

  opened(): void {
    this.#contest.opened();
  }

  closed(): void {
    this.#delay.end();
    this.#contest.stop('');
    this.#delay.leave();
    if (this.#putAway.giveBack()) this.context.actions.notice(words.left);
  }

  #choice(): HTMLElement {
    const group = el('fieldset', { class: 'handinputs' }, el('legend', {}, words.input));
    for (const name of NAMES) {
      const radio = el('input', { type: 'radio', name: 'handinput', value: name, checked: name === this.#chosen });
      radio.addEventListener('change', () => {
        this.#delay.end();
        this.#chosen = name;
        say(this.#status, words.inputNotes[name]);
      });
      group.append(el('label', { class: 'check' }, radio, words.inputs[name]));
    }
    say(this.#status, words.inputNotes[this.#chosen]);
    return group;
  }

  async #input(): Promise<HandInput | undefined> {
    const input = this.#inputs[this.#chosen];
    const why = await input.start();
    say(this.#status, why === '' ? words.inputNotes[input.name] : why);
    if (why === '') return input;
    this.context.actions.tell(why);
    this.#contest.say('');
    return undefined;
  }

  /** While a try is played nothing but the board and the lever is seen. */
  #room(playing: boolean): void {
    const { panel } = this.#contest;
    panel.element.hidden = !playing;
    this.#setup.hidden = playing;
    if (playing) panel.leverPlace.append(this.#lever.element);
    document.querySelector('.sheet')?.classList.toggle('inhand', playing);
    this.context.loop.touch();
  }
}
