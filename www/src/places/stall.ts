// The place of the stall, for the demonstrator: what visitors get, how to leave it, what this
// browser can do, keys and pads; and the press that opens it.

import './stall.css';
import './stall/layer.css';
import { button, el, say } from '../dom';
import { stallWords as words } from '../words/stall';
import type { Place, PlaceContext } from './place';
import { onStallAsked, STALL_LINK } from './stall/asked';
import type { Awake } from './stall/awake';
import { browserTable } from './stall/browser';
import { keepChoices, recallChoices } from './stall/choices';
import { makeForm } from './stall/form';
import { Layer } from './stall/layer';
import { drawMapping } from './stall/mapping';

export function make({ actions, theme }: PlaceContext): Place {
  let choices = recallChoices();
  let layer: Layer | undefined;
  let opening = false;
  /** How the screen was kept awake when the stall was last open. */
  let awake: Awake | undefined;
  const status = el('p', { class: 'note', role: 'status' });
  const mapping = el('div', { class: 'mapping' });
  const browser = el('div', {});
  const show = (): void => {
    mapping.replaceChildren(drawMapping(choices.presses));
    browser.replaceChildren(browserTable(awake, choices.address));
  };
  const open = async (): Promise<void> => {
    if (opening || layer?.open === true) return;
    opening = true;
    say(status, '');
    try {
      layer = await Layer.open({
        actions,
        theme,
        choices,
        awake: (state) => {
          awake = state;
        },
        closed: () => {
          layer = undefined;
          actions.notice(words.leave.left);
          show();
          press.focus({ preventScroll: true });
        },
      });
    } catch (cause) {
      say(status, words.failed(String(cause)));
    }
    opening = false;
  };
  const press = button(words.open, { class: 'act openstall' }, () => {
    void open();
  });
  const list = el('ul', {});
  for (const caution of words.cautions.list) list.append(el('li', {}, caution));
  const part = (title: string, ...children: Node[]): HTMLElement => el('section', { 'aria-label': title }, el('h3', {}, title), ...children);
  const element = el(
    'div',
    { class: 'stall' },
    el('h2', {}, words.title),
    el('p', {}, words.about),
    el('p', { class: 'openrow' }, press),
    status,
    part(
      words.leaving.title,
      el('ul', {}, el('li', {}, words.leaving.touch), el('li', {}, words.leaving.word(words.leave.word)), el('li', {}, words.leaving.escape)),
    ),
    part(
      words.choices.title,
      makeForm(choices, (next) => {
        choices = next;
        keepChoices(next);
        show();
      }),
    ),
    part(words.mapping.title, mapping),
    part(words.browser.title, browser, el('p', { class: 'note' }, words.browser.limits), el('p', { class: 'note address' }, words.link(location.href.replace(/#.*$/s, '') + STALL_LINK))),
    part(words.cautions.title, list),
  );
  onStallAsked(() => {
    void open();
  });
  return { element, opened: show };
}
