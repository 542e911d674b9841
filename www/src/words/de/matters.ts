import type { Spoken } from '../language';
import { mattersWords as english } from '../en/matters';

export const mattersWords: Spoken<typeof english> = english;
