import type { Spoken } from '../language';
import { words as english } from '../en/robot';

export const words: Spoken<typeof english> = english;
