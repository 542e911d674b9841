// Collects what must not happen while a page is open: console messages, uncaught errors,
// requests to elsewhere, breaches of the security policy.

/** What was seen, in words, in order. */
export class Watch {
  readonly seen: string[] = [];
  private readonly allowed: string[];

  /** `allowed`: beginnings of addresses that the page may load. */
  constructor(allowed: string[]) {
    this.allowed = [...allowed, 'data:', 'blob:', 'about:blank'];
  }

  /** One more beginning of addresses that the page may load. */
  allow(start: string): void {
    this.allowed.push(start);
  }

  note(what: string): void {
    this.seen.push(what);
  }

  request(url: string): void {
    if (!this.allowed.some((start) => url.startsWith(start))) this.note(`request to ${url.slice(0, 200)}`);
  }

  /** Takes back what a test provoked on purpose; throws when nothing of the kind was seen. */
  expected(pattern: RegExp): void {
    const kept = this.seen.filter((entry) => !pattern.test(entry));
    if (kept.length === this.seen.length) throw new Error(`nothing seen matches ${pattern}: ${this.seen.join(' | ')}`);
    this.seen.splice(0, this.seen.length, ...kept);
  }
}

/** Runs in the page before its own scripts. Logged, so that every browser's console brings it here. */
export function reportPolicyBreaches(): void {
  document.addEventListener('securitypolicyviolation', (event) => {
    console.error(`policy breach: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`);
  });
}
