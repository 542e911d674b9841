// Predictions: asked before the result is shown, looked at afterwards. What is right is not
// written in the lesson: the simulation says it.

import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { words } from '../../words/lessons';
import type { Predict } from './format';
import type { Scene } from './scene';
import { said, typedIn } from './text';

/** A choice's index, a number in SI, or no idea. */
export type Guess = { readonly choice: number } | { readonly value: number } | 'no idea';

export interface Verdict {
  readonly text: string;
  readonly right: boolean;
}

export class Guesses {
  readonly #taken = new Map<string, readonly [Predict, Guess]>();

  constructor(
    private readonly actions: Actions,
    private readonly scene: Scene,
  ) {}

  take(step: Predict, guess: Guess): void {
    this.#taken.set(step.name, [step, guess]);
  }

  /** What the simulation says to a guess. */
  verdict(name: string): Verdict {
    const taken = this.#taken.get(name);
    if (taken === undefined) return { text: '', right: false };
    const [step, guess] = taken;
    return step.number === undefined ? this.#ofChoice(step, guess) : this.#ofNumber(step.number, guess);
  }

  #ofChoice(step: Predict, guess: Guess): Verdict {
    const choices = step.choices ?? [];
    const right = choices.flatMap((choice, index) => (this.scene.holds(choice.when) ? [index] : []));
    const text = (index: number): string => this.scene.fill(choices[index]?.text ?? '');
    const truth = right.map(text).join('; ');
    if (guess === 'no idea') return { text: words.verdict.noIdea(truth === '' ? words.verdict.nothing : truth), right: false };
    const chosen = 'choice' in guess ? guess.choice : -1;
    if (right.includes(chosen)) return { text: words.verdict.right(text(chosen)), right: true };
    return { text: truth === '' ? words.verdict.none(text(chosen)) : words.verdict.wrong(text(chosen), truth), right: false };
  }

  #ofNumber({ truth, unit, within }: NonNullable<Predict['number']>, guess: Guess): Verdict {
    const inches = this.actions.store.state.units === 'inch';
    const value = this.scene.work(truth);
    const is = said(value, unit, inches);
    if (guess === 'no idea' || !('value' in guess)) return { text: words.verdict.noIdea(is), right: false };
    const close = Math.abs(guess.value - value) <= within * Math.abs(value);
    const was = said(guess.value, unit, inches);
    return { text: close ? words.verdict.close(was, is) : words.verdict.off(was, is), right: close };
  }
}

export interface PredictForm {
  readonly element: HTMLElement;
  /** What is said of the choices to those who do not see them. */
  readonly spoken: readonly string[];
}

let serial = 0;

export function predictForm(step: Predict, scene: Scene, actions: Actions, taken: (guess: Guess) => void): PredictForm {
  serial += 1;
  const id = `guess-${serial}`;
  const wrong = el('p', { class: 'wrong', role: 'alert', id: `${id}-wrong` });
  const ask = scene.fill(step.ask);
  const spoken: string[] = [];
  let read: () => Guess | undefined;
  let asked: HTMLElement;
  if (step.number !== undefined) {
    const { unit } = step.number;
    const [symbol, scale] = typedIn(unit, actions.store.state.units === 'inch');
    const input = el('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off', id, 'aria-describedby': wrong.id });
    asked = el('div', { class: 'asknumber' }, el('label', { for: id, class: 'prose' }, ask), el('span', { class: 'rowof' }, input, el('span', {}, symbol)));
    if (symbol !== '') spoken.push(symbol);
    read = () => {
      // A unit that was typed as well is no mistake.
      const typed = input.value.trim().replace(',', '.').replace('−', '-');
      const number = symbol !== '' && typed.endsWith(symbol) ? typed.slice(0, -symbol.length).trim() : typed;
      const value = number === '' ? NaN : Number(number);
      if (Number.isFinite(value)) return { value: value / scale };
      say(wrong, words.type(symbol));
      input.setAttribute('aria-invalid', 'true');
      input.focus();
      return undefined;
    };
  } else {
    const choices = step.choices ?? [];
    const radios = choices.map((_, index) => el('input', { type: 'radio', name: id, value: index }));
    asked = el(
      'fieldset',
      {},
      el('legend', { class: 'prose' }, ask),
      ...choices.map((choice, index) => {
        const text = scene.fill(choice.text);
        spoken.push(`${text}.`);
        return el('label', {}, radios[index], text);
      }),
    );
    read = () => {
      const choice = radios.findIndex((radio) => radio.checked);
      if (choice >= 0) return { choice };
      say(wrong, words.choose);
      radios[0]?.focus();
      return undefined;
    };
  }
  const form = el(
    'form',
    { class: 'predict' },
    asked,
    wrong,
    el(
      'div',
      { class: 'rowof' },
      el('button', { type: 'submit', class: 'act go' }, words.guess),
      button(words.noIdea, { class: 'link' }, () => {
        taken('no idea');
      }),
    ),
  );
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const guess = read();
    if (guess !== undefined) taken(guess);
  });
  return { element: form, spoken };
}
