// The part that records: choices, the press, and a line on the board that says what runs and stops it, for
// the place may be closed meanwhile.

import { button, el, say } from '../../dom';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { Choice } from '../trials/fields';
import { fileName, save } from './names';
import { recordable, Recording, type Kind } from './recording';

const LENGTHS = [5, 10, 15, 30, 60];
/** Longest clip [s]. */
const MOST = 60;
const RATES = [30, 60];

export class ClipPart {
  readonly element: HTMLElement;
  readonly #length = new Choice(words.clip.length, () => undefined);
  readonly #rate = new Choice(words.clip.rate, () => undefined);
  readonly #format = new Choice(words.clip.format, () => undefined);
  readonly #strip = el('input', { type: 'checkbox', id: 'clip-strip', checked: true });
  readonly #press: HTMLButtonElement;
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #kinds = recordable();
  #recording: Recording | undefined;
  #bar: { readonly element: HTMLElement; readonly time: HTMLElement } | undefined;

  constructor(private readonly context: PlaceContext) {
    this.#length.offer([...LENGTHS.map((seconds) => [String(seconds), words.clip.lengths(seconds)] as const), ['0', words.clip.untilStopped(MOST)]], '10');
    this.#rate.offer(RATES.map((rate) => [String(rate), String(rate)]), '30');
    this.#format.offer([...this.#kinds.keys()].map((kind) => [kind, kind === 'webm' ? 'WebM' : 'MP4']));
    this.#press = button(words.clip.record, { class: 'act', 'data-act': 'record' }, () => {
      if (this.#recording === undefined) this.#start();
      else this.#recording.stop();
    });
    const can = this.#kinds.size > 0;
    this.element = el(
      'section',
      { class: 'part clippart', 'aria-label': words.clip.title },
      el('h2', {}, words.clip.title),
      el('p', { class: 'note' }, words.clip.about),
      ...(can
        ? [
            el('div', { class: 'fields' }, this.#length.element, this.#rate.element, this.#format.element),
            el('p', { class: 'tick' }, this.#strip, el('label', { for: 'clip-strip' }, words.clip.strip)),
            el('div', { class: 'rowof' }, this.#press),
            el('p', { class: 'note' }, words.clip.note),
          ]
        : [el('p', { class: 'cannot' }, words.clip.cannot)]),
      this.#status,
    );
  }

  #start(): void {
    const kind = this.#format.value as Kind;
    const mime = this.#kinds.get(kind);
    if (mime === undefined) return;
    const asked = Number(this.#length.value);
    const seconds = asked > 0 ? asked : MOST;
    let recording: Recording;
    try {
      recording = new Recording(
        this.context.actions,
        { kind, mime, rate: Number(this.#rate.value), seconds, strip: this.#strip.checked },
        (now, waits) => {
          if (this.#bar !== undefined) say(this.#bar.time, waits ? words.clip.waits : words.clip.recording(Math.floor(now), seconds));
        },
      );
    } catch (cause) {
      say(this.#status, words.clip.failed(reason(cause)));
      return;
    }
    this.#recording = recording;
    say(this.#press, words.clip.stop);
    say(this.#status, words.clip.began);
    this.#showBar(recording, seconds);
    void this.#finish(recording);
  }

  async #finish(recording: Recording): Promise<void> {
    const { actions } = this.context;
    try {
      const taken = await recording.ended;
      if (taken === undefined) say(this.#status, words.clip.dropped);
      else if (taken.blob.size === 0) say(this.#status, words.clip.empty);
      else {
        const name = fileName(actions.store.state.robot.name, words.files.clip, taken.kind);
        save(actions, taken.blob, name);
        const told = words.clip.ended(name, words.size(taken.blob.size), taken.seconds.toFixed(1));
        say(this.#status, taken.full ? `${told}. ${words.clip.full}` : told);
      }
    } catch (cause) {
      say(this.#status, words.clip.failed(reason(cause)));
    } finally {
      this.#recording = undefined;
      say(this.#press, words.clip.record);
      this.#takeBar();
    }
  }

  #showBar(recording: Recording, seconds: number): void {
    const time = el('span', { class: 'time' }, words.clip.recording(0, seconds));
    const stop = button(words.clip.stop, { class: 'act' }, () => {
      recording.stop();
    });
    const drop = button(words.clip.drop, { class: 'link' }, () => {
      recording.drop();
    });
    const element = el('div', { class: 'recordingbar', role: 'group', 'aria-label': words.clip.title }, time, stop, drop);
    document.querySelector('.board')?.append(element);
    this.#bar = { element, time };
  }

  #takeBar(): void {
    const had = this.#bar?.element.contains(document.activeElement) === true;
    this.#bar?.element.remove();
    this.#bar = undefined;
    // The focus is not lost with the press that had it.
    if (had && this.#press.isConnected) this.#press.focus({ preventScroll: true });
    else if (had) document.querySelector<HTMLElement>('.placeindex .link')?.focus({ preventScroll: true });
  }
}

const reason = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));
