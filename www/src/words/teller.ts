// Tells a text of the core in another language. A text is one of the catalogue's, or one of its
// templates with other texts in its places, or several of them joined by commas, colons, “and”.
// What is understood must be understood to its last letter; only then is it told.

import { templatesOf, type Template } from './template';

/** What joins texts, with its words by language. A comma comes last: labels have some of their own. */
const JOINTS: readonly (readonly [english: string, german: string])[] = [
  ['\n', '\n'],
  ['. ', '. '],
  ['; ', '; '],
  [': ', ': '],
  [' and ', ' und '],
  [' or ', ' oder '],
  [', ', ', '],
  [' … ', ' … '],
  [' (', ' ('],
];
/** What may end one. */
const ENDS = /[.:)]$/;

/** Symbols of units, as in `crates/build/src/words/readable.rs`. */
const SYMBOLS = new Set(
  'A AWG C G GB Hz J K KB MB N Nm Nms Ns V W Wh cm deg degC ft g h in kg kgf km lb lbf m mA min mm mN ms mΩ ohm oz ozf rad rpm s Ω µs kgm x z e Ku Pu'.split(' '),
);
/** A key of the robot file or a word in quotes: a file's word, the same in every language. */
const FILES_WORD = /^(?:[a-z_]+(?:\.[a-z_0-9]+)+|[a-z]+(?:_[a-z]+)+|"[^"]*"(?:, "[^"]*")*)$/;

const LONGEST = 1200;
const MOST_KEPT = 4000;

export class Teller {
  /** What was not understood, its numbers made alike. */
  readonly untold = new Set<string>();
  readonly #own = new Set<string>();
  /** What has been told, and what came out, which is not told again. */
  #told = new Map<string, string>();
  #out = new Set<string>();
  /** What is not understood, until more names are known: lettering comes again each frame. */
  readonly #unknown = new Set<string>();
  #templates: readonly Template[] | undefined;
  #plain = new Map<string, string>();

  constructor(private readonly catalogue: Readonly<Record<string, string>>) {}

  own(name: string): void {
    if (name === '' || name.length > 80 || this.#own.has(name)) return;
    this.#own.add(name);
    this.#unknown.clear();
  }

  say(text: string): string {
    return this.#kept(text) ?? this.#anew(text, true);
  }

  sayIfKnown(text: string): string {
    return this.#kept(text) ?? this.#anew(text, false);
  }

  #kept(text: string): string | undefined {
    if (isNumber(text) || this.#out.has(text)) return text;
    return this.#told.get(text);
  }

  #anew(text: string, must: boolean): string {
    if (text.length > LONGEST) return text;
    const told = this.#unknown.has(text) ? undefined : new Parse(this.#prepare(), this.#plain, this.#own).whole(text);
    if (told === undefined) {
      if (must) this.untold.add(text.replace(/[−-]?\d[\d.]*/g, '0'));
      if (this.#unknown.size >= MOST_KEPT) this.#unknown.clear();
      this.#unknown.add(text);
      return text;
    }
    if (this.#told.size >= MOST_KEPT) {
      this.#told = new Map();
      this.#out = new Set();
    }
    this.#told.set(text, told);
    this.#out.add(told);
    return told;
  }

  /** The catalogue comes late: it is made ready when first needed. */
  #prepare(): readonly Template[] {
    if (this.#templates !== undefined) return this.#templates;
    const templates: Template[] = [];
    for (const [line, told] of Object.entries(this.catalogue)) {
      // A line may come without its end.
      const [english, other] = [line.replace(/\n$/, ''), told.replace(/\n$/, '')];
      if (!english.includes('{}')) this.#plain.set(english, other);
      templates.push(...templatesOf(english, other));
    }
    // What says most of itself is tried first.
    templates.sort((a, b) => b.weight - a.weight);
    this.#templates = templates;
    return templates;
  }
}

/** Numbers with their units, signs, single letters: the same in every language. */
function isNumber(text: string): boolean {
  const letters = text.match(/\p{L}+/gu);
  return letters === null || letters.every((word) => word.length === 1 || SYMBOLS.has(word));
}

/** One text, with what is known of its pieces so far. */
class Parse {
  readonly #known = new Map<string, string | undefined>();

  constructor(
    private readonly templates: readonly Template[],
    private readonly plain: ReadonlyMap<string, string>,
    private readonly own: ReadonlySet<string>,
  ) {}

  whole(text: string): string | undefined {
    if (this.#known.has(text)) return this.#known.get(text);
    // A piece is not understood by way of itself.
    this.#known.set(text, undefined);
    const told = this.#simple(text) ?? this.#template(text) ?? this.#lower(text) ?? this.#ended(text) ?? this.#counted(text) ?? this.#joined(text);
    this.#known.set(text, told);
    return told;
  }

  #simple(text: string): string | undefined {
    if (isNumber(text) || this.own.has(text) || FILES_WORD.test(text)) return text;
    return this.plain.get(text);
  }

  #template(text: string): string | undefined {
    for (const template of this.templates) {
      const told = template.tell(text, (piece) => this.whole(piece));
      if (told !== undefined) return told;
    }
    return undefined;
  }

  /** A sentence may begin with what elsewhere stands inside one. */
  #lower(text: string): string | undefined {
    const first = text.charAt(0);
    const lower = first.toLowerCase();
    if (first === lower) return undefined;
    const told = this.whole(lower + text.slice(1));
    return told === undefined ? undefined : told.charAt(0).toUpperCase() + told.slice(1);
  }

  #ended(text: string): string | undefined {
    const end = ENDS.exec(text)?.[0];
    if (end === undefined) return undefined;
    const told = this.whole(text.slice(0, -1));
    return told === undefined ? undefined : told + end;
  }

  /** A word with its number, either way round. */
  #counted(text: string): string | undefined {
    const behind = /^(.*\p{L}.*?)( (?:[≤≥<>=] )?[−+±~-]?\d.*)$/u.exec(text);
    const [, word = '', number = ''] = behind ?? [];
    if (behind !== null && isNumber(number)) {
      const told = this.whole(word);
      if (told !== undefined) return told + number;
    }
    const before = /^([−+±-]?\d[\d.×⁻⁰¹²³⁴-⁹]* )(.+)$/u.exec(text);
    const [, count = '', counted = ''] = before ?? [];
    const told = before === null ? undefined : this.whole(counted);
    return told === undefined ? undefined : count + told;
  }

  #joined(text: string): string | undefined {
    for (const [joint, german] of JOINTS) {
      for (let at = text.indexOf(joint); at > 0; at = text.indexOf(joint, at + 1)) {
        // The sentence keeps its full stop.
        const cut = joint === '. ' ? at + 1 : at;
        const before = this.whole(text.slice(0, cut));
        if (before === undefined) continue;
        const after = this.whole(text.slice(at + joint.length));
        if (after !== undefined) return before + (joint === '. ' ? ' ' : german) + after;
      }
    }
    return undefined;
  }
}
