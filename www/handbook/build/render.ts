// A chapter's Markdown as HTML that the page may take in as it is: no raw HTML of the source, no style
// attributes (the page's security policy refuses them), equations as MathML, wide things in boxes of their own.

import { existsSync } from 'node:fs';
import path from 'node:path';
import Markdown, { type MarkdownIt } from 'markdown-it';
import markdownItMath from 'markdown-it-math/no-default-renderer';
import temml from 'temml';
import type { Source } from './chapters.ts';
import { lettered, worked } from './worked.ts';

export interface Chapter {
  readonly name: string;
  readonly title: string;
  readonly html: string;
}

const escape = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** An equation as MathML. Its source stays with it as its text alternative. */
function equation(source: string, block: boolean): string {
  const math = temml
    .renderToString(source, { displayMode: block, throwOnError: true })
    .replace(/ style="[^"]*"/g, '')
    .replace(/ class="(?!tml-left")[^"]*"/g, '');
  const named = math.replace('<math', `<math alttext="${escape(source.replace(/\s+/g, ' ').trim())}"`);
  return block ? `<div class="wide equation">${named}</div>` : named;
}

/** Equations, examples and code: most are the same in all languages, and are kept once. */
export class Pieces {
  readonly #places = new Map<string, number>();
  readonly html: string[] = [];

  /** An element that stands for the piece, until the page puts it in its place. */
  mark(html: string): string {
    const place = this.#places.get(html) ?? this.html.push(html) - 1;
    this.#places.set(html, place);
    return `<i data-piece="${place}"></i>`;
  }
}

function example(text: string): string {
  const lines = worked(text).map((line) => {
    const { sums, remark } = lettered(line);
    const shown = line.formula === '' ? escape(sums) : `<strong>${escape(sums)}</strong>`;
    return remark === '' ? shown : `${shown}  <span class="remark">${escape(remark)}</span>`;
  });
  return `<pre class="wide worked">${lines.join('\n')}</pre>\n`;
}

/** The picture's place on the page; the drawing itself is the same in all languages and kept apart. */
function picture(file: string, words: string): string {
  if (!existsSync(file)) throw new Error(`${file}: no such picture`);
  return `<span class="figure" role="img" aria-label="${escape(words)}" data-picture="${path.basename(file, '.svg')}"></span>`;
}

function reader(source: Source, names: ReadonlySet<string>, pieces: Pieces): MarkdownIt {
  const md = new Markdown({ html: false, linkify: false, typographer: false });
  md.use(markdownItMath, {
    inlineRenderer: (text: string) => pieces.mark(equation(text, false)),
    blockRenderer: (text: string) => `${pieces.mark(equation(text, true))}\n`,
  });
  const { rules } = md.renderer;
  const plain = (rule: string): NonNullable<(typeof rules)[string]> =>
    rules[rule] ?? ((tokens, at, options, _env, self) => self.renderToken(tokens, at, options));

  rules['table_open'] = () => '<div class="wide"><table>\n';
  rules['table_close'] = () => '</table></div>\n';
  const th = plain('th_open');
  rules['th_open'] = (tokens, at, options, env, self) => {
    tokens[at]?.attrSet('scope', 'col');
    return th(tokens, at, options, env, self);
  };
  const fence = plain('fence');
  rules['fence'] = (tokens, at, options, env, self) => {
    const token = tokens[at];
    if (token?.info.trim() === 'worked') return pieces.mark(example(token.content));
    return pieces.mark(fence(tokens, at, options, env, self).replace('<pre>', '<pre class="wide">').replace(/ class="language-[^"]*"/, ''));
  };
  const code = plain('code_block');
  rules['code_block'] = (tokens, at, options, env, self) => pieces.mark(code(tokens, at, options, env, self).replace('<pre>', '<pre class="wide">'));

  rules['image'] = (tokens, at) => {
    const token = tokens[at];
    return picture(path.resolve(path.dirname(source.file), String(token?.attrGet('src') ?? '')), token?.content ?? '');
  };

  // Links lead to chapters of the page; a file of the project, which the page has not, is named only.
  let outside = false;
  rules['link_open'] = (tokens, at, options, _env, self) => {
    const href = String(tokens[at]?.attrGet('href') ?? '');
    const chapter = /^\d\d-([a-z0-9-]+)\.md$/.exec(href)?.[1];
    if (chapter !== undefined) {
      if (!names.has(chapter) || !existsSync(path.resolve(path.dirname(source.file), href))) throw new Error(`${source.file}: no chapter "${href}"`);
      tokens[at]?.attrSet('href', `#handbook=${chapter}`);
      return self.renderToken(tokens, at, options);
    }
    if (!existsSync(path.resolve(path.dirname(source.file), href))) throw new Error(`${source.file}: no file "${href}"`);
    outside = true;
    return '<cite>';
  };
  rules['link_close'] = (tokens, at, options, _env, self) => {
    if (!outside) return self.renderToken(tokens, at, options);
    outside = false;
    return '</cite>';
  };
  return md;
}

/** One chapter; `names` are those of all chapters; what languages share joins `pieces`. */
export function render(source: Source, names: ReadonlySet<string>, pieces: Pieces): Chapter {
  const md = reader(source, names, pieces);
  const tokens = md.parse(source.text, {});
  const [first, inside, last] = tokens;
  if (first?.type !== 'heading_open' || first.tag !== 'h1' || inside === undefined || last === undefined) {
    throw new Error(`${source.file}: a chapter begins with its title, "# …"`);
  }
  let level = 1;
  let number = 0;
  for (const [at, token] of tokens.entries()) {
    if (token.type !== 'heading_open' && token.type !== 'heading_close') continue;
    const depth = Number(token.tag.slice(1));
    if (token.type === 'heading_open') {
      if (depth > level + 1 || (depth === 1 && at > 0)) throw new Error(`${source.file}: heading "${tokens[at + 1]?.content ?? ''}" skips a level`);
      level = depth;
      number += 1;
      // What has a key is found by it, in every language; anything else by its place.
      const key = tokens[at + 1]?.children?.find(({ type }) => type === 'code_inline')?.content ?? String(number);
      token.attrSet('id', `hb-${source.name}-${key}`);
    }
    // The page's title is the only heading of the first order.
    token.tag = `h${depth + 1}`;
  }
  const html = md.renderer
    .render(tokens, md.options, {})
    // Boxes to tick, on paper.
    .replace(/<li>(<p>)?\[ \] /g, '<li class="tick">$1');
  if (/ style=| on[a-z]+="|<script|<!--/.test(html)) throw new Error(`${source.file}: gave HTML that the page refuses`);
  return { name: source.name, title: inside.content, html };
}
