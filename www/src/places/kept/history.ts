// Revisions in the storage: those of the visit before come back, new ones are written shortly
// after they were made, those of another tab are taken in.

import type { Actions } from '../../actions';
import type { Revision } from '../../revisions';
import { onKeep } from '../kept-hook';
import { openStorage } from './db';
import { keep } from './keep';
import { Check, checkRevision } from './record';

/** Pause after the last change of a row before it is written [ms]. */
const REST = 400;

export async function keepHistory(actions: Actions): Promise<void> {
  const { revisions } = actions;
  const waiting = new Map<string, Revision>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** Whether the storage has been opened. */
  let ready = false;
  const note = (row: Revision): void => {
    waiting.set(row.id, row);
    clearTimeout(timer);
    if (ready) timer = setTimeout(write, REST);
  };
  // What came before this was loaded, such as a link, and what comes while the storage opens.
  for (const row of revisions.history.rows) if (row.kind !== 'start') note(row);
  revisions.onWrite(note);
  // Results of trials are kept by the same hand.
  onKeep(async (record) => {
    const { told } = await keep(actions, record, record.robot);
    actions.notice(told);
  });
  const storage = await openStorage();
  ready = true;
  const sound = (): Revision[] => {
    // A damaged row is left out; it never keeps the others from coming back.
    const check = new Check('');
    return storage.all('revisions').filter((row) => checkRevision(row, row.id, check) !== undefined);
  };
  function write(): void {
    timer = undefined;
    // The row that all began from is written with the first that follows it.
    for (const row of [...waiting.values()]) {
      for (let one = revisions.history.find(row.parent); one !== undefined; one = revisions.history.find(one.parent)) {
        if (storage.get('revisions', one.id) !== undefined) break;
        waiting.set(one.id, one);
      }
    }
    for (const { id } of waiting.values()) {
      const last = revisions.history.find(id);
      if (last !== undefined) void storage.put('revisions', last);
    }
    for (const id of revisions.history.gone) {
      if (storage.get('revisions', id) !== undefined) void storage.delete('revisions', id);
    }
    waiting.clear();
  }
  revisions.take(sound(), true);
  if (waiting.size > 0) timer = setTimeout(write, REST);
  storage.onChange((shelf) => {
    if (shelf === 'revisions') revisions.take(sound(), false);
  });
  window.addEventListener('pagehide', () => {
    if (timer === undefined) return;
    clearTimeout(timer);
    write();
  });
}
