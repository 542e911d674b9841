// The row of places under the board, and the one that is open. Each is loaded when it is first
// opened, so that the first view stays small.

import type { Actions } from '../actions';
import { button, el, say } from '../dom';
import type { Loop } from '../loop';
import type { Theme } from '../theme';
import { words } from '../words';
import type { Place, PlaceModule, PlaceName } from './place';

const LOAD: Readonly<Record<PlaceName, () => Promise<PlaceModule>>> = {
  trials: () => import('./trials'),
  power: () => import('./power'),
  robot: () => import('./robot'),
  kept: () => import('./kept'),
};

export interface Places {
  readonly index: HTMLElement;
  readonly element: HTMLElement;
}

export function makePlaces(actions: Actions, loop: Loop, theme: Theme): Places {
  const { store } = actions;
  const made = new Map<PlaceName, Place>();
  const said = el('p', { class: 'opening', role: 'status' });
  const element = el('section', { class: 'place', id: 'place', tabindex: -1 }, said);
  const index = el('nav', { class: 'placeindex', 'aria-label': words.places.index });
  let open: PlaceName | undefined;
  let shown: Place | undefined;

  for (const name of Object.keys(LOAD) as PlaceName[]) {
    const press = button(words.places.names[name], { class: 'link', 'aria-controls': 'place' }, () => {
      store.set({ place: store.state.place === name ? undefined : name });
    });
    store.watch(['place'], ({ place }) => {
      press.setAttribute('aria-expanded', String(place === name));
    });
    index.append(press);
  }
  const close = button(words.places.close, { class: 'link close' }, () => {
    store.set({ place: undefined });
  });
  index.append(close);

  const show = (place: Place | undefined): void => {
    if (place === shown) return;
    shown?.closed?.();
    shown?.element.remove();
    shown = place;
    if (place === undefined) return;
    element.append(place.element);
    place.opened?.();
  };
  const load = async (name: PlaceName): Promise<void> => {
    let place = made.get(name);
    if (place === undefined) {
      say(said, words.places.opening);
      try {
        const { make } = await LOAD[name]();
        // Another press may have made it meanwhile.
        place = made.get(name) ?? make({ actions, loop, theme });
        made.set(name, place);
      } catch (cause) {
        if (open === name) say(said, words.places.failed(String(cause)));
        return;
      }
    }
    if (open !== name) return;
    say(said, '');
    show(place);
  };
  store.watch(['place'], ({ place }) => {
    open = place;
    element.hidden = place === undefined;
    close.hidden = place === undefined;
    if (place === undefined) {
      show(undefined);
      return;
    }
    element.setAttribute('aria-label', words.places.names[place]);
    if (!made.has(place)) show(undefined);
    void load(place);
  });
  return { index, element };
}
