/** A name of the workshop's own choosing for a unit, bike, rider, fleet or race; it names folders too. */
const HANDLE = /^[^\p{Cc}\p{Cf}/\\]{1,64}$/u;

/** Returns what is wrong with it as a name for people, folders and addresses, or null. */
export const handleFault = (text: string): string | null => {
  if (text.trim() === '' || text !== text.trim()) return 'must hold something, without spaces around it';
  if (!HANDLE.test(text)) return 'must be at most 64 characters, free of slashes and hidden characters';
  return text.startsWith('.') ? 'must not begin with a dot' : null;
};
