import { trialWords as english } from './en/trials';
import { spoken } from './language';

export const trialWords = spoken(english, { de: () => import('./de/trials').then((it) => it.trialWords) });
