// The part that records: choices, the press, and a line on the board that says what runs and stops it, for
// the place may be closed meanwhile.

import { button, el, say } from '../../dom';
import { words as page } from '../../words/page';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { Choice } from '../trials/fields';
import { download } from '../kept/table';
import { fileName } from './names';
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
  /** Pressed, and not yet recording. */
  #begins = false;
  #bar: { readonly element: HTMLElement; readonly time: HTMLElement } | undefined;

  constructor(private readonly context: PlaceContext) {
    this.#length.offer([...LENGTHS.map((seconds) => [String(seconds), words.clip.lengths(seconds)] as const), ['0', words.clip.untilStopped(MOST)]], '10');
    this.#rate.offer(RATES.map((rate) => [String(rate), String(rate)]), '30');
    this.#format.offer([...this.#kinds.keys()].map((kind) => [kind, kind === 'webm' ? 'WebM' : 'MP4']));
    this.#press = button(words.clip.record, { class: 'act', 'data-act': 'record' }, () => {
      if (this.#recording !== undefined) this.#recording.stop();
      else if (!this.#begins) void this.#begin();
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

  /** The place gives way first: then the board has all its room, and that is the size of the clip. */
  async #begin(): Promise<void> {
    this.#begins = true;
    this.context.actions.store.set({ place: undefined });
    for (let frame = 0; frame < 3; frame++) await new Promise(requestAnimationFrame);
    this.#begins = false;
    this.#start();
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
      this.#tell(words.clip.failed(reason(cause)));
      return;
    }
    this.#recording = recording;
    say(this.#press, words.clip.stop);
    say(this.#status, '');
    this.context.actions.tell(words.clip.began);
    this.#showBar(recording, seconds);
    void this.#finish(recording);
  }

  async #finish(recording: Recording): Promise<void> {
    const { actions } = this.context;
    try {
      const taken = await recording.ended;
      if (taken === undefined) this.#tell(words.clip.dropped);
      else if (taken.blob.size === 0) this.#tell(words.clip.empty);
      else {
        const name = fileName(actions.store.state.robot.name, words.files.clip, taken.kind);
        download(taken.blob, name);
        const told = words.clip.ended(name, words.size(taken.blob.size), taken.seconds.toFixed(1));
        this.#tell(taken.full ? `${told}. ${words.clip.full}` : told);
      }
    } catch (cause) {
      this.#tell(words.clip.failed(reason(cause)));
    } finally {
      this.#recording = undefined;
      say(this.#press, words.clip.record);
      this.#takeBar();
    }
  }

  /** On the sheet, and here for who comes back. */
  #tell(text: string): void {
    say(this.#status, text);
    this.context.actions.notice(text);
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
    // The press that began it has gone with its place.
    stop.focus({ preventScroll: true });
  }

  #takeBar(): void {
    const had = this.#bar?.element.contains(document.activeElement) === true;
    this.#bar?.element.remove();
    this.#bar = undefined;
    // The focus is not lost with the press that had it.
    if (!had) return;
    const index = [...document.querySelectorAll<HTMLElement>('.placeindex .link')];
    const back = index.find((press) => press.textContent === page.places.names.sheets);
    (this.#press.isConnected ? this.#press : back)?.focus({ preventScroll: true });
  }
}

const reason = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));
