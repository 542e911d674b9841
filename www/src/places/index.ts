// The row of places under the board, and the one that is open. Each is loaded when it is first
// opened, so that the first view stays small.

import type { Actions } from '../actions';
import { button, el, say, takesText } from '../dom';
import type { Loop } from '../loop';
import type { Theme } from '../theme';
import { heard } from '../words/language';
import { words } from '../words/page';
import type { Place, PlaceModule, PlaceName } from './place';

const LOAD: Readonly<Record<PlaceName, () => Promise<PlaceModule>>> = {
  lessons: () => import('./lessons'),
  hand: () => import('./hand'),
  trials: () => import('./trials'),
  edge: () => import('./edge'),
  map: () => import('./map'),
  suggest: () => import('./suggest'),
  power: () => import('./power'),
  robot: () => import('./robot'),
  kept: () => import('./kept'),
  sheets: () => import('./sheets'),
  stall: () => import('./stall'),
  handbook: () => import('./handbook'),
};

/** Where everything lies in one column and the page scrolls. */
const narrow = window.matchMedia('(max-width: 1099px)');
const still = window.matchMedia('(prefers-reduced-motion: reduce)');
const glide = (): ScrollBehavior => (still.matches ? 'auto' : 'smooth');

/** Tables that scroll sideways in their own box take the focus, so that keys scroll them; others do not. */
function reachTables(place: HTMLElement): void {
  for (const box of place.querySelectorAll('.wide')) {
    if (box.scrollWidth > box.clientWidth + 1) box.setAttribute('tabindex', '0');
    else box.removeAttribute('tabindex');
  }
}

export interface Places {
  readonly index: HTMLElement;
  readonly element: HTMLElement;
}

export function makePlaces(actions: Actions, loop: Loop, theme: Theme): Places {
  const { store } = actions;
  const made = new Map<PlaceName, Place>();
  const said = el('p', { class: 'opening', role: 'status' });
  const element = el('section', { class: 'place', id: 'place', tabindex: -1 }, said);
  const reach = (): void => {
    reachTables(element);
  };
  new MutationObserver(reach).observe(element, { childList: true, subtree: true });
  new ResizeObserver(reach).observe(element);
  const index = el('nav', { class: 'placeindex', 'aria-label': words.places.index });
  const presses = new Map<PlaceName, HTMLButtonElement>();
  const left = new Map<Place, number>();
  let open: PlaceName | undefined;
  let shown: Place | undefined;

  for (const name of Object.keys(LOAD) as PlaceName[]) {
    const press = button(words.places.names[name], { class: 'link', 'aria-controls': 'place', 'data-place': name }, () => {
      const opening = store.state.place !== name;
      store.set({ place: opening ? name : undefined });
      if (!opening || !narrow.matches) return;
      element.focus({ preventScroll: true });
      index.scrollIntoView({ block: 'start', behavior: glide() });
    });
    presses.set(name, press);
    store.watch(['place'], ({ place }) => {
      press.setAttribute('aria-expanded', String(place === name));
    });
    index.append(press);
  }
  const leave = (): void => {
    if (store.state.place === undefined) return;
    const press = presses.get(store.state.place);
    store.set({ place: undefined });
    // The press that opened it has the focus again; on a page that scrolls the board comes back into view.
    press?.focus({ preventScroll: true });
    if (narrow.matches) element.parentElement?.querySelector('.board')?.scrollIntoView({ block: 'start', behavior: glide() });
  };
  const close = button(words.places.close, { class: 'link close' }, leave);
  index.append(close);
  // On a page that scrolls, the row of places is far above the end of a long one.
  const foot = el('p', { class: 'placefoot' }, button(words.places.close, { class: 'link' }, leave));
  element.append(foot);
  window.addEventListener('keydown', (event) => {
    if (event.key !== 'Escape' || event.defaultPrevented || takesText(event.target)) return;
    if (document.querySelector('dialog[open]') !== null) return;
    leave();
  });

  const show = (place: Place | undefined): void => {
    if (place === shown) return;
    // Each is found again where it was left.
    if (shown !== undefined) left.set(shown, element.scrollTop);
    shown?.closed?.();
    shown?.element.remove();
    shown = place;
    if (place === undefined) return;
    element.insertBefore(place.element, foot);
    element.scrollTop = left.get(place) ?? 0;
    place.opened?.();
  };
  const load = async (name: PlaceName): Promise<void> => {
    let place = made.get(name);
    if (place === undefined) {
      say(said, words.places.opening);
      try {
        const { make } = await LOAD[name]();
        await heard();
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
