// A text with places. `{}` is told in its turn; `{=}` stays as it is: what was typed, or words of a
// file. Places side by side are one.

/** Tells a piece; undefined if it is not understood. */
type Tell = (piece: string) => string | undefined;

export interface Template {
  /** Letters that it says itself. */
  readonly weight: number;
  /** The text in the other language, if it is one of this template. */
  readonly tell: (text: string, tell: Tell) => string | undefined;
}

const PLACES = /(?:\{=?\})+/u;

/**
 * The templates of an English text and its words; none if it has no places and does not go on with
 * another. What begins or ends with a blank or the like is written before or behind something, and
 * has a place more there; it may stand alone too, where it fills a place of another.
 */
export function templatesOf(english: string, other: string): readonly Template[] {
  const alone = PLACES.test(english) ? [template(english, other)] : [];
  const before = /^[\s,;]/.test(english) ? '{}' : '';
  const behind = /[^\S\n]$/.test(english) ? '{}' : '';
  if (before === '' && behind === '') return alone;
  return [...alone, template(before + english + behind, before + other + behind)];
}

function template(english: string, other: string): Template {
  const parts = english.split(PLACES);
  const between = other.split(PLACES);
  const raw = (other.match(new RegExp(PLACES, 'gu')) ?? []).map((place) => place.includes('='));
  const weight = parts.join('').replace(/[^\p{L}]/gu, '').length;
  const longest = parts.reduce((a, b) => (b.length > a.length ? b : a), '');
  return {
    weight,
    tell(text, tell) {
      if (!text.includes(longest)) return undefined;
      const told = match(text, parts, raw, tell);
      return told === undefined ? undefined : between.map((part, i) => (i === 0 ? '' : (told[i - 1] ?? '')) + part).join('');
    },
  };
}

/** What stands in the places, told; every way to divide the text is tried until all is understood. */
function match(text: string, parts: readonly string[], raw: readonly boolean[], tell: Tell): readonly string[] | undefined {
  const [first = '', ...rest] = parts;
  if (!text.startsWith(first)) return undefined;
  const found: string[] = [];
  const from = (start: number, index: number): boolean => {
    const part = rest[index];
    if (part === undefined) return start === text.length;
    const last = index === rest.length - 1;
    // A place grown onto a word may be empty: “a number” in “a number{}”.
    const least = /\p{L}$/u.test(parts[index] ?? '') ? start : start + 1;
    // A last part ends the text; any other is sought from left to right.
    let at = last ? text.length - part.length : text.indexOf(part, least);
    for (; at >= least; at = last || part === '' ? -1 : text.indexOf(part, at + 1)) {
      if (!text.startsWith(part, at)) return false;
      const piece = text.slice(start, at);
      const told = raw[index] === true ? piece : tell(piece);
      if (told !== undefined) {
        found[index] = told;
        if (from(at + part.length, index + 1)) return true;
      }
    }
    return false;
  };
  return from(first.length, 0) ? found : undefined;
}
