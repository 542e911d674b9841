import type { Spoken } from '../language';
import { words as english } from '../en/kept';

export const words: Spoken<typeof english> = english;
