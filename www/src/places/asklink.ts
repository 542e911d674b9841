// A link that reaches the page before the place it asks for is loaded. Small, for the page's first script
// holds it.

export interface AskLink {
  readonly is: (hash: string) => boolean;
  /** What a link names; empty if it cannot be read. */
  readonly named: (hash: string) => string;
  readonly ask: (hash: string) => void;
  /** Tells what has been asked for, now and from now on. */
  readonly on: (listen: (name: string) => void) => void;
}

/** Links of the form `#word=name`, the name in small letters, digits and hyphens. */
export function askLink(word: string): AskLink {
  const start = `#${word}=`;
  let asked: string | undefined;
  let listener: ((name: string) => void) | undefined;
  const tell = (): void => {
    if (asked === undefined || listener === undefined) return;
    const name = asked;
    asked = undefined;
    listener(name);
  };
  const named = (hash: string): string => {
    const name = hash.startsWith(start) ? hash.slice(start.length) : '';
    return /^[a-z0-9-]{1,40}$/.test(name) ? name : '';
  };
  return {
    is: (hash) => hash.startsWith(start),
    named,
    ask: (hash) => {
      asked = named(hash);
      tell();
    },
    on: (listen) => {
      listener = listen;
      tell();
    },
  };
}
