import { sheetsWords as english } from './en/sheets';
import { spoken } from './language';

export const sheetsWords = spoken(english, { de: () => import('./de/sheets').then((it) => it.sheetsWords) });
