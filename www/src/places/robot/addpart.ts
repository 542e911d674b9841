// The form of a part to be added. Everything that is wrong with it is told beside its field.

import { refused, type LedgerPart } from '../../core/types';
import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { said } from '../../words/core';
import { words } from '../../words/robot';

type FieldName = 'name' | 'body' | 'mass' | 'height' | 'mark';

export function makeAddPart(actions: Actions): HTMLElement {
  const { ledger } = words;
  const { fields, placeholder } = ledger;
  const input = (field: FieldName): HTMLInputElement =>
    el('input', { type: 'text', id: `part-${field}`, autocomplete: 'off', spellcheck: 'false', 'aria-describedby': `part-${field}-wrong` });
  const name = input('name');
  name.placeholder = placeholder.name;
  name.maxLength = 80;
  const mass = input('mass');
  const height = input('height');
  const body = el('select', { id: 'part-body', 'aria-describedby': 'part-body-wrong' });
  for (const word of ledger.bodies) body.append(el('option', { value: word }, said(word)));
  body.value = 'carriage';
  const mark = el('select', { id: 'part-mark', 'aria-describedby': 'part-mark-wrong' });
  for (const [word, text] of Object.entries(words.marks.words)) mark.append(el('option', { value: word }, text));
  const on = el('input', { type: 'checkbox', id: 'part-on', checked: true });
  const errors = new Map<string, HTMLElement>();
  const inputs = { name, body, mass, height, mark };
  const labelled = (field: FieldName): HTMLElement => {
    const wrong = el('p', { class: 'wrong', id: `part-${field}-wrong` });
    errors.set(field, wrong);
    return el('div', { class: 'partfield' }, el('label', { for: `part-${field}` }, fields[field]), inputs[field], wrong);
  };
  const all = el('p', { class: 'wrong', role: 'alert' });
  const clear = (): void => {
    for (const [field, wrong] of errors) {
      say(wrong, '');
      inputs[field as FieldName].removeAttribute('aria-invalid');
    }
    say(all, '');
  };

  const put = (): void => {
    const part: LedgerPart = {
      name: name.value.trim(),
      body: body.value as LedgerPart['body'],
      mass: mass.value,
      height: height.value,
      on: on.checked,
      mark: mark.value,
    };
    clear();
    const why = ledger.added(part.name);
    const answer = actions.change(why, (board) => board.putPart(part));
    if (!refused(answer)) {
      name.value = '';
      mass.value = '';
      height.value = '';
      name.focus();
      actions.tell(`${why}.`);
      return;
    }
    const rest: string[] = [];
    let first: HTMLElement | undefined;
    for (const { path, expected, hint, kept } of answer.problems) {
      const text = [`expected: ${expected}`, hint, kept].filter((one) => one !== '').join('; ');
      const wrong = errors.get(path);
      if (wrong === undefined) {
        rest.push(`${path}: ${text}`);
        continue;
      }
      say(wrong, text);
      const field = inputs[path as FieldName];
      field.setAttribute('aria-invalid', 'true');
      first ??= field;
    }
    say(all, rest.join('. '));
    first?.focus();
    const [one] = answer.problems;
    if (one !== undefined) actions.tell(`${one.path}: expected ${one.expected}`);
  };
  for (const field of [name, mass, height]) {
    field.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') put();
    });
  }
  actions.store.watch(['units'], ({ units }) => {
    const at = units === 'inch' ? 1 : 0;
    mass.placeholder = placeholder.mass[at];
    height.placeholder = placeholder.height[at];
  });
  return el(
    'fieldset',
    { class: 'addpart' },
    el('legend', {}, ledger.add),
    labelled('name'),
    labelled('body'),
    labelled('mass'),
    labelled('height'),
    labelled('mark'),
    el('div', { class: 'partfield on' }, el('label', { for: 'part-on' }, fields.on), on),
    button(ledger.put, { class: 'act' }, put),
    all,
  );
}
