import type { Spoken } from '../language';
import { suggestWords as english } from '../en/suggest';

export const suggestWords: Spoken<typeof english> = english;
