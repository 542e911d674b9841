// Making elements. No inline style attributes: the page's security policy refuses them.

type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;
type Child = Node | string | undefined;

function fill(element: Element, attributes: Attributes, children: readonly Child[]): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false) continue;
    element.setAttribute(name, value === true ? '' : String(value));
  }
  for (const child of children) if (child !== undefined) element.append(child);
}

export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  fill(element, attributes, children);
  return element;
}

export function svg<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  fill(element, attributes, children);
  return element;
}

export function button(text: string, attributes: Attributes, press: () => void): HTMLButtonElement {
  const element = el('button', { type: 'button', ...attributes }, text);
  element.addEventListener('click', press);
  return element;
}

/** Sets the text only if it differs, so that screen readers and layout are left in peace. */
export function say(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

export const clamp = (value: number, least: number, greatest: number): number =>
  Math.min(Math.max(value, least), greatest);

/** A list chosen from with the pointer lets go of the keys, so that they act on the board again. */
export function letGoAfterPointer(select: HTMLSelectElement): HTMLSelectElement {
  let pointed = false;
  select.addEventListener('pointerdown', () => {
    pointed = true;
  });
  select.addEventListener('keydown', () => {
    pointed = false;
  });
  select.addEventListener('change', () => {
    if (pointed) select.blur();
  });
  return select;
}

/** Whether typing goes into this element, so that single keys must be left to it. */
export function takesText(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return target instanceof HTMLInputElement && target.type !== 'range' && target.type !== 'checkbox';
}
