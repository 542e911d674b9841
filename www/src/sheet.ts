// The drawing sheet: puts all parts in their places and keeps the layout right for its width.

import type { Actions } from './actions';
import { makeAnnouncements } from './announce';
import { FRONT, LAYER, SIDE } from './core/types';
import { button, el, letGoAfterPointer } from './dom';
import type { Loop } from './loop';
import { Pane } from './parts/board';
import { Callouts } from './parts/callouts';
import { makeClock } from './parts/clock';
import { makeDouble } from './parts/double';
import { makeEnded } from './parts/ended';
import { makeFirstMinute } from './parts/firstminute';
import { makeActs } from './parts/levers';
import { makeAllKnobs, makePartsList } from './parts/partslist';
import { makeRevisions } from './parts/revisions';
import { listenForDrops, makeProblems, makeRobots } from './parts/robots';
import { makeStrips } from './parts/strips';
import { makeSwitch } from './parts/switch';
import { TitleBlock } from './parts/titleblock';
import { makePlaces } from './places';
import { showKeyMap } from './shortcuts';
import { makeStills } from './stills';
import type { Theme as ThemeName, Units } from './store';
import type { Theme } from './theme';
import { LANGUAGE_NAMES, LANGUAGES, changeLanguage, language } from './words/language';
import { words } from './words/page';

/** Longer than the pause after which changes are written [ms]. */
const WRITTEN = 600;
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

  const double = makeDouble(actions, loop);
  const strips = makeStrips(actions, loop, theme);
  const places = makePlaces(actions, loop, theme);
  const main = el(
    'div',
    { class: 'main' },
    makeHeader(actions, makeFirstMinute(actions, results), double.link),
    double.element,
    makeProblems(actions),
    board,
    results.line,
    el('div', { class: 'controls' }, makeActs(actions), makeClock(actions, loop), stills),
    strips,
    callouts.list,
    places.index,
    places.element,
  );
  const allKnobs = makeAllKnobs(actions);
  const partsList = makePartsList(actions);
  store.watch(['allKnobs'], ({ allKnobs: open }) => {
    partsList.hidden = open;
  });
  const announcements = makeAnnouncements(actions, loop, results);
  const side = el(
    'div',
    { class: 'side' },
    // It scrolls, so that it must be reachable by keyboard.
    el('div', { class: 'drawer', role: 'region', tabindex: 0, 'aria-label': words.parts.drawer }, partsList, makeRevisions(actions), allKnobs),
    results.element,
    el('div', { class: 'foot' }, makeRobots(actions), makeSettings(actions), ...announcements),
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
  listenForDrops(actions, sheet);
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

function makeSettings(actions: Actions): HTMLElement {
  const { store } = actions;
  const layers = el('fieldset', { class: 'layers' }, el('legend', {}, words.sheet.layers));
  for (const [name, text] of Object.entries(words.sheet.layer)) {
    const bit = LAYER[name as keyof typeof words.sheet.layer];
    const box = el('input', { type: 'checkbox' });
    box.addEventListener('change', () => {
      const { layers: now } = store.state;
      store.set({ layers: box.checked ? now | bit : now & ~bit });
    });
    store.watch(['layers'], (state) => {
      box.checked = (state.layers & bit) !== 0;
    });
    layers.append(el('label', {}, box, text));
  }
  const light = letGoAfterPointer(el('select', { 'aria-label': words.sheet.theme }));
  for (const [name, text] of Object.entries(words.sheet.themes)) light.append(el('option', { value: name }, text));
  light.addEventListener('change', () => {
    store.set({ theme: light.value as ThemeName });
  });
  store.watch(['theme'], ({ theme }) => {
    light.value = theme;
  });
  const units = letGoAfterPointer(el('select', { 'aria-label': words.sheet.units }));
  for (const [name, text] of Object.entries(words.sheet.unitNames)) units.append(el('option', { value: name }, text));
  units.addEventListener('change', () => {
    actions.units(units.value as Units);
  });
  store.watch(['units'], (state) => {
    units.value = state.units;
  });
  const letters = el('input', { type: 'checkbox' });
  letters.addEventListener('change', () => {
    store.set({ shortcuts: letters.checked });
  });
  store.watch(['shortcuts'], ({ shortcuts }) => {
    letters.checked = shortcuts;
  });
  const tongue = letGoAfterPointer(el('select', { 'aria-label': words.sheet.language }));
  // Each in its own tongue, as everyone finds it who cannot read the rest.
  for (const name of LANGUAGES) tongue.append(el('option', { value: name, lang: name }, LANGUAGE_NAMES[name]));
  tongue.value = language;
  tongue.addEventListener('change', () => {
    const chosen = LANGUAGES.find((name) => name === tongue.value);
    if (chosen === undefined || chosen === language) return;
    tongue.disabled = true;
    // What was changed last is written by then.
    setTimeout(() => {
      if (changeLanguage(chosen)) return;
      tongue.disabled = false;
      tongue.value = language;
      actions.notice(words.sheet.languageRefused);
    }, WRITTEN);
  });
  const keys = button(words.sheet.keyMap, { class: 'link' }, () => {
    showKeyMap(actions);
  });
  return el(
    'section',
    { class: 'settings' },
    layers,
    el('label', { class: 'light' }, `${words.sheet.theme} `, light),
    el('label', { class: 'units' }, `${words.sheet.units} `, units),
    el('label', { class: 'tongue' }, `${words.sheet.language} `, tongue),
    el('details', {}, el('summary', {}, words.sheet.keys), el('label', {}, letters, words.sheet.shortcuts), ' ', keys),
    el('p', { class: 'caution' }, words.sheet.caution),
  );
}
