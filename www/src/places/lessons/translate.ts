// A lesson in another language: its own file holds texts alone, laid over the lesson step by step. What the
// lesson sets, asks of the simulation and counts as right is written once, in the lesson itself.

import type { Lesson, Step } from './format';

/** The texts of a step; `choices` and `table` in the lesson's order. */
export interface StepTexts {
  readonly kind: Step['kind'];
  readonly text?: string;
  readonly ask?: string;
  readonly choices?: readonly string[];
  readonly help?: string;
  readonly table?: readonly string[];
}

export interface LessonTexts {
  readonly key: string;
  readonly title: string;
  readonly about: string;
  readonly steps: readonly StepTexts[];
}

/** Where the texts do not fit the lesson, for whoever writes them. */
export class BadTexts extends Error {
  constructor(readonly wrong: readonly string[]) {
    super(wrong.join('\n'));
    this.name = 'BadTexts';
  }
}

/** What is filled in, in any order: another language has another. */
const filledIn = (text: string): readonly string[] => (text.match(/\{[^{}]*\}/g) ?? []).sort();

/** The lesson with these texts; throws `BadTexts` that names all that does not fit. */
export function inTexts(lesson: Lesson, texts: LessonTexts): Lesson {
  const wrong: string[] = [];
  const at = `lesson “${lesson.key}”`;
  const text = (path: string, of: string, told: unknown): string => {
    if (typeof told !== 'string' || told.trim() === '') {
      wrong.push(`${at}, ${path}: expected a text for “${of.slice(0, 60)}”`);
      return of;
    }
    const [needed, given] = [filledIn(of), filledIn(told)];
    if (needed.join() !== given.join()) {
      wrong.push(`${at}, ${path}: expected exactly ${needed.join(' ') || 'nothing'} in braces, given ${given.join(' ') || 'nothing'}`);
    }
    return told;
  };
  const list = (path: string, of: readonly string[], told: unknown): readonly string[] => {
    const given: readonly unknown[] = Array.isArray(told) ? told : [];
    if (given.length !== of.length) wrong.push(`${at}, ${path}: expected ${of.length} texts, given ${given.length}`);
    return of.map((one, index) => text(`${path}[${index}]`, one, given[index] ?? one));
  };
  const nothing = (path: string, told: unknown): void => {
    if (told !== undefined) wrong.push(`${at}, ${path}: the lesson has no such text`);
  };

  if (texts.key !== lesson.key) wrong.push(`${at}, key: given “${texts.key}”`);
  const given = Array.isArray(texts.steps) ? texts.steps : [];
  if (given.length !== lesson.steps.length) wrong.push(`${at}, steps: expected ${lesson.steps.length}, given ${given.length}`);
  const steps = lesson.steps.map((step, index): Step => {
    const told = given[index];
    const path = `steps[${index}]`;
    if (told === undefined) return step;
    if (told.kind !== step.kind) wrong.push(`${at}, ${path}.kind: expected “${step.kind}”, given “${told.kind}”`);
    if (step.kind === 'predict') {
      nothing(`${path}.text`, told.text);
      if (step.choices === undefined) nothing(`${path}.choices`, told.choices);
      const choices = step.choices === undefined ? undefined : list(`${path}.choices`, step.choices.map((choice) => choice.text), told.choices);
      return {
        ...step,
        ask: text(`${path}.ask`, step.ask, told.ask),
        ...(choices === undefined ? {} : { choices: (step.choices ?? []).map((choice, at) => ({ ...choice, text: choices[at] ?? choice.text })) }),
      };
    }
    nothing(`${path}.ask`, told.ask);
    const said = { ...step, text: text(`${path}.text`, step.text, told.text) };
    if (said.kind === 'do') {
      if (said.help === undefined) nothing(`${path}.help`, told.help);
      return said.help === undefined ? said : { ...said, help: text(`${path}.help`, said.help, told.help) };
    }
    if (said.kind === 'see' && said.table !== undefined) {
      const rows = list(`${path}.table`, said.table.runs.map((run) => run.called), told.table);
      return { ...said, table: { ...said.table, runs: said.table.runs.map((run, at) => ({ ...run, called: rows[at] ?? run.called })) } };
    }
    nothing(`${path}.table`, told.table);
    return said;
  });
  const title = text('title', lesson.title, texts.title);
  const about = text('about', lesson.about, texts.about);
  if (wrong.length > 0) throw new BadTexts(wrong);
  return { ...lesson, title, about, steps };
}
