// The parts list: what the robot is made of, and the knobs of each part when all are open.

import type { BodyRow } from '../core/types';
import type { Actions } from '../actions';
import { button, el, say } from '../dom';
import { said } from '../words/core';
import { words } from '../words/page';
import { Knob } from './knob';
import { makePushes } from './pushes';

export function makePartsList(actions: Actions): HTMLElement {
  const bodies = el('div', { class: 'bodies' });
  const line = (kind: string, name: string, mass: string): HTMLElement =>
    el('p', { class: `line ${kind}` }, el('span', { class: 'name' }, name), el('span', { class: 'mass' }, mass));
  /** Bodies whose parts are folded out. */
  const open = new Set<string>();
  const row = ({ body, mass, parts }: BodyRow, mark: number): HTMLElement => {
    const head = [
      el('span', { class: 'mark', 'aria-hidden': 'true' }, String(mark)),
      el('span', { class: 'name' }, said(body)),
      el('span', { class: 'mass' }, mass),
    ];
    if (parts.length === 0) return el('p', { class: 'line' }, ...head);
    const list = el('ul', {});
    for (const part of parts) {
      const changed = part.grams > 0 ? words.parts.added(said(body)) : words.parts.taken(said(body));
      list.append(
        el(
          'li',
          { class: 'line' },
          el('span', { class: 'name' }, part.name === '' ? changed : part.name),
          el('span', { class: 'mass' }, part.mass),
        ),
      );
    }
    const fold = el('details', {}, el('summary', { class: 'line' }, ...head), list);
    fold.open = open.has(body);
    fold.addEventListener('toggle', () => {
      if (fold.open) open.add(body);
      else open.delete(body);
    });
    return fold;
  };
  const sums = el('div', {});
  let told = '';
  actions.store.watch(['robot'], ({ robot }) => {
    // While one knob is dragged most rows stay as they are, and so does the focus.
    const now = JSON.stringify(robot.bodies);
    if (now !== told) {
      told = now;
      const focused = [...bodies.children].findIndex((child) => child.contains(document.activeElement));
      bodies.replaceChildren(...robot.bodies.map((body, index) => row(body, index + 1)));
      bodies.children[focused]?.querySelector('summary')?.focus();
    }
    sums.replaceChildren(
      line('sum', words.parts.whole, robot.mass),
      line('share', words.parts.share, robot.headShare),
    );
  });
  return el('section', { class: 'partslist', 'aria-label': words.parts.title }, el('h2', {}, words.parts.title), bodies, sums);
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
  actions.store.watch(['spans'], ({ allKnobs }) => {
    if (allKnobs) for (const knob of knobs) knob.mark();
  });
  say(none, words.knobs.none);
  return element;
}
