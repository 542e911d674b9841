import { el } from '../dom';
import { handWords as words } from '../words/hand';
import type { Place } from './place';

export function make(): Place {
  return { element: el('div', { class: 'hand' }, el('p', {}, words.about)) };
}
