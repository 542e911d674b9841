// The parts list: what the robot is made of, and the knobs of each part when all are open.

import type { Actions } from '../actions';
import { button, el, say } from '../dom';
import { words } from '../words';
import { Knob } from './knob';
import { makePushes } from './pushes';

export function makePartsList(actions: Actions): HTMLElement {
  const body = el('tbody', {});
  const table = el('table', {}, el('caption', {}, words.parts.title), body);
  const row = (mark: string, name: string, mass: string, kind = ''): HTMLElement =>
    el(
      'tr',
      { class: kind },
      el('td', { class: 'mark' }, mark),
      el('th', { scope: 'row' }, name),
      el('td', { class: 'mass' }, mass),
    );
  actions.store.watch(['robot'], ({ robot }) => {
    body.replaceChildren(
      ...robot.parts.map((part, index) => {
        const changed = part.grams > 0 ? words.parts.added(part.body) : words.parts.taken(part.body);
        return row(String(index + 1), part.name === '' ? changed : part.name, part.mass);
      }),
      row('', words.parts.whole, robot.mass, 'sum'),
      row('', words.parts.share, robot.headShare, 'share'),
    );
  });
  return el('section', { class: 'partslist' }, table);
}

/** Every knob of the catalogue, grouped by part; built when first opened. */
export function makeAllKnobs(actions: Actions): HTMLElement {
  const find = el('input', {
    type: 'search',
    class: 'find',
    placeholder: words.knobs.find,
    'aria-label': words.knobs.find,
  });
  const none = el('p', { class: 'none', hidden: true }, words.knobs.none);
  const groups = el('div', { class: 'groups' });
  const close = button(words.knobs.fewer, { class: 'link' }, () => {
    actions.store.set({ allKnobs: false });
  });
  const element = el(
    'section',
    { class: 'allknobs', 'aria-label': words.knobs.all, id: 'all-knobs' },
    el('header', {}, el('h2', {}, words.knobs.all), close),
    makePushes(actions),
    find,
    none,
    groups,
  );
  let knobs: Knob[] = [];
  const sections: { readonly section: HTMLDetailsElement; readonly within: Knob[] }[] = [];

  const build = (): void => {
    const byGroup = new Map<string, Knob[]>();
    for (const info of actions.knobs.values()) {
      const knob = new Knob(info.key, actions, { showRaw: true });
      const within = byGroup.get(info.group) ?? [];
      within.push(knob);
      byGroup.set(info.group, within);
    }
    for (const [name, within] of byGroup) {
      const section = el('details', {}, el('summary', {}, words.knobs.groups[name] ?? name));
      section.open = sections.length === 0;
      for (const knob of within) section.append(knob.element);
      groups.append(section);
      sections.push({ section, within });
      knobs.push(...within);
    }
  };

  find.addEventListener('input', () => {
    const wanted = find.value.trim().toLowerCase();
    let hits = 0;
    for (const { section, within } of sections) {
      let here = 0;
      for (const knob of within) {
        const info = actions.knobs.get(knob.key);
        const text = `${info?.label ?? ''} ${knob.key} ${info?.symbol ?? ''}`.toLowerCase();
        const hit = wanted === '' || text.includes(wanted);
        knob.element.hidden = !hit;
        if (hit) here += 1;
      }
      section.hidden = here === 0;
      if (wanted !== '' && here > 0) section.open = true;
      hits += here;
    }
    none.hidden = hits > 0;
  });

  actions.store.watch(['allKnobs', 'knobs'], ({ allKnobs }) => {
    element.hidden = !allKnobs;
    if (!allKnobs) return;
    if (knobs.length === 0) build();
    for (const knob of knobs) knob.refresh();
  });
  say(none, words.knobs.none);
  return element;
}
