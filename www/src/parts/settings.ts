// How the sheet is shown: layers, light, units, language, keys.

import type { Actions } from '../actions';
import { LAYER } from '../core/types';
import { button, el, letGoAfterPointer } from '../dom';
import { showKeyMap } from '../shortcuts';
import type { Theme as ThemeName, Units } from '../store';
import { LANGUAGE_NAMES, LANGUAGES, changeLanguage, language } from '../words/language';
import { words } from '../words/page';

/** Longer than the pause after which changes are written [ms]. */
const WRITTEN = 600;

export function makeSettings(actions: Actions): HTMLElement {
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
