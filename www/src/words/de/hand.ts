import type { Spoken } from '../language';
import type { handWords as english } from '../en/hand';

export const handWords: Spoken<typeof english> = {
  about: '',
};
