/** Control characters, line and paragraph separators, and what turns the direction of writing. */
export const UNSEEN = /[\p{Cc}\p{Cs}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

/** Returns a name that shows what it is: characters that cannot be seen, or that turn the text around, are escaped. */
export const shownName = (name: string): string =>
  name.replace(UNSEEN, (character) => `\\u{${character.codePointAt(0)!.toString(16)}}`);
