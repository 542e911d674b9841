import type { Spoken } from '../language';
import { powerWords as english } from '../en/power';

export const powerWords: Spoken<typeof english> = english;
