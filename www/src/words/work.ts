import { words as english } from './en/work';
import { spoken } from './language';

export const words = spoken(english, { de: () => import('./de/work').then((it) => it.words) });
