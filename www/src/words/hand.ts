import { handWords as english } from './en/hand';
import { spoken } from './language';

export const handWords = spoken(english, { de: () => import('./de/hand').then((it) => it.handWords) });
