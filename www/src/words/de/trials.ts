import type { Spoken } from '../language';
import { trialWords as english } from '../en/trials';

export const trialWords: Spoken<typeof english> = english;
