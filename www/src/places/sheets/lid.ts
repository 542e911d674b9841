// The sheet for inside the lid: one page, black on white.

import type { LidGroup, LidLimit, LidLine, LidOut } from '../../core/lab.sheets';
import { button, el, say } from '../../dom';
import { makeLink } from '../../link';
import { words as page } from '../../words/page';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { drawCode } from '../qr';
import { Running, type Bench } from '../trials/bench';
import { Choice } from '../trials/fields';
import { today } from './names';
import { drawing, fit, makePaper, paperHead, print, SIZES, usualSize, type Size } from './paper';

/** A longer link makes a code too fine for print of this size [characters]. */
const MOST_CODED = 400;

export class LidPart {
  readonly element: HTMLElement;
  readonly #size = new Choice(words.paper.size, () => {
    this.#show();
  });
  readonly #code = el('input', { type: 'checkbox', id: 'lid-code', checked: true });
  readonly #make: HTMLButtonElement;
  readonly #print: HTMLButtonElement;
  readonly #running: Running;
  readonly #note = el('p', { class: 'note', role: 'status' });
  readonly #stale = el('p', { class: 'stale', role: 'status', hidden: true }, words.stale);
  readonly #view = el('div', { class: 'paperbox wide', role: 'region', 'aria-label': words.paper.preview(words.lid.title), hidden: true });
  #told: LidOut | undefined;
  #link: string | undefined;

  constructor(
    private readonly context: PlaceContext,
    private readonly bench: Bench,
  ) {
    this.#size.offer(SIZES.map((size) => [size, words.paper.sizes[size]]), usualSize());
    this.#make = button(words.paper.make, { class: 'act', 'data-act': 'lid' }, () => void this.#run());
    this.#print = button(words.paper.print, { class: 'act', 'data-act': 'print-lid', disabled: true }, () => {
      const paper = this.#view.querySelector<HTMLElement>('.paper');
      if (paper !== null) print(paper, this.#size.value as Size);
    });
    this.#running = new Running(context.actions, [this.#make]);
    this.#running.ready();
    this.#code.addEventListener('change', () => {
      this.#show();
    });
    bench.onChange(() => {
      this.#stale.hidden = this.#told === undefined;
    });
    this.element = el(
      'section',
      { class: 'part lidpart', 'aria-label': words.lid.title },
      el('h2', {}, words.lid.title),
      el('p', { class: 'note' }, words.lid.about),
      el('div', { class: 'fields' }, this.#size.element),
      el('p', { class: 'tick' }, this.#code, el('label', { for: 'lid-code' }, words.lid.link)),
      el('div', { class: 'rowof presses' }, this.#make, this.#print, this.#running.element),
      el('p', { class: 'note' }, words.paper.note),
      this.#note,
      this.#stale,
      this.#view,
    );
  }

  closed(): void {
    this.#running.cancel();
  }

  async #run(): Promise<void> {
    const { history } = this.context.actions.revisions;
    const { current } = history;
    const revision = [history.letter(current.id), current.name].filter((part) => part !== '').join(' ');
    const ask = { ...this.bench.robot(), date: today(), revision };
    const [told, link] = await Promise.all([this.#running.run('lid', ask, words.lid.what), makeLink(this.context.actions)]);
    if (told === undefined) return;
    this.#told = told;
    this.#link = link;
    this.#stale.hidden = true;
    this.#print.disabled = false;
    this.#show();
  }

  #show(): void {
    const told = this.#told;
    if (told === undefined) return;
    const code = this.#codeOf();
    const body = el('tbody', {}, ...limitRows(told.limits));
    const heads = [words.lid.measure, words.lid.limit, words.lid.found, words.lid.verdict];
    const rest = el('p', { class: 'more', hidden: true });
    const summary = told.summary === '' ? undefined : el('p', { class: 'summary' }, told.summary);
    const figures = told.drawings.map((svg, index) =>
      el('figure', {}, drawing(svg, words.lid.drawings[index] ?? ''), el('figcaption', {}, words.lid.drawings[index] ?? '')),
    );
    const group = (key: LidGroup['key'], part?: (section: string) => boolean): Node => {
      const found = told.groups.find((one) => one.key === key);
      if (found === undefined) return el('div', {});
      return settings(found, found.lines.filter((line) => part?.(sectionOf(line)) ?? true), part === isRest);
    };
    const paper = makePaper(
      'lid',
      this.#size.value as Size,
      words.lid.title,
      paperHead(told.origin.robot, told.origin, summary, code),
      el('div', { class: 'figures' }, ...figures, el('div', {}, group('bodies'), group('drives'))),
      el(
        'div',
        { class: 'twocolumns' },
        group('software', (section) => !isRest(section)),
        el(
          'div',
          {},
          group('software', isRest),
          group('supply'),
          el('h4', {}, words.lid.trials),
          el('table', { class: 'ruled' }, el('thead', {}, el('tr', {}, ...heads.map((text) => el('th', { scope: 'col' }, text)))), body),
          rest,
        ),
      ),
      el('h4', {}, words.lid.cautions),
      el('ul', { class: 'cautions' }, ...told.cautions.map((text) => el('li', {}, text))),
    );
    this.#view.hidden = false;
    this.#view.replaceChildren(paper);
    let gone = 0;
    fit(paper, () => {
      if (summary?.isConnected === true) {
        summary.remove();
        return true;
      }
      const last = body.lastElementChild;
      if (last === null) return false;
      last.remove();
      gone += 1;
      rest.hidden = false;
      say(rest, words.lid.more(gone));
      return true;
    });
  }

  /** The code of the setting, if there is a link that another device could open. */
  #codeOf(): Node | undefined {
    const link = this.#link;
    say(this.#note, '');
    if (!this.#code.checked || link === undefined) return undefined;
    if (!location.protocol.startsWith('http')) say(this.#note, words.lid.qrLocal);
    else if (link.length > MOST_CODED) say(this.#note, words.lid.qrLong);
    else return el('figure', { class: 'code' }, drawCode(link, words.lid.qr), el('figcaption', {}, words.lid.qr));
    return undefined;
  }
}

/** Limits under the trial that they belong to. */
function limitRows(limits: readonly LidLimit[]): Node[] {
  const rows: Node[] = [];
  let title = '';
  for (const row of limits) {
    if (row.title !== title) rows.push(el('tr', { class: 'begins' }, el('th', { colspan: 4, scope: 'rowgroup' }, row.title)));
    ({ title } = row);
    rows.push(
      el(
        'tr',
        row.holds ? {} : { class: 'broken' },
        el('td', {}, row.label),
        el('td', {}, row.limit),
        el('td', {}, row.text),
        el('td', {}, row.holds ? words.lid.holds : words.lid.broken),
      ),
    );
  }
  return rows;
}

const sectionOf = (line: LidLine): string => line.key.split('.')[0] ?? '';
/** What of the software stands on top of the second column, so that both are about as long. */
const isRest = (section: string): boolean => section === 'guard' || section === 'firmware';

/** Lines of a group under its heading, with what the firmware has for them where any of them has it. */
function settings(group: LidGroup, own: readonly LidLine[], goesOn: boolean): HTMLElement {
  const raw = own.some((line) => line.raw !== '');
  const marked = own.some((line) => line.mark !== '');
  const row = (line: LidLine): HTMLElement =>
    el(
      'tr',
      {},
      el('th', { scope: 'row' }, line.label),
      el('td', {}, line.text),
      raw ? el('td', {}, line.raw === '' ? '' : `${line.raw} ${line.rawUnit}`) : undefined,
      marked ? el('td', { class: 'mark' }, page.knobs.markLetters[line.mark]?.[0] ?? '') : undefined,
    );
  const lines: Node[] = [];
  let section = '';
  for (const line of own) {
    const of = sectionOf(line);
    // Lean and travel have settings of one name: each part of the software stands under its own.
    if (group.key === 'software' && of !== section) {
      lines.push(el('tr', { class: 'begins' }, el('th', { colspan: 4, scope: 'rowgroup' }, page.knobs.groups[of] ?? of)));
    }
    section = of;
    lines.push(row(line));
  }
  return el(
    'div',
    { class: `group ${group.key}` },
    goesOn ? undefined : el('h4', {}, group.title),
    el('table', {}, el('tbody', {}, ...lines)),
    marked && !goesOn ? el('p', { class: 'key' }, Object.values(page.knobs.markLetters).map((pair) => pair.join(' ')).join(', ')) : undefined,
  );
}
