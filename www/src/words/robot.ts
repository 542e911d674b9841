import { words as english } from './en/robot';
import { spoken } from './language';

export const words = spoken(english, { de: () => import('./de/robot').then((it) => it.words) });
