// A link to a chapter, which reaches the page before its handbook is loaded. Small, for the page's first
// script holds it.

const LINK = /^#handbook=([a-z0-9-]{1,40})$/;

let asked: string | undefined;
let listener: ((name: string) => void) | undefined;

export const isHandbookLink = (hash: string): boolean => hash.startsWith('#handbook=');

/** The chapter that a link names; empty if it cannot be read. */
export const chapterOf = (hash: string): string => LINK.exec(hash)?.[1] ?? '';

/** A link asks for a chapter; one that cannot be read asks for the first. */
export function askChapter(hash: string): void {
  asked = chapterOf(hash);
  if (listener === undefined) return;
  listener(asked);
  asked = undefined;
}

/** Tells what has been asked for, now and from now on. */
export function onChapter(listen: (name: string) => void): void {
  listener = listen;
  if (asked !== undefined) listen(asked);
  asked = undefined;
}
