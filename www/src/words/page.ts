import { words as english } from './en/page';
import { spoken } from './language';

export const words = spoken(english, { de: () => import('./de/page').then((it) => it.words) });
