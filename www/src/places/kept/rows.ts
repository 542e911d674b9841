// The whole revision table: letters, changes, names to be given, the way back to each.

import type { Actions } from '../../actions';
import { button, el } from '../../dom';
import { describe } from '../../recorder';
import { words } from '../../words/kept';
import { row, table, when } from './table';

export function makeRows(actions: Actions): HTMLElement {
  const { revisions } = actions;
  const box = el('div', {});
  const element = el('div', { class: 'allrevisions' }, el('h2', {}, words.revisions.title), box);
  const show = (): void => {
    const { history } = revisions;
    // What is being typed is not taken away.
    if (document.activeElement instanceof HTMLInputElement && box.contains(document.activeElement)) return;
    const rows = history.rows.map((one) => {
      const letter = history.letter(one.id);
      const name = el('input', {
        type: 'text',
        maxlength: 80,
        value: one.name,
        'aria-label': words.revisions.name(letter),
        title: words.revisions.hint,
      });
      name.addEventListener('change', () => {
        revisions.rename(one.id, name.value);
      });
      name.addEventListener('keydown', (event) => {
        if (event.key === 'Enter') name.blur();
      });
      const current = one.id === history.current.id;
      const back = current
        ? el('span', { class: 'muted' }, words.revisions.now)
        : button(words.revisions.back, { class: 'link', 'aria-label': words.revisions.backTo(letter) }, () => {
            revisions.backTo(one.id);
          });
      const leads = history.leads(one.id);
      const change = el('span', {}, describe(one), leads ? '' : el('span', { class: 'muted' }, ` (${words.revisions.undone})`));
      return row([letter, change, name, when(one.at), back], { class: leads ? undefined : 'undone', 'aria-current': current ? 'true' : undefined });
    });
    box.replaceChildren(table(words.revisions.title, words.revisions.columns, rows.reverse()));
  };
  revisions.onChange(show);
  box.addEventListener('focusout', () => {
    // After the change that leaving the field brings.
    setTimeout(show);
  });
  show();
  return element;
}
