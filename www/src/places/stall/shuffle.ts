// An order that varies: all of a list, each once, shuffled anew each time round, and never the
// same twice in a row. The seed makes the order repeatable.

/** Numbers from 0 up to 1 that look like chance and follow from the seed: Vigna's splitmix idea in 32 bits, as is common practice. */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  };
}

export function shuffler<T>(list: readonly T[], seed: number): () => T {
  const next = numbers(seed);
  let last: T | undefined;
  let left: T[] = [];
  return () => {
    if (left.length === 0) {
      left = [...list];
      for (let i = left.length - 1; i > 0; i--) {
        const j = Math.floor(next() * (i + 1));
        [left[i], left[j]] = [left[j] as T, left[i] as T];
      }
      // They are taken from the end: the first of this round must not be the last of the one before.
      const end = left.length - 1;
      if (end > 0 && left[end] === last) [left[0], left[end]] = [left[end] as T, left[0] as T];
    }
    const one = left.pop();
    if (one === undefined) throw new Error('nothing to shuffle');
    last = one;
    return one;
  };
}
