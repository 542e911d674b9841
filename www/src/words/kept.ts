import { words as english } from './en/kept';
import { spoken } from './language';

export const words = spoken(english, { de: () => import('./de/kept').then((it) => it.words) });
