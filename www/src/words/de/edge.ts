import type { Spoken } from '../language';
import { edgeWords as english } from '../en/edge';

export const edgeWords: Spoken<typeof english> = english;
