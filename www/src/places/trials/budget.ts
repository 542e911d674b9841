// Budgets: how much of something the robot bears, found in a worker by running a trial again and
// again; the answer with its bracket, its tolerance and what both sides of it say.

import type { AskOf, BudgetOut, LabCatalogue, QuestionRow, QuestionView, ViewWord } from '../../core/lab.types';
import { button, el, say } from '../../dom';
import type { PlaceContext } from '../place';
import { trialWords } from '../../words/trials';
import { copies, Running, type Bench } from './bench';
import { Choice, Field, Fields } from './fields';

const words = trialWords.budget;

export class Budgets {
  readonly element: HTMLElement;
  readonly #question: Choice;
  readonly #view: Choice;
  readonly #about = el('p', { class: 'note' });
  readonly #dip = new Field('dip', words.dip);
  readonly #settling = new Field('settling', words.settling);
  readonly #place = new Field('place', words.place);
  readonly #fields = new Fields();
  readonly #run: HTMLButtonElement;
  readonly #running: Running;
  readonly #answer = el('section', { class: 'answer' });
  #catalogue: LabCatalogue | undefined;

  constructor(
    private readonly context: PlaceContext,
    private readonly bench: Bench,
  ) {
    const chosen = (): void => {
      this.#offer();
    };
    this.#question = new Choice(words.question, chosen);
    this.#view = new Choice(trialWords.view, chosen);
    this.#run = button(words.run, { class: 'act', 'data-act': 'find' }, () => void this.#find());
    this.#running = new Running(context.actions, [this.#run]);
    this.element = el(
      'div',
      {},
      el('p', { class: 'note' }, words.about),
      el(
        'div',
        { class: 'twosided' },
        el(
          'div',
          { class: 'trialform' },
          el('div', { class: 'fields' }, this.#question.element, this.#view.element),
          this.#about,
          el('div', { class: 'fields' }, this.#dip.element, this.#settling.element, this.#place.element),
          el('details', {}, el('summary', {}, trialWords.more), this.#fields.element),
          el('div', { class: 'rowof presses' }, this.#run),
          this.#running.element,
        ),
        this.#answer,
      ),
    );
    bench.onCatalogue((catalogue) => {
      this.#catalogue = catalogue;
      this.#offer();
      this.#running.ready();
    });
  }

  closed(): void {
    this.#running.cancel();
  }

  #chosen(): { question: QuestionRow; view: QuestionView } | undefined {
    const question = this.#catalogue?.questions.find(({ key }) => key === this.#question.value);
    const view = question?.views.find((one) => one.view === this.#view.value);
    return question === undefined || view === undefined ? undefined : { question, view };
  }

  #offer(): void {
    const questions = this.#catalogue?.questions ?? [];
    this.#question.offer(questions.map(({ key, label }) => [key, label]));
    const views = questions.find(({ key }) => key === this.#question.value)?.views ?? [];
    this.#view.offer(views.map(({ view }) => [view, trialWords.views[view]]));
    const chosen = this.#chosen();
    if (chosen === undefined) return;
    const { question, view } = chosen;
    say(this.#about, `${question.about}; ${words.by(view.trial)}; ${words.now(view.now)}.${question.note === '' ? '' : ` ${question.note}.`}`);
    const limit = (field: Field, usual: string): void => {
      field.element.hidden = usual === '';
      field.usual(usual, trialWords.usual(usual));
    };
    limit(this.#dip, view.dip);
    limit(this.#settling, view.settling);
    limit(this.#place, view.place);
    this.#fields.show(view.numbers);
  }

  async #find(): Promise<void> {
    const chosen = this.#chosen();
    if (chosen === undefined) return;
    const { question } = chosen;
    const typed = (key: 'dip' | 'settling' | 'place', field: Field): object =>
      field.element.hidden || field.typed === undefined ? {} : { [key]: field.typed };
    const ask: AskOf<'budget'> = {
      ...this.bench.robot(),
      question: question.key,
      view: this.#view.value as ViewWord,
      ...typed('dip', this.#dip),
      ...typed('settling', this.#settling),
      ...typed('place', this.#place),
      numbers: this.#fields.typed(),
    };
    const out = await this.#running.run('budget', ask, words.what(question.label));
    if (out === undefined) return;
    this.#show(out);
    this.#answer.scrollIntoView({ block: 'nearest' });
    this.context.actions.tell(words.answer(out.label, out.text));
  }

  #show(out: BudgetOut): void {
    const body = el('tbody', {});
    for (const [left, right] of out.rows) {
      body.append(el('tr', { 'data-row': left }, el('th', { scope: 'row' }, left), el('td', {}, right)));
    }
    const edge = out.breaks === undefined ? '' : out.sharp ? words.sharp : words.ragged;
    this.#answer.replaceChildren(
      el('h2', {}, words.answer(out.label, out.text)),
      el('p', { class: 'note' }, edge),
      el('div', { class: 'wide' }, el('table', {}, body)),
      copies(this.context.actions, () => [[trialWords.copyMarkdown, trialWords.markdown, out.markdown]]),
    );
  }
}
