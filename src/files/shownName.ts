/** Control characters, line and paragraph separators, and what turns the direction of writing. */
const UNSEEN = /[\p{Cc}\p{Cs}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/** Returns a name that shows what it is: characters that cannot be seen, or that turn the text around, are escaped. */
export const shownName = (name: string): string =>
  name.replace(UNSEEN, (character) => `\\u{${character.codePointAt(0)!.toString(16)}}`);

/** Returns why a member's name would lead out of its archive or hides what it is; null for a name that does not. */
export function unsafeNameReason(name: string): string | null {
  if (name.search(UNSEEN) >= 0) return 'Its name holds characters that cannot be seen.';
  if (
    name.includes('\\') ||
    name.startsWith('/') ||
    /^[a-z]:/i.test(name) ||
    name.split('/').includes('..')
  ) {
    return 'Its name is a path that leads out of the archive.';
  }
  return null;
}
