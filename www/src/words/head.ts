import { headWords as english } from './en/head';
import { spoken } from './language';

export const headWords = spoken(english, { de: () => import('./de/head').then((it) => it.headWords) });
