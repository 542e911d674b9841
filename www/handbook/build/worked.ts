// Worked examples: fences named `worked`, a line for each quantity, either given or worked out,
//   m = 8.10 kg                          # a remark
//   I = m*g*d*T^2/(4*pi^2) - m*d^2 = 0.0500 kg·m²
// Each result is recomputed from the lines above it and must agree with what is written, to its last digit.

/** Factors to SI units. */
const UNITS: Readonly<Record<string, number>> = {
  '': 1,
  kg: 1,
  g: 1e-3,
  m: 1,
  mm: 1e-3,
  'mm²': 1e-6,
  s: 1,
  ms: 1e-3,
  'm/s': 1,
  'm/s²': 1,
  's²/m': 1,
  'kg·m': 1,
  'kg·m²': 1,
  N: 1,
  'N·m': 1,
  'N·m/A': 1,
  V: 1,
  A: 1,
  Ω: 1,
  W: 1,
  Hz: 1,
  K: 1,
  '1/rad': 1,
  '°': Math.PI / 180,
  rpm: Math.PI / 30,
};

export interface Line {
  readonly name: string;
  /** Empty for what is given. */
  readonly formula: string;
  /** As written. */
  readonly number: string;
  readonly unit: string;
  readonly remark: string;
  /** [SI], recomputed where there is a formula. */
  readonly value: number;
}

const CONSTANTS: Readonly<Record<string, number>> = { g: 9.80665, pi: Math.PI };
const FUNCTIONS = ['sin', 'cos', 'tan', 'atan', 'sqrt', 'ln'] as const;

/** The value of a formula; only numbers, names, the five operators and a few functions are taken. */
function evaluate(formula: string, known: ReadonlyMap<string, number>): number {
  const tokens = formula.match(/[A-Za-z_][A-Za-z_0-9]*|\d+(?:\.\d+)?|[-+*/^()]|\S/g) ?? [];
  let at = 0;
  const take = (expected: string): void => {
    if (tokens[at] !== expected) throw new Error(`expected "${expected}", found "${tokens[at] ?? 'the end'}"`);
    at += 1;
  };
  const sum = (): number => {
    let value = product();
    while (tokens[at] === '+' || tokens[at] === '-') value += tokens[at++] === '+' ? product() : -product();
    return value;
  };
  const product = (): number => {
    let value = signed();
    while (tokens[at] === '*' || tokens[at] === '/') value = tokens[at++] === '*' ? value * signed() : value / signed();
    return value;
  };
  const signed = (): number => {
    if (tokens[at] !== '-') return power();
    at += 1;
    return -signed();
  };
  const power = (): number => {
    const base = atom();
    if (tokens[at] !== '^') return base;
    at += 1;
    return base ** signed();
  };
  const atom = (): number => {
    const token = tokens[at] ?? 'the end';
    at += 1;
    if (token === '(') {
      const value = sum();
      take(')');
      return value;
    }
    if (/^\d/.test(token)) return Number(token);
    const call = FUNCTIONS.find((name) => name === token);
    if (call !== undefined) {
      take('(');
      const value = sum();
      take(')');
      return call === 'ln' ? Math.log(value) : Math[call](value);
    }
    const value = known.get(token) ?? CONSTANTS[token];
    if (value === undefined) throw new Error(`"${token}" is not known`);
    return value;
  };
  const value = sum();
  if (at !== tokens.length) throw new Error(`"${tokens[at] ?? ''}" is not understood`);
  return value;
}

/** Half a unit of the last digit written. */
function fineness(number: string): number {
  const digits = number.split('.')[1]?.length ?? 0;
  return 0.5 * 10 ** -digits;
}

/** Reads a worked example and recomputes it; fails with the line that is wrong. */
export function worked(text: string): readonly Line[] {
  const known = new Map<string, number>();
  return text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => {
      const refuse = (reason: string): never => {
        throw new Error(`worked example, "${line.trim()}": ${reason}`);
      };
      const [sums = '', remark = ''] = line.split('#', 2).map((part) => part.trim());
      const parts = sums.split(' = ').map((part) => part.trim());
      const [name = '', ...rest] = parts;
      if (!/^[A-Za-z][A-Za-z_0-9]*$/.test(name) || rest.length < 1 || rest.length > 2) return refuse('expected name = value or name = formula = value');
      const found = /^(-?\d+(?:\.\d+)?)(°| \S+)?$/.exec(rest[rest.length - 1] ?? '');
      const [, number = '', spaced = ''] = found ?? refuse('expected a number with its unit');
      const unit = spaced.trim();
      const factor = UNITS[unit] ?? refuse(`the unit "${unit}" is not known`);
      const written = Number(number) * factor;
      let value = written;
      const formula = rest.length === 2 ? (rest[0] ?? '') : '';
      if (formula !== '') {
        try {
          value = evaluate(formula, known);
        } catch (cause) {
          return refuse(cause instanceof Error ? cause.message : String(cause));
        }
        // A hair more, for what lies just between two digits.
        if (!(Math.abs(value - written) <= 1.0001 * fineness(number) * factor)) {
          return refuse(`gives ${value / factor} ${unit}`);
        }
      }
      known.set(name, value);
      return { name, formula, number, unit, remark, value };
    });
}

/** All worked examples of a chapter. */
export function examples(text: string): readonly (readonly Line[])[] {
  return [...text.matchAll(/^```worked\n([\s\S]*?)^```$/gm)].map(([, inside = '']) => worked(inside));
}

const GREEK: Readonly<Record<string, string>> = {
  alpha: 'α',
  gamma: 'γ',
  delta: 'δ',
  zeta: 'ζ',
  eta: 'η',
  theta: 'θ',
  mu: 'μ',
  pi: 'π',
  tau: 'τ',
  omega: 'ω',
  sqrt: '√',
};

/** As it is shown on the page. */
export function lettered(line: Line): { readonly sums: string; readonly remark: string } {
  const signs = (text: string): string =>
    text
      .replace(/[a-z]+(?![a-z(]*[a-z])/g, (word) => GREEK[word] ?? word)
      .replace(/sqrt\(/g, '√(')
      .replace(/\*/g, '·')
      .replace(/\^2(?!\d)/g, '²')
      .replace(/\^3(?!\d)/g, '³')
      .replace(/\^5(?!\d)/g, '⁵')
      .replace(/\s*-\s*(?=[^ ])/g, (minus) => (minus.startsWith(' ') ? ' − ' : '−'));
  const middle = line.formula === '' ? '' : ` = ${signs(line.formula)}`;
  return { sums: `${signs(line.name)}${middle} = ${signs(line.number)}${line.unit === '°' ? '' : ' '}${line.unit}`.trim(), remark: line.remark };
}
