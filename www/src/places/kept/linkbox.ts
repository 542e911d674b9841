// The link to the present setting, as text and as a QR code that a phone reads from the screen.

import qrcode from 'qrcode-generator';
import type { Actions } from '../../actions';
import { button, el, svg } from '../../dom';
import { makeLink } from '../../link';
import { words } from '../../words/kept';

/** Longer than this a code gets too fine for a phone before a screen [characters]. */
const MOST_CODED = 1200;
/** Light edge around a code, in modules (ISO/IEC 18004). */
const QUIET = 4;

export interface LinkBox {
  readonly element: HTMLElement;
  /** Follows the board only while it is seen. */
  readonly watch: (seen: boolean) => void;
}

export function makeLinkBox(actions: Actions): LinkBox {
  const text = el('textarea', { class: 'linktext', readonly: true, rows: 2, 'aria-label': words.link.label, spellcheck: false });
  const code = el('div', { class: 'code' });
  const note = el('p', { class: 'note', role: 'status' });
  let seen = false;
  let serial = 0;
  const show = async (): Promise<void> => {
    serial += 1;
    const own = serial;
    // Many changes in a row need one link only.
    await new Promise((resolve) => setTimeout(resolve, 150));
    if (own !== serial || !seen) return;
    const link = await makeLink(actions);
    if (own !== serial || text.value === link) return;
    text.value = link;
    if (link.length > MOST_CODED) {
      code.replaceChildren();
      note.textContent = words.link.tooLong(link.length);
    } else {
      code.replaceChildren(draw(link));
      note.textContent = '';
    }
  };
  actions.store.watch(['robot', 'knobs', 'shown', 'active', 'level', 'kick', 'bump', 'units'], () => {
    if (seen) void show();
  });
  text.addEventListener('focus', () => {
    text.select();
  });
  const copy = button(words.link.copy, { class: 'link' }, () => {
    navigator.clipboard.writeText(text.value).then(
      () => {
        actions.tell(words.link.copy);
        note.textContent = '✓';
      },
      () => {
        text.focus();
      },
    );
  });
  return {
    element: el(
      'section',
      { class: 'linkbox', 'aria-label': words.link.title },
      el('h2', {}, words.link.title),
      code,
      el('div', { class: 'copying' }, text, copy),
      note,
    ),
    watch: (now) => {
      seen = now;
      if (seen) void show();
    },
  };
}

/** Dark on light in every theme, with its light edge: readers expect that. */
function draw(link: string): SVGElement {
  const code = qrcode(0, 'M');
  code.addData(link, 'Byte');
  code.make();
  const modules = code.getModuleCount();
  let path = '';
  for (let row = 0; row < modules; row++) {
    for (let column = 0; column < modules; column++) {
      if (code.isDark(row, column)) path += `M${column + QUIET} ${row + QUIET}h1v1h-1z`;
    }
  }
  const size = modules + 2 * QUIET;
  return svg(
    'svg',
    { viewBox: `0 0 ${size} ${size}`, role: 'img', 'aria-label': words.link.codeLabel, 'shape-rendering': 'crispEdges' },
    svg('rect', { class: 'light', width: size, height: size }),
    svg('path', { class: 'dark', d: path }),
  );
}
