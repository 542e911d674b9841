// Under the plain locale of a Unix system a browser may name its language "C", which `Intl` refuses.
// The library of the strips hands that name to `Intl` while it is loaded, and the whole page would
// stop there. So this comes before every other module, and gives such a browser a name that counts.

function counts(tag: string): boolean {
  try {
    Intl.getCanonicalLocales(tag);
    return true;
  } catch {
    return false;
  }
}

if (!counts(navigator.language)) {
  Object.defineProperty(navigator, 'language', { configurable: true, get: () => 'en' });
}

export {};
