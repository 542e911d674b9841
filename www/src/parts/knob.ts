// One knob: its label, its number with unit, its track. Sliders act at once, numbers can be
// typed, dragged and stepped, a double click or Delete puts the knob back as it was opened.

import { refused, type KnobInfo, type KnobValue } from '../core/types';
import type { Actions } from '../actions';
import { button, clamp, el, letGoAfterPointer, say } from '../dom';
import { explain } from '../helps';
import { said } from '../words/core';
import { words } from '../words/page';
import { Pieces } from './spans';

/** Divisions of the slider element; the values between are ours. */
const DIVISIONS = 1000;
/** How far the track reaches on both sides of the value as opened. */
const REACH = 6.5;
/** Pixels of dragging on the number for the whole track. */
const DRAG_WAY = 300;

let serial = 0;

export class Knob {
  readonly element: HTMLElement;
  readonly #number: HTMLInputElement;
  readonly #track: HTMLInputElement | undefined;
  readonly #choice: HTMLSelectElement | undefined;
  readonly #back: HTMLButtonElement;
  #raw: HTMLInputElement | undefined;
  readonly #rawUnit = el('span', {});
  /** Where the value comes from; a screen reader finds it under “My robot”. */
  readonly #letter = el('span', { class: 'letter', 'aria-hidden': 'true' });
  readonly #wrong = el('p', { class: 'wrong', role: 'alert' });
  readonly #pieces: Pieces | undefined;
  #low = 0;
  #high = 1;

  constructor(
    readonly key: string,
    private readonly actions: Actions,
    options: { readonly balloon?: number; readonly showRaw?: boolean } = {},
  ) {
    const info = this.#info;
    serial += 1;
    const id = `knob-${serial}`;
    this.#wrong.id = `${id}-wrong`;
    this.#number = el('input', {
      id,
      class: 'number',
      type: 'text',
      autocomplete: 'off',
      spellcheck: 'false',
      'aria-describedby': this.#wrong.id,
    });
    const label = el('label', { class: 'label', for: id }, info.label);
    if (options.showRaw === true) label.append(this.#letter);
    if (options.balloon !== undefined) {
      label.prepend(el('span', { class: 'balloon', 'aria-hidden': 'true' }, String(options.balloon)));
    }
    this.#back = button('↺', { class: 'back' }, () => {
      this.#putBack();
    });
    this.element = el('div', { class: 'knob', 'data-key': key }, label);
    if (info.kind === 'choice') {
      this.#choice = this.#makeChoice(id);
      this.element.classList.add('choice');
      this.element.append(this.#back, this.#choice, this.#wrong);
    } else {
      this.#track = this.#makeTrack();
      this.#pieces = new Pieces(this.#track);
      this.element.append(this.#back, this.#number, this.#pieces.element, this.#track);
      if (options.showRaw === true && this.#value().rawUnit !== '') this.element.append(this.#makeRaw());
      this.element.append(this.#wrong);
      this.#listenNumber();
    }
    explain(key, label, this.#choice ?? this.#number);
    this.element.addEventListener('dblclick', (event) => {
      if (event.target !== this.#number || document.activeElement !== this.#number) this.#putBack();
    });
    this.refresh();
  }

  /** Shows what the core holds now. */
  refresh(): void {
    const value = this.#value();
    const changed = value.value !== value.opened;
    this.element.classList.toggle('changed', changed);
    const [letter, meaning] = words.knobs.markLetters[value.mark] ?? ['', ''];
    say(this.#letter, letter);
    this.#letter.title = meaning;
    // Its room stays, so that nothing jumps under the pointer.
    this.#back.classList.toggle('away', !changed);
    if (changed) {
      const text = words.knobs.back(this.#info.label, value.openedText);
      this.#back.setAttribute('aria-label', text);
      this.#back.title = text;
    }
    if (this.#choice !== undefined) {
      this.#choice.value = String(value.value);
      return;
    }
    if (document.activeElement !== this.#number) this.#number.value = value.text;
    if (this.#raw !== undefined && document.activeElement !== this.#raw) {
      this.#raw.value = value.raw;
      say(this.#rawUnit, value.rawUnit);
    }
    this.#span(value);
    const track = this.#track;
    if (track === undefined) return;
    const place = this.#place(value.value);
    track.value = String(Math.round(place * DIVISIONS));
    track.setAttribute('aria-valuetext', value.text);
    track.style.setProperty('--opened', this.#place(value.opened).toFixed(4));
    this.mark();
  }

  /** Shows on the track where the robot stays steady, as far as it is known. */
  mark(): void {
    // In a lesson the track would tell what is to be found out.
    const { spans, place } = this.actions.store.state;
    this.#pieces?.show(place === 'lessons' ? undefined : spans?.get(this.key), (value) => this.#place(value));
  }

  /** Asked anew each time: units and steps may be switched. */
  get #info(): KnobInfo {
    const info = this.actions.knobs.get(this.key);
    if (info === undefined) throw new Error(`no knob ${this.key}`);
    return info;
  }

  #value(): KnobValue {
    const value = this.actions.value(this.key);
    if (value === undefined) throw new Error(`no value for ${this.key}`);
    return value;
  }

  #makeTrack(): HTMLInputElement {
    const track = el('input', {
      class: 'track',
      type: 'range',
      min: 0,
      max: DIVISIONS,
      step: 1,
      'aria-label': words.knobs.track(this.#info.label),
    });
    track.addEventListener('input', () => {
      const place = Number(track.value) / DIVISIONS;
      this.#set(this.#round(this.#at(place)));
    });
    track.addEventListener('keydown', (event) => {
      this.#step(event);
    });
    return track;
  }

  /** The same knob as the firmware has it; either number may be typed. */
  #makeRaw(): HTMLElement {
    const raw = el('input', {
      type: 'text',
      inputmode: 'decimal',
      autocomplete: 'off',
      'aria-label': words.knobs.rawLabel(this.#info.label),
      'aria-describedby': this.#wrong.id,
    });
    const take = (): void => {
      const typed = raw.value.trim();
      if (typed === '' || typed === this.#value().raw) this.#clear();
      else this.#answer(this.actions.typeRaw(this.key, typed));
    };
    raw.addEventListener('change', take);
    raw.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') take();
      if (event.key === 'Escape') raw.value = this.#value().raw;
    });
    raw.addEventListener('blur', () => {
      this.refresh();
    });
    this.#raw = raw;
    return el('label', { class: 'raw', title: words.knobs.rawTitle }, words.knobs.raw, raw, this.#rawUnit);
  }

  #makeChoice(id: string): HTMLSelectElement {
    const choice = letGoAfterPointer(el('select', { id }));
    this.#info.words.forEach((word, index) => {
      choice.append(el('option', { value: index }, said(word)));
    });
    choice.addEventListener('change', () => {
      this.#set(Number(choice.value));
    });
    return choice;
  }

  #listenNumber(): void {
    const number = this.#number;
    let from: { x: number; place: number; moved: boolean } | undefined;
    const take = (): void => {
      const typed = number.value.trim();
      if (typed === '' || typed === this.#value().text) this.#clear();
      else this.#answer(this.actions.typeKnob(this.key, typed));
    };
    number.addEventListener('focus', () => {
      number.select();
    });
    number.addEventListener('change', take);
    number.addEventListener('blur', () => {
      if (this.#wrong.textContent === '') this.refresh();
    });
    number.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') {
        take();
        // On to the track, where single keys act again; a refused number stays to be mended.
        if (this.#wrong.textContent === '') this.#track?.focus();
        else number.select();
      } else if (event.key === 'Escape') {
        this.#clear();
        number.value = this.#value().text;
      } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
        this.#step(event);
        number.value = this.#value().text;
      }
    });
    number.addEventListener('pointerdown', (event) => {
      if (event.pointerType === 'mouse' && document.activeElement !== number) {
        from = { x: event.clientX, place: this.#place(this.#value().value), moved: false };
        number.setPointerCapture(event.pointerId);
      }
    });
    number.addEventListener('pointermove', (event) => {
      if (from === undefined) return;
      const way = event.clientX - from.x;
      if (!from.moved && Math.abs(way) < 4) return;
      from.moved = true;
      number.blur();
      this.#set(this.#round(this.#at(clamp(from.place + way / DRAG_WAY, 0, 1))));
    });
    const end = (): void => {
      from = undefined;
    };
    number.addEventListener('pointerup', end);
    number.addEventListener('pointercancel', end);
  }

  /** Steps by key. The slider's own steps would be uneven on a logarithmic track. */
  #step(event: KeyboardEvent): void {
    const steps = {
      ArrowRight: 1,
      ArrowUp: 1,
      ArrowLeft: -1,
      ArrowDown: -1,
      PageUp: 10,
      PageDown: -10,
    }[event.key];
    if (event.key === 'Delete' || event.key === 'Backspace') {
      this.#putBack();
    } else if (event.key === 'Home') {
      this.#set(this.#low);
    } else if (event.key === 'End') {
      this.#set(this.#high);
    } else if (steps !== undefined) {
      const { min, max } = this.#info;
      this.#set(clamp(this.#round(this.#value().value + steps * this.#stride()), min, max));
    } else {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  }

  /** The catalogue's step, larger where a hundredth of the track is far more. */
  #stride(): number {
    const { step } = this.#info;
    const wide = (this.#high - this.#low) / 200;
    return wide > step ? Math.max(step, step * 10 ** Math.floor(Math.log10(wide / step))) : step;
  }

  #set(value: number): void {
    this.#answer(this.actions.setKnob(this.key, value));
  }

  #putBack(): void {
    this.#set(this.#value().opened);
  }

  #answer(answer: ReturnType<Actions['setKnob']>): void {
    if (refused(answer)) {
      const problem = answer.problems[0];
      const text = [problem?.expected, problem?.hint].filter((part) => part !== '').join('; ');
      say(this.#wrong, words.problems.inShort(text, problem?.kept ?? ''));
      this.#number.setAttribute('aria-invalid', 'true');
      this.refresh();
    } else {
      this.#clear();
    }
  }

  #clear(): void {
    say(this.#wrong, '');
    this.#number.removeAttribute('aria-invalid');
  }

  // The track: a stretch of the admissible range around the value as opened.

  #span(value: KnobValue): void {
    const { min, max, logarithmic } = this.#info;
    const { opened } = value;
    let low = min;
    let high = max;
    if (logarithmic) {
      low = Math.max(min, opened / REACH);
      high = Math.min(max, opened * REACH);
    } else if (opened > 0 && min >= 0) {
      high = Math.min(max, Math.max(opened * REACH, min + (max - min) / 50));
    }
    // The ends of a whole number's track are whole, or they would be refused.
    if (this.#info.kind === 'whole') {
      low = Math.ceil(low);
      high = Math.floor(high);
    }
    // Whatever was typed beyond it is on the track too.
    if (value.value < low) low = min;
    if (value.value > high) high = max;
    this.#low = low;
    this.#high = high > low ? high : low + 1;
  }

  #place(value: number): number {
    const place = this.#info.logarithmic
      ? Math.log(value / this.#low) / Math.log(this.#high / this.#low)
      : (value - this.#low) / (this.#high - this.#low);
    return Number.isFinite(place) ? clamp(place, 0, 1) : 0;
  }

  #at(place: number): number {
    if (place <= 0) return this.#low;
    if (place >= 1) return this.#high;
    return this.#info.logarithmic
      ? this.#low * (this.#high / this.#low) ** place
      : this.#low + (this.#high - this.#low) * place;
  }

  /** To the catalogue's step, so that a drag gives numbers a person would type. */
  #round(value: number): number {
    const { kind, step, min, max } = this.#info;
    if (kind === 'whole') return clamp(Math.round(value), min, max);
    if (value <= this.#low || value >= this.#high) return clamp(value, min, max);
    const rounded = Math.round(value / step) * step;
    // A step coarser than a small value would be no help.
    return rounded === 0 || Math.abs(rounded - value) > 0.1 * Math.abs(value) ? value : clamp(rounded, min, max);
  }
}
