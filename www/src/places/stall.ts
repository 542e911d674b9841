import { el } from '../dom';
import { stallWords as words } from '../words/stall';
import type { Place } from './place';

export function make(): Place {
  return { element: el('div', { class: 'stall' }, el('p', {}, words.about)) };
}
