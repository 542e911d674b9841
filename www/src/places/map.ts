// The place of maps: two knobs against each other, every cell a run. It maps when it is opened and
// after changes, coarse to fine; what is stale is dropped.

import './trials.css';
import './map.css';
import { lab } from '../core/lab';
import type { MapAsk, MapDone, MapPlan } from '../core/lab.map';
import { runMap } from '../core/map';
import { GivenUp } from '../core/lab';
import { refused, type Problem } from '../core/types';
import { button, el, say } from '../dom';
import { newId } from '../recorder';
import { mapWords as words } from './map.words';
import { MapFigure, onAxis, type FigureHands } from './map/figure';
import { MapForm, Unasked, type Question } from './map/form';
import { makeHeadStory } from './map/head';
import { KeptMaps } from './map/kept';
import { makeMatters } from './map/matters';
import { MapModel, valueOf } from './map/model';
import { Player, turn, type Played } from './map/play';
import { MAP_VERSION, type KeptMap } from './map/record';
import { numbersOf, pictureOf, type Facts } from './map/save';
import type { Spot } from './map/draw';
import { download } from './kept/table';
import type { Place, PlaceContext } from './place';
import { trialWords } from './trials.words';
import { Bench, Running } from './trials/bench';

/** Rest after the last change before it is mapped anew [ms]. */
const REST = 400;
/** The cells are at most this share of the window high, so that knobs and map are seen together. */
const SHARE_HIGH = 0.5;

/** The map that is shown, with all that made it. */
interface Mapped {
  readonly ask: MapAsk;
  readonly question: Question;
  readonly model: MapModel;
  readonly robotName: string;
  readonly trial: string;
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
  readonly #parts: readonly Place[];
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
    this.#figure = new MapFigure(this.#hands(() => this.#shown?.model.plan, () => this.#playedNow()), 'map');
    this.#besideFigure = new MapFigure(this.#hands(() => this.#kept.chosen?.plan, () => this.#playedKept()), 'map-kept');
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
      this.#saveLinks(() => this.#facts(), this.#figure),
      button(words.keep, { class: 'link' }, () => void this.#keep()),
    );
    this.#saves.hidden = true;
    this.#kept = new KeptMaps(actions, {
      figure: this.#besideFigure,
      saves: this.#saveLinks(() => this.#factsKept(), this.#besideFigure),
      shown: (kept) => {
        this.element.classList.toggle('twomaps', kept !== undefined);
        this.#room();
      },
      ask: (question) => {
        this.#form.use(question);
      },
    });
    const matters = makeMatters(context);
    const head = makeHeadStory(context);
    this.#parts = [matters, head];
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
            this.#title,
            this.#of,
            el('div', { class: 'mapline' }, this.#line, this.#wrong.element),
            this.#figure.element,
            this.#saves,
            this.#time,
          ),
          this.#kept.beside,
        ),
      ),
      this.#kept.element,
      el('section', { class: 'matterspart', 'aria-label': words.matters }, el('h2', {}, words.matters), matters.element),
      el('section', { class: 'headpart', 'aria-label': words.head }, el('h2', {}, words.head), head.element),
    );
    this.#bench.onCatalogue((catalogue) => {
      say(this.#status, '');
      this.#form.offer(catalogue);
      if (this.#wanted || this.#sign() !== this.#signature) this.#soon(this.#shown === undefined ? 0 : REST);
    });
    actions.store.watch(['knobs', 'robot'], () => {
      this.#figure.touch();
      this.#besideFigure.touch();
    });
    this.#bench.onChange(() => {
      // The two knobs themselves move the crosshair and nothing else.
      if (this.#shown !== undefined && this.#sign() !== this.#signature) this.#wanted = true;
    });
    theme.onChange(() => {
      this.#figure.forgetInks();
      this.#besideFigure.forgetInks();
    });
    window.matchMedia('(forced-colors: active)').addEventListener('change', () => {
      this.#figure.forgetInks();
      this.#besideFigure.forgetInks();
    });
    window.addEventListener('resize', () => {
      this.#room();
    });
    this.#room();
  }

  opened(): void {
    lab().warm();
    this.#open = true;
    this.#bench.opened();
    for (const part of this.#parts) part.opened?.();
    this.#figure.touch();
    if (this.#bench.catalogue !== undefined && (this.#wanted || this.#sign() !== this.#signature)) this.#soon(0);
  }

  closed(): void {
    this.#open = false;
    clearTimeout(this.#timer);
    this.#player.still();
    this.#bench.closed();
    for (const part of this.#parts) part.closed?.();
    if (this.#abort !== undefined) {
      this.#abort.abort();
      // It is mapped to its end when it is seen again.
      this.#wanted = true;
    }
  }

  #room(): void {
    const most = innerHeight * SHARE_HIGH;
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
        mapped = this.#begin(ask, question, plan);
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
    actions.tell(words.told(mapped.model.plan.title, this.#figure.settled()));
  }

  #busy(busy: boolean): void {
    const inside = this.#line.contains(document.activeElement);
    this.#line.hidden = !busy;
    if (!busy && inside) this.#figure.canvas.focus({ preventScroll: true });
  }

  #begin(ask: MapAsk, question: Question, plan: MapPlan): Mapped {
    const { robot } = this.context.actions.store.state;
    const { catalogue } = this.#bench;
    const level = catalogue?.levels.find(({ key }) => key === ask.trial.software)?.word ?? ask.trial.software;
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
      trial: `${ask.trial.trial}, ${trialWords.views[ask.trial.view]}, ${level}`,
      spreads: spreads.length === 0 ? '' : `${words.csvHead.spreads} ${spreads.join(', ')}`,
      modelVersion: catalogue?.modelVersion ?? 0,
      done: undefined,
    };
    this.#shown = mapped;
    this.#form.known(plan);
    say(this.#title, plan.title);
    say(this.#of, [mapped.robotName, mapped.trial, mapped.spreads].filter((part) => part !== '').join(', '));
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

  // Hands on the map.

  #hands(plan: () => MapPlan | undefined, played: () => Omit<Played, 'knobs'> | undefined): FigureHands {
    const { actions } = this.context;
    const knobsAt = (spot: Spot): readonly (readonly [string, number])[] => {
      const at = plan();
      if (at === undefined) return [];
      return [
        [at.x.key, valueOf(at.x, spot.x)],
        [at.y.key, valueOf(at.y, spot.y)],
      ];
    };
    const told = (spot: Spot): readonly [string, string] => {
      const at = plan();
      return at === undefined ? ['', ''] : [onAxis(at.x, valueOf(at.x, spot.x)), onAxis(at.y, valueOf(at.y, spot.y))];
    };
    const figure = (): MapFigure => (plan() === this.#shown?.model.plan ? this.#figure : this.#besideFigure);
    return {
      robot: (x, y) => {
        const [a, b] = [actions.value(x), actions.value(y)];
        return a === undefined || b === undefined ? undefined : [a.value, b.value];
      },
      become: (spot) => {
        const knobs = knobsAt(spot);
        const before = knobs.map(([key]): readonly [string, number] => [key, actions.value(key)?.value ?? Number.NaN]);
        if (knobs.every(([key, value], index) => before[index]?.[0] === key && before[index]?.[1] === value)) return;
        const answer = actions.change(words.became(...told(spot)), (board) => {
          const problems = turn(board, knobs);
          // What was set before the other was refused goes back.
          if (problems.length > 0) turn(board, before);
          return problems.length > 0 ? { problems } : undefined;
        });
        if (refused(answer)) actions.notice(words.refused(answer.problems[0]?.expected ?? ''));
        else actions.tell(words.becameTold(...told(spot)));
      },
      play: (spot) => {
        const what = played();
        if (what === undefined) return;
        const [x, y] = told(spot);
        const text = words.playing(`${y}, ${x}`);
        const shown = figure();
        shown.playing(text);
        let note = '';
        const failed = (reason: string): void => {
          shown.playing(words.playFailed(reason));
          actions.tell(words.playFailed(reason));
        };
        this.#player
          .play({ ...what, knobs: knobsAt(spot) }, text, {
            told: (out) => {
              shown.playing([text, words.playRun(out.title, out.outcome), note].filter((part) => part !== '').join(' · '));
              actions.tell(`${text}. ${out.outcome}`);
            },
            failed: (problems) => {
              failed(problems[0]?.expected ?? '');
            },
            stands: () => {
              note = words.playStands;
            },
          })
          .catch((cause: unknown) => {
            failed(String(cause));
          });
      },
      still: () => {
        this.#player.still();
        this.#figure.playing(undefined);
        this.#besideFigure.playing(undefined);
      },
      tell: (text) => {
        actions.tell(text);
      },
    };
  }

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

  // Keeping and saving.

  #facts(): Facts | undefined {
    const shown = this.#shown;
    if (shown === undefined) return undefined;
    const { robotName: robot, trial, spreads, modelVersion, done, model } = shown;
    return { robot, title: model.plan.title, trial, spreads, modelVersion, done, robotAt: this.#figure.robotSpot() };
  }

  #factsKept(): Facts | undefined {
    const kept = this.#kept.chosen;
    if (kept === undefined) return undefined;
    const { robotName: robot, trial, modelVersion, done, plan } = kept;
    return { robot, title: plan.title, trial, spreads: '', modelVersion, done, robotAt: this.#besideFigure.robotSpot() };
  }

  #saveLinks(facts: () => Facts | undefined, figure: MapFigure): HTMLElement {
    const { actions } = this.context;
    const nameOf = ({ robot, title }: Facts): string =>
      [words.file, robot, title].join(' ').replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase().slice(0, 80).replace(/-$/, '');
    const save = (what: Facts, blob: Blob, ending: string): void => {
      const name = `${nameOf(what)}.${ending}`;
      download(blob, name);
      actions.notice(words.saved(name));
    };
    return el(
      'span',
      { class: 'rowof' },
      button(words.png, { class: 'link' }, () => {
        const [what, { model }] = [facts(), figure];
        if (what === undefined || model === undefined) return;
        void pictureOf(model, figure.inks, figure.drawn, what).then((blob) => {
          if (blob === null) actions.notice(words.pngFailed);
          else save(what, blob, 'png');
        });
      }),
      button(words.csv, { class: 'link' }, () => {
        const [what, { model }] = [facts(), figure];
        if (what === undefined || model === undefined) return;
        save(what, new Blob([numbersOf(model, what)], { type: 'text/csv' }), 'csv');
      }),
    );
  }

  async #keep(): Promise<void> {
    const shown = this.#shown;
    if (shown === undefined) return;
    const { ask, question, model, robotName, trial, modelVersion, done } = shown;
    const kept: Omit<KeptMap, 'name'> = {
      version: MAP_VERSION,
      id: newId(),
      at: Date.now(),
      robotName,
      robot: ask.robot,
      opened: ask.opened ?? ask.robot,
      inches: ask.inches === true,
      question,
      trial,
      plan: model.plan,
      values: model.values.slice(),
      classes: model.classes.slice(),
      done,
      modelVersion,
      limit: this.#figure.drawn.limit,
    };
    await this.#kept.keep(kept, `${robotName}, ${model.plan.title}`);
  }
}

/** First and last value of an axis [SI]. */
function endsOf(values: Float64Array): { readonly from: number; readonly to: number } {
  return { from: values[0] ?? 0, to: values[values.length - 1] ?? 0 };
}
