// Formulas of lesson files: numbers, names, + − * / ^, brackets, a few functions. Names are looked
// up when it is worked out, so that it follows the knobs and the runs that were kept.

/** Functions and how many numbers each takes. */
const FUNCTIONS: Readonly<Record<string, readonly [count: number, (...given: number[]) => number]>> = {
  sqrt: [1, Math.sqrt],
  sin: [1, Math.sin],
  cos: [1, Math.cos],
  abs: [1, Math.abs],
  min: [2, Math.min],
  max: [2, Math.max],
};

/** Fixed numbers: the circle's, and the free fall that the core reckons with [m/s²]. */
const FIXED: Readonly<Record<string, number>> = { pi: Math.PI, g: 9.80665 };

/** Deeper nesting is a mistake, or a trap. */
const DEEPEST = 40;

export type Look = (name: string) => number | undefined;
type Work = (look: Look) => number;

export interface Formula {
  /** Names that it looks up. */
  readonly names: readonly string[];
  /** NaN where a name has no number. */
  readonly work: Work;
}

/** What is wrong with a formula, in words that follow "expected". */
export class BadFormula extends Error {}

const TOKEN = /\s*(?:(\d+\.?\d*(?:e[+-]?\d+)?|\.\d+)|([a-z_][a-z0-9_]*(?:\.[a-z0-9_]+)*)|([-+*/^(),]))/iy;

/** Reads a formula; throws `BadFormula`. */
export function readFormula(text: string): Formula {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.trimEnd().length) {
    const at = TOKEN.lastIndex;
    const found = TOKEN.exec(text);
    if (found === null) throw new BadFormula(`a number, a name or one of + - * / ^ ( ) , at character ${at + 1}`);
    tokens.push(found[0].trim());
  }
  const names = new Set<string>();
  let next = 0;
  let depth = 0;
  const take = (what: string): boolean => {
    if (tokens[next] !== what) return false;
    next += 1;
    return true;
  };
  const must = (what: string): void => {
    if (!take(what)) throw new BadFormula(`“${what}” ${tokens[next] === undefined ? 'at the end' : `before “${tokens[next]}”`}`);
  };

  const sum = (): Work => {
    depth += 1;
    if (depth > DEEPEST) throw new BadFormula(`at most ${DEEPEST} brackets in each other`);
    let left = product();
    for (;;) {
      const a = left;
      if (take('+')) {
        const b = product();
        left = (look) => a(look) + b(look);
      } else if (take('-')) {
        const b = product();
        left = (look) => a(look) - b(look);
      } else {
        depth -= 1;
        return left;
      }
    }
  };
  const product = (): Work => {
    let left = signed();
    for (;;) {
      const a = left;
      if (take('*')) {
        const b = signed();
        left = (look) => a(look) * b(look);
      } else if (take('/')) {
        const b = signed();
        left = (look) => a(look) / b(look);
      } else {
        return left;
      }
    }
  };
  const signed = (): Work => {
    let minus = false;
    while (take('-')) minus = !minus;
    const value = power();
    return minus ? (look) => -value(look) : value;
  };
  const power = (): Work => {
    const base = atom();
    if (!take('^')) return base;
    const to = tokens[next] ?? '';
    if (!/^\d+$/.test(to)) throw new BadFormula('a whole number after “^”');
    next += 1;
    const times = Number(to);
    return (look) => base(look) ** times;
  };
  const atom = (): Work => {
    const token = tokens[next];
    if (token === undefined) throw new BadFormula('a number or a name at the end');
    next += 1;
    if (token === '(') {
      const inside = sum();
      must(')');
      return inside;
    }
    if (/^[\d.]/.test(token)) {
      const value = Number(token);
      return () => value;
    }
    if (!/^[a-z_]/i.test(token)) throw new BadFormula(`a number or a name before “${token}”`);
    const called = FUNCTIONS[token];
    if (called !== undefined && Object.hasOwn(FUNCTIONS, token)) {
      must('(');
      const [count, of] = called;
      const given = [sum()];
      while (given.length < count) {
        must(',');
        given.push(sum());
      }
      must(')');
      return (look) => of(...given.map((one) => one(look)));
    }
    const fixed = Object.hasOwn(FIXED, token) ? FIXED[token] : undefined;
    if (fixed !== undefined) return () => fixed;
    names.add(token);
    return (look) => look(token) ?? NaN;
  };

  const work = sum();
  if (next < tokens.length) throw new BadFormula(`an operator before “${tokens[next] ?? ''}”`);
  return { names: [...names], work };
}
