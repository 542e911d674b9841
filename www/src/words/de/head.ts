import type { Spoken } from '../language';
import { headWords as english } from '../en/head';

export const headWords: Spoken<typeof english> = english;
