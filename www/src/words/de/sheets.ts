import type { Spoken } from '../language';
import type { sheetsWords as english } from '../en/sheets';

export const sheetsWords: Spoken<typeof english> = {
  about: '',
};
