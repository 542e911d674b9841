import { edgeWords as english } from './en/edge';
import { spoken } from './language';

export const edgeWords = spoken(english, { de: () => import('./de/edge').then((it) => it.edgeWords) });
