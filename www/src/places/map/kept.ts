// Maps that were kept: their list, and the one that is shown beside the present map, drawn from its
// record.

import type { Actions } from '../../actions';
import { button, el, say } from '../../dom';
import { openStorage, type Storage } from '../kept/db';
import { words as keptWords } from '../../words/kept';
import { table, row, when } from '../kept/table';
import { mapWords } from '../../words/map';
import type { MapFigure } from './figure';
import type { Question } from './form';
import { MapModel, titleOf } from './model';
import { checkMap, type KeptMap } from './record';

const words = mapWords.kept;

export interface KeptHands {
  /** A figure of its own for the kept map that is shown. */
  readonly figure: MapFigure;
  /** Its saves. */
  readonly saves: HTMLElement;
  readonly shown: (kept: KeptMap | undefined) => void;
  readonly ask: (question: Question) => void;
}

export class KeptMaps {
  readonly element: HTMLElement;
  /** Where the kept map stands beside the present one. */
  readonly beside = el('section', { class: 'besidemap', hidden: true });
  readonly #list = el('div', {});
  readonly #told = el('p', { class: 'note', role: 'status' });
  readonly #acts = el('span', {});
  readonly #other = el('p', { class: 'note' });
  readonly #title = el('h2', {});
  readonly #of = el('p', { class: 'note' });
  readonly #detailActs = el('div', { class: 'rowof' });
  #storage: Storage | undefined;
  #chosen: KeptMap | undefined;
  #shown = '';

  constructor(
    private readonly actions: Actions,
    private readonly hands: KeptHands,
  ) {
    this.element = el(
      'section',
      { class: 'keptmaps', 'aria-label': words.title },
      el('h2', {}, words.title),
      el('div', { class: 'rowof' }, this.#told, this.#acts),
      this.#list,
    );
    this.beside.append(this.#title, this.#of, this.#other, hands.figure.element, el('div', { class: 'rowof' }, hands.saves, this.#detailActs));
    void openStorage().then((storage) => {
      this.#storage = storage;
      storage.onChange(() => {
        this.#render();
      });
      this.#render();
    });
    actions.store.watch(['robot'], () => {
      this.#tellOther();
    });
  }

  get chosen(): KeptMap | undefined {
    return this.#chosen;
  }

  async keep(kept: Omit<KeptMap, 'name'>, base: string): Promise<void> {
    const storage = await openStorage();
    const taken = new Set(storage.all('maps').map(({ name }) => name));
    let name = base.slice(0, 90);
    for (let number = 2; taken.has(name); number++) name = `${base.slice(0, 90)} (${number})`;
    const stored = await storage.put('maps', { ...kept, name });
    void storage.persist();
    this.#tell(stored ? words.told(name) : `${words.told(name)} ${keptWords.trouble[storage.trouble ?? 'lost']}`);
    this.actions.tell(words.told(name));
  }

  #tell(text: string, ...acts: HTMLElement[]): void {
    say(this.#told, text);
    this.#acts.replaceChildren(...acts);
  }

  #show(kept: KeptMap | undefined): void {
    this.#chosen = kept;
    this.beside.hidden = kept === undefined;
    if (kept !== undefined) {
      say(this.#title, kept.name);
      say(this.#of, words.of(kept.robotName, kept.plan.title));
      this.#tellOther();
      this.#detailActs.replaceChildren(
        button(words.open, { class: 'link', title: words.openTitle }, () => {
          this.hands.ask(kept.question);
        }),
        button(words.robot, { class: 'link' }, () => {
          this.actions.revisions.putSetting({ opened: kept.opened, now: kept.robot }, words.back(kept.name));
        }),
      );
      this.hands.figure.limit(kept.limit);
      this.hands.figure.show(MapModel.whole(kept.plan, kept.values, kept.classes));
    }
    this.hands.shown(kept);
    this.#shown = '';
    this.#render();
  }

  #tellOther(): void {
    const kept = this.#chosen;
    const { name } = this.actions.store.state.robot;
    say(this.#other, kept === undefined || kept.robotName === name ? '' : words.other(kept.robotName, name));
  }

  #render(): void {
    const storage = this.#storage;
    if (storage === undefined) return;
    const found = storage.all('maps');
    const maps = found.map(checkMap).filter((map) => map !== undefined).sort((a, b) => b.at - a.at);
    const now = JSON.stringify([maps.map(({ id, name }) => [id, name, storage.isSaved('maps', id)]), this.#chosen?.id, found.length]);
    const typing = document.activeElement instanceof HTMLInputElement && this.#list.contains(document.activeElement);
    if (typing || now === this.#shown) return;
    this.#shown = now;
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset['map'] : undefined;
    const damaged = found.length - maps.length;
    this.#list.replaceChildren(
      ...(damaged > 0 ? [el('p', { class: 'note' }, words.damaged(damaged))] : []),
      maps.length === 0 ? el('p', { class: 'note' }, words.none) : table(words.table, words.columns, maps.map((map) => this.#row(storage, map))),
    );
    if (focused !== undefined) this.#list.querySelector<HTMLElement>(`[data-map="${CSS.escape(focused)}"]`)?.focus({ preventScroll: true });
  }

  #row(storage: Storage, map: KeptMap): HTMLTableRowElement {
    const name = el('input', { type: 'text', maxlength: 100, value: map.name, 'aria-label': words.name(map.name) });
    name.addEventListener('change', () => {
      const text = name.value.trim();
      if (text === '') name.value = map.name;
      else void storage.put('maps', { ...map, name: text });
    });
    name.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') name.blur();
    });
    name.addEventListener('blur', () => {
      setTimeout(() => {
        this.#render();
      });
    });
    const open = this.#chosen?.id === map.id;
    const press = button(
      open ? words.hide : words.show,
      { class: 'link', 'aria-expanded': open, 'aria-label': open ? `${words.hide}: ${map.name}` : words.choose(map.name), 'data-map': `show ${map.id}` },
      () => {
        this.#show(open ? undefined : map);
      },
    );
    const remove = button(words.delete, { class: 'link', 'aria-label': `${words.delete}: ${map.name}` }, () => {
      if (open) this.#show(undefined);
      void storage.delete('maps', map.id);
      const back = button(words.undo, { class: 'link' }, () => {
        void storage.put('maps', map);
        this.#tell('');
      });
      this.#tell(words.deleted(map.name), back);
      back.focus({ preventScroll: true });
    });
    const at = storage.isSaved('maps', map.id) ? when(map.at) : `${when(map.at)}, ${words.memory}`;
    return row([name, at, map.robotName, `${titleOf(map.plan)}; ${map.plan.title}`, el('span', { class: 'rowof' }, press, remove)], { 'aria-current': open ? 'true' : undefined });
  }
}
