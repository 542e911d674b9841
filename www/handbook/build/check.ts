// What must be the same in all languages: chapters, headings' levels and keys, equations, worked examples,
// tables' rows, links.

import type { Source } from './chapters.ts';

/** Everything of a chapter that no language may change. */
export function skeleton({ text }: Source): readonly string[] {
  const told: string[] = [];
  // Remarks and words within equations may be translated.
  const bare = text
    .replace(/^```worked\n[\s\S]*?^```$/gm, (block) => block.replace(/\s*#.*$/gm, ''))
    .replace(/\\text\{[^}]*\}|\\mathrm\{lead\}/g, '\\text{}');
  const parts =
    /^```worked\n[\s\S]*?^```$|^```json\n[\s\S]*?^```$|^\$\$\n[\s\S]*?^\$\$$|^#{1,6} .*$|^\|.*\|$|^ {4}\S.*$|^(?:- |\d\. )|\$[^$\n]+\$|\]\([^)]+\)/gm;
  for (const [found] of bare.matchAll(parts)) {
    if (found.startsWith('#')) told.push(`${found.replace(/ .*$/, '')} ${/`([^`]+)`/.exec(found)?.[1] ?? ''}`.trim());
    else if (found.startsWith('|')) {
      const keys = [...found.matchAll(/`[^`]+`|\$[^$]+\$/g)].map(([key]) => key);
      told.push(`row of ${found.split(/(?<!\\)\|/).length - 2}: ${keys.join(' ')}`.trim());
    } else if (found.startsWith('    ')) told.push(found.replace(/\s+#.*$/, '').trim());
    else if (/^(- |\d\. )/.test(found)) told.push(found.startsWith('-') ? 'item' : 'numbered item');
    else if (found.startsWith('```json')) told.push('json');
    else told.push(found);
  }
  return told;
}

/** Where two languages part; empty if nowhere. */
export function differences(one: readonly Source[], other: readonly Source[]): readonly string[] {
  const names = (list: readonly Source[]): string => list.map(({ name }) => name).join(' ');
  if (names(one) !== names(other)) return [`chapters: ${names(one)} against ${names(other)}`];
  const found: string[] = [];
  for (const [at, source] of one.entries()) {
    const [a, b] = [skeleton(source), skeleton(other[at] ?? source)];
    for (let i = 0; i < Math.max(a.length, b.length); i++) {
      if (a[i] === b[i]) continue;
      found.push(`${source.name}: "${a[i] ?? 'nothing'}" against "${b[i] ?? 'nothing'}"`);
      break;
    }
  }
  return found;
}
