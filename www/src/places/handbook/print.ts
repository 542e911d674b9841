// On paper the handbook stands alone: what is printed lies beside the page while the printer looks.

import { el } from '../../dom';

/** While `on`, printing prints what `make` gives, and nothing else. */
export class OnPaper {
  #laid: HTMLElement | undefined;

  constructor(private readonly make: () => Node) {}

  readonly #before = (): void => {
    const laid = el('div', { class: 'handbook handbookpaper' });
    laid.append(this.make());
    // The page has them already.
    for (const named of laid.querySelectorAll('[id]')) named.removeAttribute('id');
    this.#laid = laid;
    document.body.append(laid);
    document.documentElement.classList.add('printshandbook');
  };

  readonly #after = (): void => {
    this.#laid?.remove();
    this.#laid = undefined;
    document.documentElement.classList.remove('printshandbook');
  };

  on(): void {
    window.addEventListener('beforeprint', this.#before);
    window.addEventListener('afterprint', this.#after);
  }

  off(): void {
    window.removeEventListener('beforeprint', this.#before);
    window.removeEventListener('afterprint', this.#after);
    this.#after();
  }
}
