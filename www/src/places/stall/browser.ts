// What this browser can and cannot do for a stall, looked up when it is shown.

import { el } from '../../dom';
import { stallWords as words } from '../../words/stall';
import { canStayAwake, type Awake } from './awake';
import { pageAddress } from './home';
import { canSound } from './sound';

const installed = (): boolean => ['standalone', 'fullscreen', 'minimal-ui'].some((mode) => matchMedia(`(display-mode: ${mode})`).matches);

export function browserTable(awake: Awake | undefined, address: string): HTMLElement {
  const { rows } = words.browser;
  const able: Readonly<Record<keyof typeof rows, boolean>> = {
    screen: document.fullscreenEnabled === true,
    awake: canStayAwake() && awake !== 'refused',
    sound: canSound(),
    buzz: 'vibrate' in navigator,
    pad: typeof navigator.getGamepads === 'function',
    code: pageAddress(address) !== undefined,
    installed: installed(),
    file: location.protocol !== 'file:',
  };
  const body = el('tbody', {});
  for (const name of Object.keys(able) as (keyof typeof rows)[]) {
    const [what, otherwise] = rows[name];
    const yes = able[name];
    const told = yes ? '' : name === 'awake' && awake === 'refused' ? `${words.browser.refused}. ${otherwise}` : otherwise;
    body.append(
      el('tr', { 'data-able': String(yes), 'data-row': name }, el('th', { scope: 'row' }, what ?? ''), el('td', {}, yes ? `✓ ${words.browser.yes}` : `✗ ${words.browser.no}`), el('td', {}, told ?? '')),
    );
  }
  return el('div', { class: 'wide' }, el('table', { class: 'browsercan', 'aria-label': words.browser.title }, body));
}
