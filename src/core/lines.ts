/** What one line of text may hold, and how a text that holds more is shown. */

/** Control characters, line and paragraph separators, half signs, and what turns the direction of writing. */
const UNSEEN = /[\p{Cc}\p{Cs}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;
const UNSEEN_RUN = new RegExp(`(?:${UNSEEN.source}|\\s)+`, 'gu');
/** A number that was copied from a contact may carry marks of direction: they do no harm in a field. */
const LINE = /^[^\p{Cc}\u2028\u2029]*$/u;

/** Returns whether a text that somebody typed is one line without control characters. */
export const isLine = (text: string): boolean => LINE.test(text);

/** Returns whether each of its lines is one. */
export const isLines = (text: string): boolean => text.split('\n').every(isLine);

/** Returns whether a text holds what cannot be seen, or what shows a reader something else than what is there. */
export const hasUnseen = (text: string): boolean => text.search(UNSEEN) >= 0;

/** Returns the text on one line: what cannot be seen, and every run of white space, is one space. */
export const oneLine = (text: string): string => text.replace(UNSEEN_RUN, ' ').trim();

/** Returns a name that shows what it is: what cannot be seen, or turns the text around, is escaped. */
export const shownName = (name: string): string =>
  name.replace(UNSEEN, (character) => `\\u{${character.codePointAt(0)!.toString(16)}}`);
