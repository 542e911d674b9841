import { el } from '../dom';
import { sheetsWords as words } from '../words/sheets';
import type { Place } from './place';

export function make(): Place {
  return { element: el('div', { class: 'sheets' }, el('p', {}, words.about)) };
}
