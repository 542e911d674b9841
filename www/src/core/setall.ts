// Several settings at once.

import { refused, type Problem } from './types';

/** One that was refused, and why. */
export interface Stuck<T> {
  readonly one: T;
  readonly problems: readonly Problem[];
}

/** Sets each; one that is refused may have to wait for others, and is tried again as long as any is taken. Gives those left. */
export function setAll<T>(wanted: Iterable<T>, set: (one: T) => object | undefined): readonly Stuck<T>[] {
  let left: readonly Stuck<T>[] = Array.from(wanted, (one) => ({ one, problems: [] }));
  for (let before = -1; left.length > 0 && left.length !== before; ) {
    before = left.length;
    left = left.flatMap(({ one }) => {
      const answer = set(one);
      return refused(answer) ? [{ one, problems: answer.problems }] : [];
    });
  }
  return left;
}
