import type { Spoken } from '../language';
import type { handbookWords as english } from '../en/handbook';

export const handbookWords: Spoken<typeof english> = {
  opening: 'Das Handbuch wird geöffnet …',
  failed: (reason) => `Das Handbuch konnte nicht geladen werden: ${reason}. Schließe es und öffne es noch einmal.`,
  unknown: (name) => (name === '' ? 'Der Verweis nennt kein Kapitel.' : `Ein Kapitel „${name}“ gibt es nicht.`),
  contents: 'Kapitel des Handbuchs',
  find: 'Im Handbuch suchen',
  found: (count, listed) =>
    count === 0 ? 'Nirgends gefunden.' : count === listed ? `Gefunden in ${count} ${count === 1 ? 'Abschnitt' : 'Abschnitten'}.` : `Gefunden in ${count} Abschnitten; die ersten ${listed}:`,
  around: 'Kapitel davor und danach',
  previous: (title) => `← ${title}`,
  next: (title) => `${title} →`,
  printOne: 'dieses Kapitel drucken',
  printAll: 'das Handbuch drucken',
  knobs: {
    columns: ['Regler', 'was er tut', 'Bereich und Schritt', 'jetzt', 'in der Firmware'],
    range: (least, greatest, step, logarithmic) => `${least} … ${greatest}, in Schritten von ${step}${logarithmic ? ', logarithmisch' : ''}`,
  },
};
