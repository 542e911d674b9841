import { powerWords as english } from './en/power';
import { spoken } from './language';

export const powerWords = spoken(english, { de: () => import('./de/power').then((it) => it.powerWords) });
