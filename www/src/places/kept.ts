// Kept runs: what was kept, compared, replayed, exported; the whole revision table; the link.

import './kept/kept.css';
import type { Actions } from '../actions';
import { button, el, say } from '../dom';
import { openStorage, type Storage } from './kept/db';
import { makeDetail, type Around } from './kept/detail';
import { importFile, toBlob, writeFile, type Settings } from './kept/exchange';
import { keep, presentMeasures, recordPresent } from './kept/keep';
import { words } from '../words/kept';
import { makeLinkBox } from './kept/linkbox';
import { makeOverTime } from './kept/overtime';
import type { KeptRun } from './kept/record';
import { makeRows } from './kept/rows';
import { KeptStrips } from './kept/strips';
import { download, row, table, when } from './kept/table';
import type { Place, PlaceContext } from './place';

/** Runs kept since the last export after which a reminder stands. */
const REMIND = 5;

export function make({ actions, theme }: PlaceContext): Place {
  const link = makeLinkBox(actions);
  const time = makeOverTime(actions, theme);
  const list = el('div', {});
  const detail = el('div', {});
  const told = el('p', { class: 'note', role: 'status' });
  const toldActs = el('span', {});
  const trouble = el('p', { class: 'trouble', role: 'alert' });
  const remind = el('p', { class: 'note' });
  let storage: Storage | undefined;
  let chosen: string | undefined;
  let shown = '';

  const tell = (text: string, ...acts: HTMLElement[]): void => {
    say(told, text);
    toldActs.replaceChildren(...acts);
  };
  const runs = (): readonly KeptRun[] => [...(storage?.all('runs') ?? [])].sort((a, b) => b.at - a.at);

  const around: Around = {
    actions,
    strips: new KeptStrips(theme, actions.store),
    runs,
    present: () => presentMeasures(actions, actions.store.state.active),
    remove: (run) => {
      void storage?.delete('runs', run.id);
      chosen = undefined;
      tell(
        words.runs.deleted(run.name),
        button(words.runs.undo, { class: 'link' }, () => {
          void storage?.put('runs', run);
          tell('');
        }),
      );
    },
    save: (run) => {
      void save([run]);
    },
  };

  const save = async (which: readonly KeptRun[]): Promise<void> => {
    const all = which.length !== 1;
    const { units, theme: light, shown: view, layers } = actions.store.state;
    const settings: Settings = { units, theme: light, shown: view, layers };
    const text = writeFile(which, all ? actions.revisions.history.rows : [], settings);
    const { blob, ending } = await toBlob(text);
    const name = `${words.file.name}-${new Date().toISOString().slice(0, 10)}${ending}`;
    download(blob, name);
    tell(all ? words.file.done(which.length, name) : words.file.doneOne(name));
    if (all) void storage?.put('facts', { id: 'exported', at: Date.now() });
  };

  const take = async (file: File): Promise<void> => {
    if (storage === undefined) return;
    const result = await importFile(file, file.name, storage);
    const came = result.runs + result.revisions + result.known > 0;
    // Where the rest came in, a record that did not is a remark.
    const problems = result.problems.map((problem) => (came ? { ...problem, severity: 'warning' as const } : problem));
    actions.showProblems(problems, words.import.of(file.name));
    if (!came && problems.length > 0) {
      tell(`${file.name}: ${words.import.nothing}.`);
      return;
    }
    const { settings } = result;
    tell(
      words.import.done(result.runs, result.revisions, result.known),
      ...(settings === undefined
        ? []
        : [
            button(words.file.useSettings, { class: 'link' }, () => {
              use(actions, settings);
              toldActs.replaceChildren();
            }),
          ]),
    );
  };

  const input = el('input', { type: 'file', accept: '.json,.gz,application/json', hidden: true, class: 'importfile' });
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file !== undefined) void take(file);
    input.value = '';
  });
  const acts = el(
    'div',
    { class: 'acts' },
    button(words.runs.keep, { class: 'act' }, () => {
      recordPresent(actions)
        .then(({ record, now }) => keep(actions, record, now))
        .then(
          ({ run, told: kept }) => {
            chosen = run.id;
            tell(kept);
            show();
          },
          (cause: unknown) => {
            tell(cause instanceof Error ? cause.message : String(cause));
          },
        );
    }),
    button(words.file.export, { class: 'link' }, () => {
      void save(runs());
    }),
    button(words.file.import, { class: 'link' }, () => {
      input.click();
    }),
    input,
  );

  const show = (): void => {
    if (storage === undefined) return;
    const all = runs();
    say(trouble, storage.trouble === undefined ? '' : words.trouble[storage.trouble]);
    trouble.hidden = storage.trouble === undefined;
    const exported = storage.get('facts', 'exported')?.at ?? 0;
    const fresh = all.filter(({ at }) => at > exported).length;
    say(remind, fresh >= REMIND ? words.file.remind(fresh) : '');
    // What is being typed is not taken away.
    const typing = document.activeElement instanceof HTMLInputElement && list.contains(document.activeElement);
    const now = JSON.stringify([all.map(({ id, name }) => [id, name, storage?.isSaved('runs', id)]), chosen]);
    if (typing || now === shown) return;
    shown = now;
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset['run'] : undefined;
    list.replaceChildren(all.length === 0 ? el('p', { class: 'note' }, words.runs.none) : makeList(all));
    if (focused !== undefined) list.querySelector<HTMLElement>(`[data-run="${focused}"]`)?.focus();
    const one = all.find(({ id }) => id === chosen);
    detail.replaceChildren(...(one === undefined ? [] : [makeDetail(one, around)]));
    time.show(all);
  };

  const makeList = (all: readonly KeptRun[]): HTMLElement =>
    table(
      words.runs.table,
      words.runs.columns,
      all.map((run) => {
        const name = el('input', { type: 'text', maxlength: 100, value: run.name, 'aria-label': words.runs.name(run.name) });
        name.addEventListener('change', () => {
          const text = name.value.trim();
          if (text === '') name.value = run.name;
          else void storage?.put('runs', { ...run, name: text });
        });
        name.addEventListener('keydown', (event) => {
          if (event.key === 'Enter') name.blur();
        });
        name.addEventListener('blur', () => {
          setTimeout(show);
        });
        const open = chosen === run.id;
        const press = button(
          open ? words.runs.hide : words.runs.show,
          { class: 'link', 'aria-expanded': open, 'aria-label': words.runs.choose(run.name), 'data-run': run.id },
          () => {
            chosen = open ? undefined : run.id;
            show();
          },
        );
        const kept = storage?.isSaved('runs', run.id) === true ? when(run.at) : `${when(run.at)}, ${words.runs.memory}`;
        return row([name, kept, run.robotName, run.title, run.outcome, press], { 'aria-current': open ? 'true' : undefined });
      }),
    );

  const element = el(
    'div',
    { class: 'kept' },
    el(
      'div',
      { class: 'keptruns' },
      el('header', {}, el('h2', {}, words.runs.title), acts),
      trouble,
      el('div', { class: 'told' }, told, toldActs),
      remind,
      list,
      detail,
      el('p', { class: 'note' }, words.tabs),
    ),
    time.element,
    makeRows(actions),
    link.element,
  );
  void openStorage().then((opened) => {
    storage = opened;
    opened.onChange(show);
    show();
  });
  return {
    element,
    opened: () => {
      link.watch(true);
      shown = '';
      show();
    },
    closed: () => {
      link.watch(false);
    },
  };
}

function use(actions: Actions, { units, theme, shown, layers }: Settings): void {
  actions.units(units);
  actions.show(shown);
  actions.store.set({ theme, layers });
}
