// Paper: a page as it is printed, seen on the screen before, and the press that prints it. What is printed is
// a copy at the end of the document, beside which nothing else is printed.

import { el } from '../../dom';
import type { Origin } from '../../core/lab.sheets';
import { sheetsWords as words } from '../../words/sheets';

export type Size = 'a4' | 'letter';
export const SIZES: readonly Size[] = ['a4', 'letter'];

/** Type sizes that are tried until all is on the page, greatest first [pt]. */
const TYPE = { most: 9, least: 5.5, step: 0.25 };

/** Where letters are used, the paper is theirs. */
export const usualSize = (): Size => (/^en-(US|CA|PH)|^es-(MX|US)|^fr-CA/.test(navigator.language) ? 'letter' : 'a4');

export function makePaper(kind: string, size: Size, label: string, ...parts: readonly Node[]): HTMLElement {
  return el('article', { class: `paper ${kind}`, 'data-size': size, lang: document.documentElement.lang, 'aria-label': label }, ...parts);
}

/** A page's head: what it is of, and where it comes from; below it a line of words, beside it a picture. */
export function paperHead(title: string, origin: Origin, below?: Node, beside?: Node): HTMLElement {
  const from = [origin.date, origin.revision === '' ? '' : words.paper.revision(origin.revision)].filter((part) => part !== '').join(', ');
  return el(
    'header',
    {},
    el(
      'div',
      {},
      el('h3', {}, title),
      from === '' ? undefined : el('p', { class: 'from' }, from),
      el('p', { class: 'digest' }, `${words.paper.digest(origin.digest)}, ${words.paper.model(origin.modelVersion, origin.program)}`),
      below,
    ),
    beside,
  );
}

const overflows = (paper: HTMLElement): boolean => paper.scrollHeight > paper.clientHeight + 1;

/**
 * Makes the type as large as the page takes; where even the smallest is too large, `shorten` takes something away
 * until it says that there is nothing more to take. The paper must lie in the document, seen.
 */
export function fit(paper: HTMLElement, shorten: () => boolean = () => false): void {
  for (let points = TYPE.most; points >= TYPE.least; points -= TYPE.step) {
    paper.style.fontSize = `${points}pt`;
    if (!overflows(paper)) return;
  }
  while (overflows(paper) && shorten());
}

/** The paper's size for the printer; a page rule cannot be chosen by a class that every browser knows. */
const rule = new CSSStyleSheet();
const RULES: Readonly<Record<Size, string>> = {
  a4: '@page { size: A4; margin: 10mm; }',
  letter: '@page { size: letter; margin: 10mm; }',
};

/** Hands a copy of the page to the browser's print window. */
export function print(paper: HTMLElement, size: Size): void {
  document.querySelector('.printsheet')?.remove();
  const copy = paper.cloneNode(true) as HTMLElement;
  copy.removeAttribute('tabindex');
  const sheet = el('section', { class: 'printsheet' }, copy);
  document.body.append(sheet);
  rule.replaceSync(RULES[size]);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets.filter((one) => one !== rule), rule];
  document.documentElement.classList.add('printing');
  const title = document.title;
  // The print window offers it as the name of a file.
  document.title = paper.querySelector('h3')?.textContent ?? title;
  window.addEventListener(
    'afterprint',
    () => {
      sheet.remove();
      document.title = title;
      document.documentElement.classList.remove('printing');
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== rule);
    },
    { once: true },
  );
  window.print();
}

/** A drawing of the core's writer as a picture of the page; its names must be its own. */
export function drawing(svg: string, label: string): Element {
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (parsed.nodeName !== 'svg') return el('p', {}, label);
  const picture = document.importNode(parsed, true);
  for (const named of picture.querySelectorAll('[id]')) named.removeAttribute('id');
  for (const told of picture.querySelectorAll('title, desc')) told.remove();
  for (const size of ['width', 'height', 'aria-labelledby']) picture.removeAttribute(size);
  picture.setAttribute('aria-label', label);
  return picture;
}
