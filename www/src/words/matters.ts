import { mattersWords as english } from './en/matters';
import { spoken } from './language';

export const mattersWords = spoken(english, { de: () => import('./de/matters').then((it) => it.mattersWords) });
