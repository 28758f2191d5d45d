/**
 * Control characters end a header or hide one; line and paragraph separators and direction overrides show a
 * reader something else than what is there.
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for
const UNSAFE = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;
const UNSAFE_RUN = new RegExp(`(?:${UNSAFE.source}|\\s)+`, 'g');

/** Returns whether a text may not stand in a header. */
export const unsafeInHeader = (text: string): boolean => UNSAFE.test(text);

/** Returns the text on one line, fit for a header: what is unsafe there, and every run of white space, is one space. */
export const oneLine = (text: string): string => text.replace(UNSAFE_RUN, ' ').trim();
