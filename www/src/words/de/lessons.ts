import type { Spoken } from '../language';
import { words as english } from '../en/lessons';

export const words: Spoken<typeof english> = english;
