// Names of what is saved, and days.

import { sheetsWords as words } from '../../words/sheets';
import { download } from '../kept/table';
import type { Actions } from '../../actions';

const two = (number: number): string => String(number).padStart(2, '0');

/** The visitor's own day, as 2031-05-17. */
export function today(now = new Date()): string {
  return `${String(now.getFullYear()).padStart(4, '0')}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** A name for a file that any system takes: robot, what it is, day and minute. */
export function fileName(robot: string, what: string, ending: string, now = new Date()): string {
  const time = `${two(now.getHours())}${two(now.getMinutes())}`;
  const plain = [robot, what].join(' ').replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '').toLowerCase();
  return `${[...plain].slice(0, 60).join('')}-${today(now)}-${time}.${ending}`;
}

/** Saves it as the visitor's file and says so. */
export function save(actions: Actions, blob: Blob, name: string): void {
  download(blob, name);
  actions.notice(words.saved(name, words.size(blob.size)));
}
