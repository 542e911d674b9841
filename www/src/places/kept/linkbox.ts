// The link to the present setting, as text and as a QR code that a phone reads from the screen.

import type { Actions } from '../../actions';
import { button, el } from '../../dom';
import { makeLink } from '../../link';
import { drawCode, MOST_CODED } from '../qr';
import { words } from '../../words/kept';

export interface LinkBox {
  readonly element: HTMLElement;
  /** Follows the board only while it is seen. */
  readonly watch: (seen: boolean) => void;
}

export function makeLinkBox(actions: Actions): LinkBox {
  const text = el('textarea', { class: 'linktext', readonly: true, rows: 2, 'aria-label': words.link.label, spellcheck: false });
  const code = el('div', { class: 'code' });
  const note = el('p', { class: 'note', role: 'status' });
  let seen = false;
  let serial = 0;
  const show = async (): Promise<void> => {
    serial += 1;
    const own = serial;
    // Many changes in a row need one link only.
    await new Promise((resolve) => setTimeout(resolve, 150));
    if (own !== serial || !seen) return;
    const link = await makeLink(actions);
    if (own !== serial || text.value === link) return;
    text.value = link;
    if (link.length > MOST_CODED) {
      code.replaceChildren();
      note.textContent = words.link.tooLong(link.length);
    } else {
      code.replaceChildren(drawCode(link, words.link.codeLabel));
      note.textContent = '';
    }
  };
  actions.store.watch(['robot', 'knobs', 'shown', 'active', 'level', 'kick', 'bump', 'units'], () => {
    if (seen) void show();
  });
  text.addEventListener('focus', () => {
    text.select();
  });
  const copy = button(words.link.copy, { class: 'link' }, () => {
    navigator.clipboard.writeText(text.value).then(
      () => {
        actions.tell(words.link.copy);
        note.textContent = '✓';
      },
      () => {
        text.focus();
      },
    );
  });
  return {
    element: el(
      'section',
      { class: 'linkbox', 'aria-label': words.link.title },
      el('h2', {}, words.link.title),
      code,
      el('div', { class: 'copying' }, text, copy),
      note,
    ),
    watch: (now) => {
      seen = now;
      if (seen) void show();
    },
  };
}
