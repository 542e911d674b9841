import type { Spoken } from '../language';
import { words as english } from '../en/page';

export const words: Spoken<typeof english> = english;
