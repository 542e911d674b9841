// What a place is: a part of the page that is opened on purpose, and loaded only then.

import type { Actions } from '../actions';
import type { Loop } from '../loop';
import type { Theme } from '../theme';

export type PlaceName =
  | 'lessons'
  | 'hand'
  | 'trials'
  | 'edge'
  | 'map'
  | 'suggest'
  | 'power'
  | 'robot'
  | 'kept'
  | 'sheets'
  | 'stall'
  | 'handbook';

/** What a place is given. */
export interface PlaceContext {
  readonly actions: Actions;
  readonly loop: Loop;
  readonly theme: Theme;
}

export interface Place {
  readonly element: HTMLElement;
  /** Called each time it comes into sight, also the first time. */
  readonly opened?: () => void;
  /** Called when it goes out of sight; what runs for it should stop, what was found stays. */
  readonly closed?: () => void;
}

export type PlaceModule = { readonly make: (context: PlaceContext) => Place };
