import { pathOfUnit } from '../cells/dueCells.js';

/** Returns where a form leads, with what was done: back to the bench it was sent from, else to the unit. */
export const pathBack = (from: string | undefined, tag: string, done: string): string =>
  from === 'bench' || from === 'today' ? `/bench?done=${done}` : `${pathOfUnit(tag)}?done=${done}`;
