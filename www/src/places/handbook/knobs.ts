// The chapter of knobs: written from the core's own catalogue, with what the robot is set to.

import type { Actions } from '../../actions';
import type { KnobInfo } from '../../core/types';
import { el } from '../../dom';
import { explainIn } from '../../helps';
import { handbookWords as words } from '../../words/handbook';
import { words as page } from '../../words/page';

export function knobTables(actions: Actions): DocumentFragment {
  const groups = new Map<string, KnobInfo[]>();
  for (const info of actions.knobs.values()) {
    const group = groups.get(info.group);
    if (group === undefined) groups.set(info.group, [info]);
    else group.push(info);
  }
  const out = document.createDocumentFragment();
  for (const [group, infos] of groups) {
    const head = el('tr', {}, ...words.knobs.columns.map((text) => el('th', { scope: 'col' }, text)));
    const rows = infos.map((info) => row(actions, info));
    out.append(
      el('h3', { id: `hb-knobs-${group}` }, page.knobs.groups[group] ?? group),
      el('div', { class: 'wide' }, el('table', { class: 'knobtable' }, el('thead', {}, head), el('tbody', {}, ...rows))),
    );
  }
  return out;
}

function row(actions: Actions, info: KnobInfo): HTMLElement {
  const value = actions.value(info.key);
  const name = el('th', { scope: 'row' }, info.label, el('code', {}, info.key));
  if (info.symbol !== '') name.append(el('i', {}, info.symbol));
  const range =
    info.kind === 'choice' ? info.words.join(', ') : words.knobs.range(...info.ends, info.logarithmic);
  const raw = value === undefined || value.rawUnit === '' ? '' : `${value.raw} ${value.rawUnit}`;
  const help = el('td');
  explainIn(info.key, help);
  return el(
    'tr',
    { 'data-knob': info.key },
    name,
    help,
    el('td', {}, range),
    el('td', { class: 'figure' }, value?.text ?? ''),
    el('td', {}, raw),
  );
}
