/** Words as people look for them: without accents, capitals and marks between, and by any part of three signs or more. */

/** Letters that no accent makes of others. */
const WRITTEN: Readonly<Record<string, string>> = {
  ...{ ß: 'ss', ø: 'o', ł: 'l', đ: 'd', ð: 'd', æ: 'ae', œ: 'oe', þ: 'th', ı: 'i' },
};
/** Of a word so many signs are looked at from each place, and so many places. */
const MOST_SIGNS = 24;
const MOST_TAILS = 64;
const LEAST_TAIL = 3;
const MOST_PARTS = 6;

/** Returns a text as it is compared: letters and digits alone. */
const folded = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/\p{M}/gu, '')
    .replace(/[ßøłđðæœþı]/g, (sign) => WRITTEN[sign] ?? sign)
    .replace(/[^\p{L}\p{N}]/gu, '');

/** Returns the words of a text that it is found by. */
export const wordsIn = (text: string): string[] =>
  text
    .split(/\s+/)
    .map(folded)
    .filter((word) => word !== '');

/** Returns a word's beginnings to be compared: the whole, and what follows each sign while three are left. */
function tailsOf(word: string): string[] {
  const signs = [...word];
  const last = Math.min(MOST_TAILS, Math.max(1, signs.length - LEAST_TAIL + 1));
  return Array.from({ length: last }, (_, from) => signs.slice(from, from + MOST_SIGNS).join(''));
}

/** Returns all that something is found by: `texts` word by word, `numbers` (serials, phone numbers, addresses) as one word. */
export function findWords(
  texts: readonly (string | null)[],
  numbers: readonly (string | null)[],
): ReadonlySet<string> {
  const words = [
    ...texts.flatMap((text) => wordsIn(text ?? '')),
    ...numbers.map((text) => folded(text ?? '')).filter((word) => word !== ''),
  ];
  return new Set(words.flatMap(tailsOf));
}

/** A phone number may be written with or without its country, and with blanks anywhere. */
const PHONE = /^[\d\s+()./-]+$/;
const PHONE_LEAST = 7;
const PHONE_LAST = 8;

/** Returns the parts that all have to be found, the longest first; none where nothing can be looked for. */
export function findParts(sought: string): string[] {
  const digits = PHONE.test(sought) ? sought.replace(/\D/g, '') : '';
  if (digits.length >= PHONE_LEAST) return [digits.slice(-PHONE_LAST)];
  const parts = wordsIn(sought).map((word) => [...word].slice(0, MOST_SIGNS).join(''));
  return [...new Set(parts)].sort((a, b) => b.length - a.length).slice(0, MOST_PARTS);
}
