import { words as english } from './en/lessons';
import { spoken } from './language';

export const words = spoken(english, { de: () => import('./de/lessons').then((it) => it.words) });
