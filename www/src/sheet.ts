// The drawing sheet: puts all parts in their places and keeps the layout right for its width.

import type { Actions } from './actions';
import { FRONT, SIDE } from './core/types';
import { button, el } from './dom';
import type { Loop } from './loop';
import { Pane } from './parts/board';
import { Callouts } from './parts/callouts';
import { makeClock } from './parts/clock';
import { makeEnded } from './parts/ended';
import { makeFirstMinute } from './parts/firstminute';
import { makeActs } from './parts/levers';
import { makeAllKnobs, makePartsList } from './parts/partslist';
import { makeRevisions } from './parts/revisions';
import { makeSwitch } from './parts/switch';
import { TitleBlock } from './parts/titleblock';
import { robotSeen } from './seen';
import { makeStills } from './stills';
import type { Theme } from './theme';
import { words } from './words/page';

/** Narrower than this the callouts are a list under the drawing [px]. */
const CALLOUTS_FROM = 860;

export interface Sheet {
  readonly element: HTMLElement;
  /** Fits the layout to the width; to be called once when the sheet lies in the page. */
  readonly arrange: () => void;
}

export function makeSheet(actions: Actions, loop: Loop, theme: Theme): Sheet {
  const { store } = actions;
  const results = new TitleBlock(actions, loop);
  const panes = [new Pane(SIDE, actions, loop, theme.night), new Pane(FRONT, actions, loop, theme.night)] as const;
  const drawing = el('div', { class: 'drawings' }, panes[SIDE].element, panes[FRONT].element);
  const board = el('section', { class: 'board', 'aria-label': words.name });

  const more = el('button', { type: 'button', class: 'link', 'aria-expanded': 'false', 'aria-controls': 'all-knobs' });
  more.addEventListener('click', () => {
    store.set({ allKnobs: !store.state.allKnobs });
  });
  const were = button(words.knobs.were, { class: 'link' }, () => {
    actions.resetKnobs();
  });
  store.watch(['allKnobs'], ({ allKnobs }) => {
    more.textContent = allKnobs ? words.knobs.fewer : words.knobs.all;
    more.setAttribute('aria-expanded', String(allKnobs));
  });
  store.watch(['knobs', 'robot'], () => {
    were.hidden = [...actions.knobs.keys()].every((key) => {
      const value = actions.value(key);
      return value === undefined || value.value === value.opened;
    });
  });
  const key = el('p', { class: 'spankey', hidden: true }, words.knobs.spanKey);
  store.watch(['spans'], ({ spans }) => {
    key.hidden = spans === undefined;
  });
  const callouts = new Callouts(actions, loop, panes, board, [el('div', { class: 'more' }, more, were, key)]);
  const stills = makeStills(actions, () => {
    loop.touch();
  });
  board.append(drawing, callouts.overlay, callouts.left, callouts.right, makeEnded(actions, loop));

  const doubleLink = el('button', { type: 'button', class: 'link' }, words.double.name);
  const double = el('div', { hidden: true });
  const problems = el('div', { hidden: true });
  const strips = el('div', { class: 'strips' });
  const places = el('div', { class: 'placeindex' });
  const foot = el('div', { class: 'foot' });
  const main = el(
    'div',
    { class: 'main' },
    makeHeader(actions, makeFirstMinute(actions, results), doubleLink),
    double,
    problems,
    board,
    results.line,
    el('div', { class: 'controls' }, makeActs(actions), makeClock(actions, loop), stills),
    strips,
    callouts.list,
    places,
  );
  const allKnobs = makeAllKnobs(actions);
  const partsList = makePartsList(actions);
  store.watch(['allKnobs'], ({ allKnobs: open }) => {
    partsList.hidden = open;
  });
  const side = el(
    'div',
    { class: 'side' },
    // It scrolls, so that it must be reachable by keyboard.
    el('div', { class: 'drawer', role: 'region', tabindex: 0, 'aria-label': words.parts.drawer }, partsList, makeRevisions(actions), allKnobs),
    results.element,
    foot,
  );
  const sheet = el('div', { class: 'sheet' }, main, side);

  const arrange = (): void => {
    const { width } = board.getBoundingClientRect();
    if (width === 0) return;
    const { shown, place } = store.state;
    panes[SIDE].element.hidden = shown === 'front';
    panes[FRONT].element.hidden = shown === 'side';
    sheet.dataset['shown'] = shown;
    const listed = shown === 'both' || place !== undefined || width < CALLOUTS_FROM;
    sheet.classList.toggle('placed', place !== undefined);
    sheet.classList.toggle('listed', listed);
    callouts.arrange(listed);
    loop.touch();
  };
  new ResizeObserver(arrange).observe(board);
  store.watch(['shown', 'active', 'place'], arrange);
  store.watch(['active'], ({ active }) => {
    for (const pane of panes) pane.element.classList.toggle('active', pane.plane === active);
  });
  for (const pane of panes) {
    pane.element.addEventListener('pointerdown', () => {
      store.set({ active: pane.plane });
    });
  }
  store.watch(['allKnobs'], ({ allKnobs: open }) => {
    sheet.classList.toggle('all', open);
  });
  robotSeen
    .then(() => import('./later'))
    .then(({ furnish }) => {
      furnish({ sheet, doubleLink, double, problems, strips, places, foot }, actions, loop, theme, results);
    })
    .catch((cause: unknown) => {
      actions.notice(words.sheet.notLoaded(String(cause)));
    });
  return { element: sheet, arrange };
}

function makeHeader(actions: Actions, guide: HTMLElement, double: HTMLElement): HTMLElement {
  const { store } = actions;
  const turn = button(words.turn, { class: 'link turn' }, () => {
    actions.turn();
  });
  const both = button('', { class: 'link both' }, () => {
    actions.show(store.state.shown === 'both' ? (store.state.active === FRONT ? 'front' : 'side') : 'both');
  });
  const view = el('span', { class: 'view' });
  const notice = el('p', { class: 'notice', role: 'status' });
  store.watch(['notice'], ({ notice: text }) => {
    notice.textContent = text;
    notice.hidden = text === '';
  });
  store.watch(['shown', 'active'], ({ shown, active }) => {
    view.textContent = shown === 'both' ? words.bothViews : words.view(active);
    both.textContent = shown === 'both' ? words.oneView : words.bothViews;
  });
  return el(
    'header',
    { class: 'head' },
    el('div', { class: 'title' }, el('h1', {}, words.name), guide, notice),
    makeSwitch(actions),
    el('div', { class: 'views' }, view, turn, both, double),
  );
}
