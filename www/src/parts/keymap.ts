// The list of all keys, on "?" or by a press. Loaded when it is first asked for.

import './keymap.css';
import { button, el } from '../dom';
import { keyWords as words } from '../words/keys';

/** Opens the list; once more while it is open does nothing. */
export function openKeyMap(singleKeys: boolean): void {
  if (document.querySelector('dialog[open]') !== null) return;
  const groups = words.groups.map(({ title, rows }) => {
    const list = el('dl');
    for (const [keys, text] of rows) list.append(el('dt', {}, el('kbd', {}, keys)), el('dd', {}, text));
    return el('section', {}, el('h3', {}, title), list);
  });
  const close = button(words.close, { class: 'act' }, () => {
    dialog.close();
  });
  const body = el('div', { class: 'keygroups', role: 'region', tabindex: 0, 'aria-label': words.title }, ...groups);
  const dialog = el(
    'dialog',
    { class: 'striptable keymap', 'aria-label': words.title },
    el('div', { class: 'rowof' }, el('h2', {}, words.title), close),
    el('p', { class: 'note' }, words.about, ...(singleKeys ? [] : [' ', el('b', {}, words.switchedOff)])),
    body,
  );
  const back = document.activeElement;
  dialog.addEventListener('close', () => {
    dialog.remove();
    if (back instanceof HTMLElement && back !== document.body) back.focus();
  });
  document.body.append(dialog);
  dialog.showModal();
}
