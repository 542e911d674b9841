import type { Spoken } from '../language';
import { mapWords as english } from '../en/map';

export const mapWords: Spoken<typeof english> = english;
