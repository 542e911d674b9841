// Keys. Single letters can be switched off; arrows drive while nothing that uses arrows itself
// has the focus; Space is left to whatever has the focus.

import { FRONT, SIDE, type Plane } from './core/types';
import type { Actions } from './actions';
import { takesText } from './dom';
import { heard } from './words/language';
import { words } from './words/page';

const WAYS: Readonly<Record<string, 1 | -1>> = { ArrowRight: 1, ArrowLeft: -1 };

/** The list of all keys is loaded when it is first asked for. */
export function showKeyMap(actions: Actions): void {
  import('./parts/keymap')
    .then(async ({ openKeyMap }) => {
      await heard();
      openKeyMap(actions.store.state.shortcuts);
    })
    .catch((cause: unknown) => {
      actions.notice(words.sheet.keyMapFailed(String(cause)));
    });
}

export function listenForKeys(actions: Actions): void {
  const { store } = actions;
  const letters: Readonly<Record<string, () => void>> = {
    k: () => {
      actions.kick(store.state.active);
    },
    b: () => {
      actions.bump(store.state.active);
    },
    s: () => {
      actions.toggleSoftware();
    },
    p: () => {
      actions.pause(!store.state.paused);
    },
    '.': () => {
      actions.tickOnce();
    },
    t: () => {
      actions.turn();
    },
    v: () => {
      actions.show(store.state.shown === 'both' ? (store.state.active === SIDE ? 'side' : 'front') : 'both');
    },
    r: () => {
      actions.resetRun();
    },
    d: () => {
      if (store.state.double === undefined) actions.doubleAgain();
      else actions.undouble();
    },
    x: () => {
      actions.swapDouble();
    },
    '?': () => {
      showKeyMap(actions);
    },
  };
  let driving: Plane | undefined;

  document.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    if (takesText(event.target)) return;
    const way = WAYS[event.key];
    if (way !== undefined) {
      if (usesArrows(event.target)) return;
      event.preventDefault();
      driving = store.state.active === FRONT ? FRONT : SIDE;
      actions.lever(driving, way);
      return;
    }
    if (event.repeat || !store.state.shortcuts) return;
    if (event.key === ' ') {
      const { activeElement } = document;
      if (activeElement !== null && activeElement !== document.body) return;
      event.preventDefault();
      letters['p']?.();
      return;
    }
    const act = letters[event.key.toLowerCase()];
    if (act === undefined) return;
    event.preventDefault();
    act();
  });

  const letGo = (): void => {
    if (driving === undefined) return;
    actions.lever(driving, 0);
    driving = undefined;
  };
  document.addEventListener('keyup', (event) => {
    if (event.key in WAYS) letGo();
  });
  // A key held while the window loses the focus never comes up.
  window.addEventListener('blur', letGo);
}

function usesArrows(target: EventTarget | null): boolean {
  if (!(target instanceof Element)) return false;
  // The switch takes the arrows that move it, and leaves those beyond its ends.
  return target.closest('input:not([type="checkbox"]), select, [role="slider"]') !== null;
}
