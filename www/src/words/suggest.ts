import { suggestWords as english } from './en/suggest';
import { spoken } from './language';

export const suggestWords = spoken(english, { de: () => import('./de/suggest').then((it) => it.suggestWords) });
