// Gains for the real firmware: a table to read, and C header, Markdown, CSV to save or copy.

import type { GainRow, GainsOut } from '../../core/lab.sheets';
import { button, el } from '../../dom';
import { sheetsWords as words } from '../../words/sheets';
import type { PlaceContext } from '../place';
import { copies } from '../trials/bench';
import { fileName, save } from './names';

/** The name that the header itself says it has. */
const HEADER = 'kickstill_gains.h';

export class GainsPart {
  readonly element: HTMLElement;
  readonly #body = el('tbody', {});
  #told: GainsOut | undefined;

  constructor(private readonly context: PlaceContext) {
    const { formats } = words.gains;
    const text = (): readonly (readonly [keyof typeof formats, string])[] => {
      const { header = '', markdown = '', csv = '' } = this.#told ?? {};
      return [
        ['c', header],
        ['markdown', markdown],
        ['csv', csv],
      ];
    };
    const saves = text().map(([format]) =>
      button(words.gains.save(formats[format]), { class: 'act', 'data-act': `gains-${format}` }, () => {
        const found = text().find(([name]) => name === format)?.[1];
        if (found === undefined || found === '') return;
        const name = format === 'c' ? HEADER : this.#name(format === 'markdown' ? 'md' : 'csv');
        save(context.actions, new Blob([found], { type: 'text/plain' }), name);
      }),
    );
    const heads = [words.gains.setting, words.gains.value, words.gains.firmware, words.gains.whole, words.gains.knob];
    this.element = el(
      'section',
      { class: 'part gainspart', 'aria-label': words.gains.title },
      el('h2', {}, words.gains.title),
      el('p', { class: 'note' }, words.gains.about),
      el('div', { class: 'rowof' }, ...saves),
      copies(context.actions, () => text().map(([format, found]) => [words.gains.copy(formats[format]), formats[format], found])),
      el(
        'details',
        {},
        el('summary', {}, words.gains.table),
        el(
          'div',
          { class: 'wide', role: 'region', 'aria-label': words.gains.table },
          el('table', {}, el('thead', {}, el('tr', {}, ...heads.map((head) => el('th', { scope: 'col' }, head)))), this.#body),
        ),
      ),
      el('p', { class: 'note' }, words.gains.wholeNote),
      el('p', { class: 'caution' }, words.gains.caution),
    );
  }

  show(told: GainsOut): void {
    this.#told = told;
    const row = (gain: GainRow): HTMLElement =>
      el(
        'tr',
        { title: gain.help },
        el('th', { scope: 'row' }, gain.label),
        el('td', {}, gain.text),
        el('td', {}, gain.raw === '' ? '' : `${gain.raw} ${gain.rawUnit}`),
        el('td', {}, gain.whole),
        el('td', { class: 'knobkey' }, gain.key),
      );
    this.#body.replaceChildren(...told.rows.map(row));
  }

  #name(ending: string): string {
    return fileName(this.context.actions.store.state.robot.name, words.files.gains, ending);
  }
}
