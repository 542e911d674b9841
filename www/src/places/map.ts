// The place of maps: two knobs against each other, every cell a run. It maps when it is opened and
// after changes, coarse to fine; what is stale is dropped.

import './trials.css';
import './map.css';
import { GivenUp, lab } from '../core/lab';
import type { MapAsk, MapDone, MapPlan } from '../core/lab.map';
import { runMap, warmMap } from '../core/map';
import { refused, type Problem } from '../core/types';
import { button, el, say } from '../dom';
import { newId } from '../recorder';
import { mapWords as words } from '../words/map';
import { MapFigure } from './map/figure';
import { MapForm, Unasked, type Question } from './map/form';
import { makeHands } from './map/hands';
import { makeHeadStory } from './map/head';
import { KeptMaps } from './map/kept';
import { makeMatters } from './map/matters';
import { MapModel, titleOf } from './map/model';
import { Player, type Played } from './map/play';
import { MAP_VERSION, type KeptMap } from './map/record';
import { saveLinks, type Facts } from './map/save';
import type { Place, PlaceContext } from './place';
import { trialWords } from '../words/trials';
import { Bench, Running } from './trials/bench';

/** Rest after the last change before it is mapped anew [ms]. */
const REST = 400;
/** Where the page scrolls, the cells are at most this share of the window high. */
const SHARE_HIGH = 0.5;
/** Where the place scrolls by itself, title, readout and axis have this much of its height [px]. */
const AROUND = 108;
/** Where everything lies in one column and the page scrolls. */
const narrow = window.matchMedia('(max-width: 1099px)');

/** The map that is shown, with all that made it. */
interface Mapped {
  readonly ask: MapAsk;
  readonly question: Question;
  readonly model: MapModel;
  readonly robotName: string;
  readonly spreads: string;
  readonly modelVersion: number;
  done: MapDone | undefined;
}

export function make(context: PlaceContext): Place {
  const place = new MapPlace(context);
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

class MapPlace {
  readonly element: HTMLElement;
  readonly #bench: Bench;
  readonly #form: MapForm;
  readonly #figure: MapFigure;
  readonly #besideFigure: MapFigure;
  readonly #kept: KeptMaps;
  readonly #player: Player;
  /** What stands below the map; each begins when it comes near, so that the map has the cores to itself. */
  readonly #parts = new Map<Element, { readonly place: Place; near: boolean; begun: boolean }>();
  readonly #status = el('p', { class: 'note', role: 'status' });
  readonly #wrong: Running;
  readonly #title = el('h2', {});
  readonly #of = el('p', { class: 'note' });
  readonly #line = el('p', { class: 'rowof running' });
  readonly #text = el('span', {});
  readonly #bar = el('progress', { max: 1, value: 0 });
  readonly #time = el('p', { class: 'note digest' });
  readonly #saves: HTMLElement;
  #shown: Mapped | undefined;
  #abort: AbortController | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #open = false;
  #wanted = true;
  /** What the map is of, without the two knobs that it varies. */
  #signature = '';
  /** Robot file as it was opened, of which the ranges are. */
  #robot: string | undefined;

  constructor(private readonly context: PlaceContext) {
    const { actions, theme } = context;
    const failed = (problems: readonly Problem[]): void => {
      const [first] = problems;
      say(this.#status, first === undefined ? '' : `${words.wrong} ${trialWords.expected(first.expected, first.hint)}`);
    };
    say(this.#status, words.opening);
    this.#bench = new Bench(actions, failed);
    this.#wrong = new Running(actions, []);
    this.#player = new Player(actions, theme);
    this.#form = new MapForm(
      this.#bench,
      () => {
        this.#soon(REST);
      },
      () => {
        this.#limit();
      },
    );
    this.#figure = new MapFigure(makeHands(actions, this.#player, () => this.#shown?.model.plan, () => this.#playedNow()), 'map');
    this.#besideFigure = new MapFigure(makeHands(actions, this.#player, () => this.#kept.chosen?.plan, () => this.#playedKept()), 'map-kept');
    this.#line.append(
      this.#bar,
      this.#text,
      button(words.cancel, { class: 'act cancel' }, () => {
        if (this.#abort === undefined) return;
        this.#abort.abort();
        this.#wanted = false;
        actions.tell(words.cancelled);
      }),
    );
    this.#line.hidden = true;
    this.#saves = el(
      'div',
      { class: 'rowof' },
      saveLinks(actions, () => this.#facts(), this.#figure),
      button(words.keep, { class: 'link' }, () => void this.#keep()),
    );
    this.#saves.hidden = true;
    this.#kept = new KeptMaps(actions, {
      figure: this.#besideFigure,
      saves: saveLinks(actions, () => this.#factsKept(), this.#besideFigure),
      shown: (kept) => {
        this.element.classList.toggle('twomaps', kept !== undefined);
        this.#room();
      },
      ask: (question) => {
        this.#form.use(question);
      },
    });
    const below = (name: string, place: Place): HTMLElement => {
      const section = el('section', { class: 'belowmap', 'aria-label': name }, el('h2', {}, name), place.element);
      this.#parts.set(section, { place, near: false, begun: false });
      return section;
    };
    const run = button(words.run, { class: 'act', 'data-act': 'map' }, () => {
      this.#soon(0);
    });
    this.element = el(
      'div',
      { class: 'trials mapplace' },
      el(
        'div',
        { class: 'twosided' },
        el('div', { class: 'asked', role: 'group', 'aria-label': words.asked }, el('p', { class: 'note' }, words.about), this.#form.element, el('div', { class: 'rowof presses' }, run), this.#status),
        el(
          'div',
          { class: 'maps' },
          el(
            'section',
            { class: 'thismap', 'aria-label': words.role },
            el('div', { class: 'maphead' }, el('div', { class: 'maptitle' }, this.#title, this.#of), el('div', { class: 'mapline' }, this.#line)),
            this.#wrong.element,
            this.#figure.element,
            this.#saves,
            this.#time,
          ),
          this.#kept.beside,
        ),
      ),
      this.#kept.element,
      below(words.matters, makeMatters(context)),
      below(words.head, makeHeadStory(context)),
    );
    const seen = new IntersectionObserver((entries) => {
      for (const { target, isIntersecting } of entries) {
        const part = this.#parts.get(target);
        if (part !== undefined) part.near = isIntersecting;
      }
      this.#beginParts();
    });
    for (const section of this.#parts.keys()) seen.observe(section);
    this.#bench.onCatalogue((catalogue) => {
      say(this.#status, '');
      // Another robot has ranges of its own.
      const { opened } = this.#bench.robot();
      if (opened !== this.#robot) this.#form.around();
      this.#robot = opened;
      this.#form.offer(catalogue);
      if (this.#wanted || this.#sign() !== this.#signature) this.#soon(this.#shown === undefined ? 0 : REST);
    });
    actions.store.watch(['knobs', 'robot'], () => {
      this.#figure.touch();
      this.#besideFigure.touch();
    });
    this.#bench.onChange(() => {
      // The two knobs themselves move the crosshair and nothing else.
      if (this.#open && this.#shown !== undefined && this.#sign() !== this.#signature) this.#wanted = true;
    });
    theme.onChange(() => {
      this.#figure.forgetInks();
      this.#besideFigure.forgetInks();
    });
    window.matchMedia('(forced-colors: active)').addEventListener('change', () => {
      this.#figure.forgetInks();
      this.#besideFigure.forgetInks();
    });
    new ResizeObserver(() => {
      this.#room();
    }).observe(this.element);
    window.addEventListener('resize', () => {
      this.#room();
    });
  }

  opened(): void {
    lab().warm();
    warmMap();
    this.#open = true;
    this.#room();
    this.#bench.opened();
    this.#beginParts();
    this.#figure.touch();
    this.#besideFigure.touch();
    if (this.#bench.catalogue !== undefined && (this.#wanted || this.#sign() !== this.#signature)) this.#soon(0);
  }

  closed(): void {
    this.#open = false;
    clearTimeout(this.#timer);
    this.#player.still();
    this.#bench.closed();
    for (const part of this.#parts.values()) {
      if (part.begun) part.place.closed?.();
      part.begun = false;
    }
    if (this.#abort !== undefined) {
      this.#abort.abort();
      // It is mapped to its end when it is seen again.
      this.#wanted = true;
    }
  }

  #beginParts(): void {
    for (const part of this.#parts.values()) {
      if (!this.#open || !part.near || part.begun) continue;
      part.begun = true;
      part.place.opened?.();
    }
  }

  #room(): void {
    const seen = this.element.closest('.place')?.clientHeight ?? 0;
    const most = narrow.matches || seen === 0 ? innerHeight * SHARE_HIGH : Math.max(seen - AROUND, 240);
    this.#figure.room(most);
    this.#besideFigure.room(most);
  }

  // Mapping.

  /** Maps when nothing more has changed for a while. */
  #soon(rest: number): void {
    this.#wanted = true;
    clearTimeout(this.#timer);
    if (this.#open) this.#timer = setTimeout(() => void this.#map(), rest);
  }

  /** The robot as far as the map depends on it: without the two knobs, and without how numbers are known. */
  #sign(): string {
    const { robot, opened, inches } = this.#bench.robot();
    const varied = this.#form.knobs;
    const bare = (text: string): unknown => {
      const file = JSON.parse(text, (key: string, value: unknown) => (key === 'marks' || key === 'mark' ? undefined : value)) as Record<string, Record<string, unknown> | undefined>;
      for (const key of varied) {
        const [group = '', name = ''] = key.split('.');
        const box = file[group];
        if (typeof box === 'object') Reflect.deleteProperty(box, name);
      }
      return file;
    };
    return JSON.stringify([bare(robot), opened === undefined ? '' : bare(opened), inches]);
  }

  async #map(): Promise<void> {
    this.#abort?.abort();
    const abort = new AbortController();
    this.#abort = abort;
    this.#wanted = false;
    const { signal } = abort;
    try {
      const question = await this.#form.question();
      if (signal.aborted) return;
      const robot = this.#bench.robot();
      this.#signature = this.#sign();
      this.#wrong.show([]);
      await this.#run({ ...robot, ...question }, question, signal);
    } catch (cause) {
      if (cause instanceof Unasked) this.#wrong.show(cause.problems);
      else if (!(cause instanceof GivenUp)) throw cause;
    } finally {
      if (this.#abort === abort) {
        this.#abort = undefined;
        this.#busy(false);
      }
    }
  }

  async #run(ask: MapAsk, question: Question, signal: AbortSignal): Promise<void> {
    const { actions } = this.context;
    let mapped: Mapped | undefined;
    this.#busy(true);
    this.#bar.removeAttribute('value');
    say(this.#text, words.starting);
    const done = await runMap(ask, {
      signal,
      plan: (plan) => {
        if (signal.aborted) return;
        if (mapped === undefined) {
          mapped = this.#begin(ask, question, plan);
        } else {
          mapped.model.plan = plan;
          this.#figure.update();
        }
      },
      tile: (tile, spacing) => {
        if (signal.aborted || mapped === undefined) return;
        mapped.model.take(tile, spacing);
        this.#figure.update();
      },
      progress: (count, of) => {
        if (signal.aborted) return;
        this.#bar.max = Math.max(of, 1);
        this.#bar.value = count;
        say(this.#text, words.progress(count, of));
      },
    });
    if (signal.aborted) return;
    if (refused(done)) {
      this.#wrong.show(done.problems);
      return;
    }
    if (mapped === undefined) return;
    mapped.done = done as MapDone;
    this.#figure.update();
    this.#finish(mapped);
    actions.tell(words.told(titleOf(mapped.model.plan), this.#figure.settled()));
  }

  #busy(busy: boolean): void {
    const inside = this.#line.contains(document.activeElement);
    this.#line.hidden = !busy;
    if (!busy && inside) this.#figure.canvas.focus({ preventScroll: true });
  }

  #begin(ask: MapAsk, question: Question, plan: MapPlan): Mapped {
    const { robot } = this.context.actions.store.state;
    const { catalogue } = this.#bench;
    const spreads = Object.entries(ask.spreads ?? {}).map(([key, value]) => `${words.spread[key as keyof typeof words.spread]} ${value < 1 ? `${Math.round(1000 * value) / 10} %` : value}`);
    const mapped: Mapped = {
      ask,
      question: {
        ...question,
        // With the ends that were taken, so that it can be asked again.
        x: { ...question.x, ...endsOf(plan.x.values) },
        y: { ...question.y, ...endsOf(plan.y.values) },
      },
      model: new MapModel(plan),
      robotName: robot.name,
      spreads: spreads.length === 0 ? '' : `${words.csvHead.spreads} ${spreads.join(', ')}`,
      modelVersion: catalogue?.modelVersion ?? 0,
      done: undefined,
    };
    this.#shown = mapped;
    this.#form.known(plan);
    say(this.#title, titleOf(plan));
    say(this.#of, [mapped.robotName, plan.title, mapped.spreads].filter((part) => part !== '').join(', '));
    say(this.#time, '');
    this.#saves.hidden = true;
    this.#limit();
    this.#figure.show(mapped.model);
    return mapped;
  }

  #finish(mapped: Mapped): void {
    const { done } = mapped;
    if (done === undefined) return;
    const ms = (value: number): string => (value < 1000 ? `${Math.round(value)} ms` : `${(value / 1000).toFixed(2)} s`);
    const hours = done.simulated / 3600;
    const simulated = hours >= 1 ? `${hours.toFixed(1)} h` : `${Math.round(done.simulated / 60)} min`;
    say(this.#time, `${words.time(ms(done.whole), ms(done.first), done.workers, simulated)} ${words.digest(done.digest, mapped.modelVersion)}`);
    this.#saves.hidden = false;
  }

  #limit(): void {
    try {
      this.#figure.limit(this.#form.limit());
    } catch (cause) {
      this.context.actions.notice(cause instanceof Error ? cause.message : String(cause));
    }
  }

  // What can be played and saved.

  #playedNow(): Omit<Played, 'knobs'> | undefined {
    const ask = this.#shown?.ask;
    if (ask === undefined) return undefined;
    return { opened: ask.opened ?? ask.robot, robot: ask.robot, inches: ask.inches === true, trial: ask.trial };
  }

  #playedKept(): Omit<Played, 'knobs'> | undefined {
    const kept = this.#kept.chosen;
    if (kept === undefined) return undefined;
    return { opened: kept.opened, robot: kept.robot, inches: kept.inches, trial: kept.question.trial };
  }

  #facts(): Facts | undefined {
    const shown = this.#shown;
    if (shown === undefined) return undefined;
    const { robotName: robot, spreads, modelVersion, done, model } = shown;
    return { robot, title: titleOf(model.plan), trial: model.plan.title, spreads, modelVersion, done, robotAt: this.#figure.robotSpot() };
  }

  #factsKept(): Facts | undefined {
    const kept = this.#kept.chosen;
    if (kept === undefined) return undefined;
    const { robotName: robot, spreads, modelVersion, done, plan } = kept;
    return { robot, title: titleOf(plan), trial: plan.title, spreads, modelVersion, done, robotAt: this.#besideFigure.robotSpot() };
  }

  async #keep(): Promise<void> {
    const shown = this.#shown;
    if (shown === undefined) return;
    const { ask, question, model, robotName, spreads, modelVersion, done } = shown;
    const kept: Omit<KeptMap, 'name'> = {
      version: MAP_VERSION,
      id: newId(),
      at: Date.now(),
      robotName,
      robot: ask.robot,
      opened: ask.opened ?? ask.robot,
      inches: ask.inches === true,
      question,
      spreads,
      plan: model.plan,
      values: model.values.slice(),
      classes: model.classes.slice(),
      done,
      modelVersion,
      limit: this.#figure.drawn.limit,
    };
    await this.#kept.keep(kept, `${robotName}, ${titleOf(model.plan)}`);
  }
}

/** First and last value of an axis [SI]. */
function endsOf(values: Float64Array): { readonly from: number; readonly to: number } {
  return { from: values[0] ?? 0, to: values[values.length - 1] ?? 0 };
}
