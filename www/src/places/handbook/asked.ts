// A link to a chapter; one that cannot be read asks for the first.

import { askLink } from '../asklink';

export const chapterLink = askLink('handbook');
