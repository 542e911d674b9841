import { mapWords as english } from './en/map';
import { spoken } from './language';

export const mapWords = spoken(english, { de: () => import('./de/map').then((it) => it.mapWords) });
