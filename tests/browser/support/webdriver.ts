// The W3C WebDriver protocol, as much of it as the specs in WebKit need.

/** What a key is called here, by the protocol's own characters. */
const KEYS: Readonly<Record<string, string>> = {
  Tab: '\uE004',
  Enter: '\uE007',
  Escape: '\uE00C',
  ArrowLeft: '\uE012',
  ArrowRight: '\uE014',
};
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

/** A key pressed, held, let go. */
function stroke(key: string, holdMs: number): object[] {
  const value = KEYS[key] ?? key;
  return [
    { type: 'keyDown', value },
    { type: 'pause', duration: holdMs },
    { type: 'keyUp', value },
  ];
}

/** One command to the driver; its answer's value. */
export async function command(origin: string, method: string, path: string, body?: object): Promise<unknown> {
  const response = await fetch(origin + path, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    signal: AbortSignal.timeout(60_000),
  });
  const { value } = (await response.json()) as { value: unknown };
  if (response.ok) return value;
  const { error, message } = value as { error: string; message: string };
  throw new Error(`${method} ${path}: ${error}: ${message}`);
}

/** A window of the browser, in a session of its own that keeps nothing. */
export class DriverPage {
  readonly #origin: string;
  readonly #session: string;

  private constructor(origin: string, session: string) {
    this.#origin = origin;
    this.#session = session;
  }

  static async open(origin: string, wishes: object): Promise<DriverPage> {
    const answer = await command(origin, 'POST', '/session', { capabilities: { alwaysMatch: wishes } });
    return new DriverPage(origin, (answer as { sessionId: string }).sessionId);
  }

  #send(method: string, path: string, body?: object): Promise<unknown> {
    return command(this.#origin, method, `/session/${this.#session}${path}`, body);
  }

  /** Resolves when the page's load event has been. */
  async goto(url: string): Promise<void> {
    await this.#send('POST', '/url', { url });
  }

  async reload(): Promise<void> {
    await this.#send('POST', '/refresh', {});
  }

  async title(): Promise<string> {
    return (await this.#send('GET', '/title')) as string;
  }

  async close(): Promise<void> {
    await this.#send('DELETE', '');
  }

  /** The window becomes as large as it must for this much of the page. */
  async viewport(width: number, height: number): Promise<void> {
    const rect = (await this.#send('GET', '/window/rect')) as { width: number; height: number };
    const inner = await this.evaluate(() => ({ width: innerWidth, height: innerHeight }));
    await this.#send('POST', '/window/rect', { width: rect.width - inner.width + width, height: rect.height - inner.height + height });
  }

  /** Runs a function in the page, waits for its promise, brings back what JSON can hold. */
  async evaluate<A extends readonly unknown[], R>(run: (...args: A) => R, ...args: A): Promise<Awaited<R>> {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve().then(() => (${run.toString()})(...[].slice.call(arguments, 0, -1)))
        .then((value) => done({ value }), (error) => done({ error: String(error) }));`;
    const answer = (await this.#send('POST', '/execute/async', { script, args })) as { value: Awaited<R>; error?: string };
    if (answer.error !== undefined) throw new Error(`in the page: ${answer.error}`);
    return answer.value;
  }

  /** Text of the first element that matches; nothing when there is none. */
  text(selector: string): Promise<string> {
    return this.evaluate((one) => document.querySelector(one)?.textContent ?? '', selector);
  }

  count(selector: string): Promise<number> {
    return this.evaluate((one) => document.querySelectorAll(one).length, selector);
  }

  /** Scrolled into view and clicked with the pointer, as the protocol says; fails when something lies over it. */
  async click(selector: string): Promise<void> {
    const found = (await this.#send('POST', '/element', { using: 'css selector', value: selector })) as Record<string, string>;
    await this.#send('POST', `/element/${found[ELEMENT] ?? ''}/click`, {});
  }

  /** Chooses in a list by the words of the choice. */
  async choose(selector: string, words: string): Promise<void> {
    await this.evaluate(
      (one, label) => {
        const list = document.querySelector<HTMLSelectElement>(one);
        const choice = [...(list?.options ?? [])].find((option) => option.label === label);
        if (list === null || choice === undefined) throw new Error(`${one} has no choice ${label}`);
        list.value = choice.value;
        list.dispatchEvent(new Event('input', { bubbles: true }));
        list.dispatchEvent(new Event('change', { bubbles: true }));
      },
      selector,
      words,
    );
  }

  /** Types over what a field holds. */
  async fill(selector: string, text: string): Promise<void> {
    await this.evaluate((one) => {
      const field = document.querySelector<HTMLInputElement>(one);
      if (field === null) throw new Error(`nothing matches ${one}`);
      field.focus();
      field.select();
    }, selector);
    await this.type(text);
  }

  type(text: string): Promise<void> {
    return this.#keys([...text].flatMap((key) => stroke(key, 0)));
  }

  press(key: string, holdMs = 0): Promise<void> {
    return this.#keys(stroke(key, holdMs));
  }

  async #keys(actions: readonly object[]): Promise<void> {
    await this.#send('POST', '/actions', { actions: [{ type: 'key', id: 'keyboard', actions }] });
  }

  /** From one place of the window to another with the button held [px]. */
  async drag(from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
    const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
    const move = ({ x, y }: { x: number; y: number }, duration: number): object => ({ type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration });
    const actions = [
      move(from, 0),
      { type: 'pointerDown', button: 0 },
      move(middle, 50),
      move(to, 50),
      { type: 'pointerUp', button: 0 },
    ];
    await this.#send('POST', '/actions', { actions: [{ type: 'pointer', id: 'mouse', parameters: { pointerType: 'mouse' }, actions }] });
  }

  async screenshot(): Promise<Buffer> {
    return Buffer.from((await this.#send('GET', '/screenshot')) as string, 'base64');
  }
}
