// The handbook's drawings as they are laid into the page: in its colours, so that they follow day and night.

import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { optimize } from 'svgo';
import { FOLDER } from './chapters.ts';

/** Colours of the day's drawing, and what they are on the page. */
const INKS: Readonly<Record<string, string>> = {
  '#fbf8ef': 'var(--paper)',
  '#1d354c': 'var(--ink)',
  '#6a614f': 'var(--muted)',
  '#b9b09a': 'var(--faint)',
  '#858b92': 'var(--muted)',
  '#74889a': 'var(--hatch)',
  '#ebe5d5': 'var(--grid)',
  '#fefbf6': 'var(--box)',
  '#fdfaf2': 'var(--box)',
  '#e7dfca': 'var(--carriage)',
  '#dfe7d6': 'var(--head)',
  '#1c6d5a': 'var(--with-software)',
  '#964a1d': 'var(--without-software)',
};

function laidIn(file: string): string {
  // A tenth of a pixel is finer than any screen shows.
  const svg = optimize(readFileSync(file, 'utf8'), { multipass: true, floatPrecision: 1 })
    .data.replace(/ (role|aria-labelledby|font-family|data-part)="[^"]*"/g, '')
    .replace(/^<svg ([^>]*)>/, (_all, attributes: string) => `<svg aria-hidden="true" ${attributes.replace(/(^| )(width|height)="[^"]*"/g, '')}>`)
    .replace(/(fill|stroke)="(#[0-9a-f]{6})"/g, (_all, what: string, colour: string) => {
      const ink = INKS[colour];
      if (ink === undefined) throw new Error(`${file}: the page has no colour for ${colour}`);
      return `${what}="${ink}"`;
    });
  if (/ style=| on[a-z]+=|<script|<style|<!--/.test(svg)) throw new Error(`${file}: holds styles or scripts`);
  return svg.trim();
}

/** All drawings, by name. */
export function pictures(folder = path.join(FOLDER, 'pictures')): Readonly<Record<string, string>> {
  return Object.fromEntries(
    readdirSync(folder)
      .filter((entry) => entry.endsWith('.svg'))
      .map((entry) => [path.basename(entry, '.svg'), laidIn(path.join(folder, entry))]),
  );
}
