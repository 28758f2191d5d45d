import type { HandleFault } from './tokens.js';

/** A name of the workshop's own choosing for a unit, bike, rider, fleet or race; it names folders too. */
const HANDLE = /^[^\p{Cc}\p{Cf}/\\]{1,64}$/u;

/** Returns what is wrong with it as a name for people, folders and addresses, or null. */
export const handleFault = (text: string): HandleFault | null => {
  if (text.trim() === '' || text !== text.trim()) return 'spaces';
  if (!HANDLE.test(text)) return 'signs';
  return text.startsWith('.') ? 'dot' : null;
};
