import { handbookWords as english } from './en/handbook';
import { spoken } from './language';

export const handbookWords = spoken(english, { de: () => import('./de/handbook').then((it) => it.handbookWords) });
