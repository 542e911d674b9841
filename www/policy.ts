// The page's own security policy, as both builds write it.

import { createHash } from 'node:crypto';

/** Rules both builds share: no plug-ins, no foreign base address, forms go nowhere. */
export const COMMON = ["object-src 'none'", "base-uri 'none'", "form-action 'none'"];

/** The source expression that lets this one inline element pass. */
export const hash = (text: string): string =>
  `'sha256-${createHash('sha256').update(text, 'utf8').digest('base64')}'`;

/** Puts the policy right behind the charset, before anything that it governs. */
export function withPolicy(html: string, policy: string[]): string {
  const meta = `<meta http-equiv="Content-Security-Policy" content="${policy.join('; ')}" />`;
  const charset = /<meta charset="utf-8"\s*\/?>/i;
  if (!charset.test(html)) throw new Error('index.html: <meta charset="utf-8"> is missing');
  return html.replace(charset, (found) => `${found}\n    ${meta}`);
}

/** An inline element is governed by its hash; attributes cannot be, so there must be none. */
export function refuseInlineAttributes(html: string): void {
  const found = /<[a-z][^>]*\s(style|on[a-z]+)\s*=/i.exec(html);
  if (found) {
    throw new Error(`index.html: attribute "${found[1]}" is refused by the page's own security policy`);
  }
}
