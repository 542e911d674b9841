import type { Spoken } from '../language';
import type { handbookWords as english } from '../en/handbook';

export const handbookWords: Spoken<typeof english> = {
  about: '',
};
