/** Finds who somebody is in what people typed, and puts a mark in its place. */

/** What words begin and end at. */
const word = (inner: string): string => `(?<![\\p{L}\\p{N}])(?:${inner})(?![\\p{L}\\p{N}])`;
/** Shorter names are words of other meanings too often. */
const LEAST_SIGNS = 3;
/** Shorter numbers are counts, hours and pressures too. */
const LEAST_DIGITS = 7;

const quoted = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&');
const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '');

/** A text with any blanks between its words, with its accents or without. */
const written = (text: string): string[] =>
  [text.normalize('NFC'), plain(text)].map((one) => one.trim().split(/\s+/).map(quoted).join('\\s+'));

/** A phone number with any marks between its digits. */
function dialled(text: string): string[] {
  const digits = text.replace(/\D/g, '');
  return digits.length < LEAST_DIGITS ? [] : [[...digits].join('[\\s()./-]*')];
}

export interface Eraser {
  /** Takes whole names, addresses and numbers out of a text. */
  inAny(text: string): string;
  /** Takes each single name out too: for texts about what the person owns. */
  inOwn(text: string): string;
  /** Whether a name holds one of the person’s. */
  isNamed(name: string): boolean;
}

/**
 * Returns what erases somebody from texts. Case, accents and blanks do not matter.
 * Shape: `whole` name and addresses; `names` single ones.
 */
export function eraserOf(
  whole: readonly string[],
  phones: readonly string[],
  names: readonly string[],
  mark: string,
): Eraser {
  const wholes = [...whole.filter((text) => text.trim() !== '').flatMap(written), ...phones.flatMap(dialled)];
  const singles = names.filter((name) => [...name].length >= LEAST_SIGNS).flatMap(written);
  const taker = (inner: readonly string[]): ((text: string) => string) => {
    if (inner.length === 0) return (text) => text;
    const longestFirst = [...inner].sort((a, b) => b.length - a.length).join('|');
    const sought = new RegExp(word(longestFirst), 'giu');
    return (text) => text.normalize('NFC').replace(sought, mark);
  };
  const inOwn = taker([...wholes, ...singles]);
  return { inAny: taker(wholes), inOwn, isNamed: (name) => inOwn(name) !== name.normalize('NFC') };
}
