import { el } from '../dom';
import { handbookWords as words } from '../words/handbook';
import type { Place } from './place';

export function make(): Place {
  return { element: el('div', { class: 'handbook' }, el('p', {}, words.about)) };
}
