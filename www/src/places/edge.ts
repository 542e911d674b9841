// How far to the edge: the loop of one view laid open. Whether it is steady and which motion decides;
// its poles, a knob's root track, stable spans, the open loop with its margins, what dead bands and
// dry friction make of it, and the classic hand methods. Follows the knobs; what is closed asks nothing.

import './trials.css';
import './edge.css';
import type { BreakWord, EdgeOut, RestWord } from '../core/lab.edge';
import { VIEW_WORDS, type RobotAsk, type ViewWord } from '../core/lab.types';
import { edgesOf, type Wishes } from '../core/spans';
import { FRONT, type Problem } from '../core/types';
import { el, say } from '../dom';
import { Knob } from '../parts/knob';
import { CurvePart } from './edge/curve';
import { HandPart } from './edge/hand';
import { OscillationPart } from './edge/oscillation';
import { PolePlane } from './edge/plane';
import { PoleTable } from './edge/poles';
import { SpanRows } from './edge/spanrows';
import { Swing } from './edge/swing';
import { edgeWords as words } from '../words/edge';
import { FOOT } from '../words/numbers';
import type { Place, PlaceContext } from './place';
import { Running } from './trials/bench';
import { Choice } from './trials/fields';

/** Fastest rolling that is asked about [m/s]. */
const FASTEST = 5;

export function make(context: PlaceContext): Place {
  const place = new Edge(context);
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

/** The knob whose root track is shown at first: the damping of the view's loop. */
const damping = (view: ViewWord): string => `${view === 'front' ? 'lean' : 'travel'}.damping`;

/** A part that can be closed; closed it asks nothing. */
function fold(title: string, open: boolean, about: string, ...children: (Node | string)[]): HTMLDetailsElement {
  const part = el('details', { class: 'part' }, el('summary', {}, el('h2', {}, title)), el('p', { class: 'note' }, about), ...children);
  part.open = open;
  return part;
}

class Edge {
  readonly element: HTMLElement;
  readonly #text = el('p', { class: 'outcome' }, words.opening);
  readonly #steady = el('p', { class: 'note' });
  readonly #trouble = el('p', { class: 'stale', role: 'alert', hidden: true });
  readonly #view: Choice;
  readonly #rest: Choice;
  readonly #speed = el('input', { type: 'number', id: 'edge-speed', step: 0.1, value: '0' });
  readonly #speedField: HTMLElement;
  /** Of the unit shown, in a metre. */
  #perMetre = 1;
  readonly #plane: PolePlane;
  readonly #poles: PoleTable;
  readonly #track: Choice;
  readonly #trackKnob = el('div', { class: 'trackknob' });
  #knob: Knob | undefined;
  readonly #swing: Swing;
  #swung = -1;
  readonly #spans: SpanRows;
  readonly #break: Choice;
  readonly #curve = new CurvePart();
  readonly #margins = el('tbody', {});
  readonly #noLoop = el('p', { class: 'note', hidden: true }, words.curve.none);
  readonly #unstable = el('p', { class: 'note', hidden: true }, words.curve.unstable);
  readonly #loop: HTMLElement;
  readonly #oscillation: OscillationPart;
  readonly #hand: HandPart;
  readonly #parts: Readonly<Record<'poles' | 'spans' | 'curve' | 'oscillation' | 'hand', HTMLDetailsElement>>;
  /** Knob whose root track was chosen, by view. */
  readonly #chosen = new Map<ViewWord, string>();
  #out: EdgeOut | undefined;
  #open = false;
  #said = '';

  constructor(private readonly context: PlaceContext) {
    const { actions } = context;
    const edges = edgesOf(actions);
    const soon = (): void => {
      edges.soon();
    };
    this.#view = new Choice(words.view, () => {
      actions.show(this.#view.value === 'front' ? 'front' : 'side');
    });
    this.#view.offer(Object.entries(words.views));
    this.#rest = new Choice(words.rest, soon);
    this.#rest.offer(Object.entries(words.rests));
    this.#speed.addEventListener('input', soon);
    const speedLabel = el('label', { for: 'edge-speed' });
    this.#speedField = el('div', { class: 'field' }, speedLabel, this.#speed);
    actions.store.watch(['units'], ({ units }) => {
      const inches = units === 'inch';
      speedLabel.textContent = words.speed(inches ? 'ft/s' : 'm/s');
      // The same speed in the other unit.
      const before = this.#perMetre;
      this.#perMetre = inches ? 1 / FOOT : 1;
      const speed = Number(this.#speed.value);
      if (before !== this.#perMetre && speed !== 0) this.#speed.value = String(Number(((speed * this.#perMetre) / before).toPrecision(3)));
      this.#speed.max = String(Math.floor(FASTEST * this.#perMetre));
      this.#speed.min = String(-Math.floor(FASTEST * this.#perMetre));
    });

    this.#swing = new Swing(context, () => {
      this.#light(-1);
    });
    const pressed = (index: number): void => {
      const pole = this.#out?.poles[index];
      if (pole?.shape === undefined) return;
      if (this.#swung === index) {
        this.#swing.end();
        return;
      }
      this.#swing.start(pole, actions.store.state.active);
      this.#light(this.#swing.going ? index : -1);
    };
    this.#plane = new PolePlane({
      pressed,
      turned: (key, value) => {
        actions.setKnob(key, this.#rounded(key, value));
      },
    });
    this.#poles = new PoleTable(pressed);
    this.#track = new Choice(words.poles.track, () => {
      this.#chosen.set(this.#viewNow, this.#track.value);
      this.#chooseKnob();
      soon();
    });

    const robot = (): RobotAsk & { readonly view: ViewWord } => ({ ...this.#robot(), view: this.#viewNow });
    const running = new Running(actions, []);
    this.#spans = new SpanRows(actions, running, robot);
    this.#break = new Choice(words.curve.break, soon);
    const { columns } = words.curve;
    this.#loop = el(
      'div',
      { class: 'loop' },
      this.#curve.element,
      el(
        'div',
        {},
        this.#break.element,
        this.#unstable,
        el(
          'table',
          { class: 'margins' },
          el('thead', {}, el('tr', {}, ...[columns.margin, columns.value].map((text) => el('th', { scope: 'col' }, text)))),
          this.#margins,
        ),
      ),
    );
    this.#oscillation = new OscillationPart(robot, () => this.#jobs);
    this.#hand = new HandPart(actions, robot, () => this.#jobs);
    this.#jobs = new Running(actions, [this.#oscillation.press, this.#hand.press]);
    this.#jobs.ready();

    this.#parts = {
      poles: fold(
        words.poles.title,
        true,
        '',
        el(
          'div',
          { class: 'planeside' },
          this.#plane.element,
          el('div', {}, this.#poles.element, el('p', { class: 'note' }, words.poles.about), el('div', { class: 'trackof' }, this.#track.element, this.#trackKnob)),
        ),
      ),
      spans: fold(words.spans.title, true, words.spans.about, running.element, this.#spans.element),
      curve: fold(words.curve.title, false, '', this.#noLoop, this.#loop),
      oscillation: fold(words.oscillation.title, false, words.oscillation.about, this.#oscillation.element),
      hand: fold(words.hand.title, false, '', this.#hand.element),
    };
    this.element = el(
      'div',
      { class: 'trials edgeplace' },
      el(
        'div',
        { class: 'edgehead' },
        el('div', {}, this.#text, this.#trouble, this.#steady),
        el('div', { class: 'fields top' }, this.#view.element, this.#rest.element, this.#speedField),
      ),
      ...Object.values(this.#parts),
      this.#jobs.element,
    );
    this.element.addEventListener(
      'toggle',
      () => {
        // The jobs' progress and cancel press stand where the job was asked for.
        const part = [this.#parts.hand, this.#parts.oscillation].find(({ open }) => open);
        if (part !== undefined && !this.#jobs.busy) part.append(this.#jobs.element);
      },
      true,
    );
    let first = true;
    actions.store.watch(['robot', 'knobs', 'active'], ({ active }) => {
      this.#view.select.value = VIEW_WORDS[active] ?? 'side';
      this.#speedField.hidden = active === FRONT;
      this.#knob?.refresh();
      if (first) {
        first = false;
        return;
      }
      this.#oscillation.stale();
      this.#hand.stale();
      this.#spans.stale();
    });
    actions.store.watch(['spans'], () => {
      this.#knob?.mark();
    });
    edges.listen(
      (out) => {
        if (this.#open) this.#show(out);
      },
      (out, spans) => {
        if (!this.#open) return;
        this.#offer(out);
        if (this.#parts.spans.open) this.#spans.show(out, spans);
      },
      (problems) => {
        this.#refused(problems);
      },
    );
  }
  readonly #jobs: Running;

  opened(): void {
    this.#open = true;
    edgesOf(this.context.actions).wish(() => this.#wishes());
  }

  closed(): void {
    this.#open = false;
    this.#swing.end();
    edgesOf(this.context.actions).wish(undefined);
  }

  get #viewNow(): ViewWord {
    return VIEW_WORDS[this.context.actions.store.state.active] ?? 'side';
  }

  #robot(): RobotAsk {
    const { board, store } = this.context.actions;
    return { robot: board.robotFile(), opened: board.openedFile(), inches: store.state.units === 'inch' };
  }

  #wishes(): Wishes {
    const { poles, spans, curve, oscillation } = this.#parts;
    const speed = Number(this.#speed.value) / this.#perMetre;
    const rolling = this.#viewNow === 'side' && Number.isFinite(speed) && Math.abs(speed) <= FASTEST ? speed : 0;
    const track = this.#chosen.get(this.#viewNow) ?? damping(this.#viewNow);
    return {
      speed: rolling,
      rest: this.#rest.value as RestWord,
      all: spans.open,
      // The sentence at the top is of the poles too.
      poles: poles.open || this.#swing.going,
      ...(curve.open ? { curve: this.#breakNow() } : {}),
      ...(poles.open && track !== '' ? { track } : {}),
      oscillations: oscillation.open,
    };
  }

  #breakNow(): BreakWord {
    const word = this.#break.value;
    return word === '' ? (this.#out?.breaks[0] ?? 'duty') : (word as BreakWord);
  }

  #show(out: EdgeOut): void {
    const before = this.#out;
    this.#out = out;
    this.#trouble.hidden = true;
    say(this.#text, out.text);
    this.#text.dataset['stand'] = out.stable ? 'steady' : out.heldByFriction ? 'held' : 'unsteady';
    say(this.#steady, out.steady.map(({ label, text }) => `${label} ${text}`).join(' · '));
    this.#offer(out);
    if (this.#parts.poles.open) {
      this.#plane.show(out);
      this.#poles.show(out.poles);
      if (out.track !== undefined) this.#plane.say(this.context.actions.value(out.track.key)?.text ?? '');
    }
    this.#followSwing(out, before);
    if (this.#parts.curve.open) this.#showCurve(out);
    if (this.#parts.oscillation.open) this.#oscillation.show(out);
    // Those who do not see it hear it when it turns, not at every step.
    const stand = `${String(out.stable)} ${out.view}`;
    if (this.#said !== '' && stand !== this.#said) this.context.actions.tell(out.text);
    this.#said = stand;
  }

  #offer(out: EdgeOut): void {
    const { view } = out;
    const offered = edgesOf(this.context.actions).offered(view, this.#rest.value as RestWord);
    this.#track.offer([['', words.poles.noTrack], ...offered], this.#chosen.get(view) ?? damping(view));
    this.#chooseKnob();
    this.#break.offer(
      out.breaks.map((word) => [word, words.curve.breaks[word]] as const),
      out.curve?.at ?? this.#break.value,
    );
  }

  /** The knob of the root track, to be turned beside it. */
  #chooseKnob(): void {
    const key = this.#track.value;
    if ((this.#knob?.key ?? '') === key) return;
    this.#knob = key === '' || this.context.actions.knobs.get(key) === undefined ? undefined : new Knob(key, this.context.actions);
    this.#trackKnob.replaceChildren(...(this.#knob === undefined ? [] : [this.#knob.element]));
  }

  /** The motion on the board is followed to where it has gone. */
  #followSwing(out: EdgeOut, before: EdgeOut | undefined): void {
    if (!this.#swing.going) return;
    const was = before?.poles[this.#swung];
    if (was === undefined || before?.view !== out.view) {
      this.#swing.end();
      return;
    }
    let [found, least] = [-1, Infinity];
    for (const [index, { re, im, shape }] of out.poles.entries()) {
      const way = shape === undefined ? Infinity : Math.hypot(re - was.re, im - was.im);
      if (way < least) [found, least] = [index, way];
    }
    const pole = out.poles[found];
    if (pole === undefined) this.#swing.end();
    else {
      this.#swing.follow(pole);
      this.#light(found);
    }
  }

  #light(index: number): void {
    this.#swung = index;
    this.#plane.mark(index);
    this.#poles.mark(index);
  }

  #showCurve({ curve, breaks }: EdgeOut): void {
    this.#noLoop.hidden = breaks.length > 0;
    this.#loop.hidden = curve === undefined;
    if (curve === undefined) return;
    this.#curve.show(curve);
    this.#unstable.hidden = curve.stable;
    this.#margins.replaceChildren(
      ...curve.margins.map(({ label, text }) => el('tr', {}, el('th', { scope: 'row' }, label), el('td', {}, text))),
    );
  }

  #refused(problems: readonly Problem[]): void {
    if (!this.#open) return;
    const [first] = problems;
    this.#trouble.hidden = first === undefined;
    if (first === undefined) return;
    say(this.#trouble, `${words.wrong(first.expected, first.hint)}${this.#out === undefined ? '' : ` ${words.kept}`}`);
    if (this.#out === undefined) say(this.#text, '');
  }

  /** A number that a person would type, where the knob's track has none nearer. */
  #rounded(key: string, value: number): number {
    const info = this.context.actions.knobs.get(key);
    const plain = Number(value.toPrecision(3));
    if (info === undefined) return plain;
    const whole = info.kind === 'whole' ? Math.round(value) : plain;
    return Math.min(Math.max(whole, info.min), info.max);
  }
}
