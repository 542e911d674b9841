// Suggested settings.

import { el } from '../dom';
import type { Place, PlaceContext } from './place';

export function make(_context: PlaceContext): Place {
  return { element: el('div', { class: 'suggestplace' }) };
}
