import { stallWords as english } from './en/stall';
import { spoken } from './language';

export const stallWords = spoken(english, { de: () => import('./de/stall').then((it) => it.stallWords) });
