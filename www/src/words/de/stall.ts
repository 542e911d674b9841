import type { Spoken } from '../language';
import type { stallWords as english } from '../en/stall';

export const stallWords: Spoken<typeof english> = {
  about: '',
};
