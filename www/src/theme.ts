// Day is ink on paper, night pale line on dark blue-grey. Without a choice the system decides.

import type { Store } from './store';

const dark = window.matchMedia('(prefers-color-scheme: dark)');

export class Theme {
  #night = false;
  readonly #changed: (() => void)[] = [];

  constructor(private readonly store: Store) {
    dark.addEventListener('change', () => {
      this.#apply();
    });
    store.watch(['theme'], () => {
      this.#apply();
    });
  }

  readonly night = (): boolean => this.#night;

  onChange(listener: () => void): void {
    this.#changed.push(listener);
  }

  #apply(): void {
    const { theme } = this.store.state;
    this.#night = theme === 'night' || (theme === 'auto' && dark.matches);
    document.documentElement.dataset['theme'] = this.#night ? 'night' : 'day';
    for (const listener of this.#changed) listener();
  }
}
