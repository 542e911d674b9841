import { keyWords as english } from './en/keys';
import { spoken } from './language';

export const keyWords = spoken(english, { de: () => import('./de/keys').then((it) => it.keyWords) });
