import { FINDING_NAMES, lookFields } from '../../src/core/ledger/findings.js';
import { BUILT_IN_SERVICE_KINDS } from '../../src/core/ledger/serviceKinds.js';
import { BIKE_TYPES, GROUNDS, LIMITS, STATES, UNIT_KINDS } from '../../src/core/tokens.js';

/** Each Latin letter as its full-width twin: still a letter with a capital, but none of the code's own. */
const markedLetters = (text: string): string =>
  text
    .split(/(\{\w+\})/)
    .map((part) =>
      part.startsWith('{')
        ? part
        : part.replace(/[A-Za-z]/g, (letter) => String.fromCharCode(letter.charCodeAt(0) + 0xfee0)),
    )
    .join('');

/** Returns a language of the same shape whose every text is marked, what functions return included. */
export function marked<T>(of: T): T {
  if (typeof of === 'string') return markedLetters(of) as T;
  if (typeof of === 'function') return ((...values: unknown[]) => marked(of(...values))) as T;
  if (Array.isArray(of)) return of.map(marked) as T;
  if (typeof of !== 'object' || of === null) return of;
  return Object.fromEntries(Object.entries(of).map(([key, value]) => [key, marked(value)])) as T;
}

/** What stands between two tags, in a title, or in an attribute that people read or hear. */
export const seenOn = (page: string): string[] =>
  [
    ...page
      .replace(/<(style|script)[\s\S]*?<\/\1>/g, '')
      .matchAll(/>([^<>]+)<|(?:aria-label|data-label|placeholder|title|alt)="([^"]*)"/g),
  ]
    .map(([, between, label]) => (between ?? label ?? '').trim())
    .filter((text) => text !== '');

/** Returns the words in Latin letters that are neither marked nor data, each with where it stands. */
export const unmarked = (texts: readonly string[], data: readonly string[]): string[] => {
  const found = texts.flatMap((text) => {
    const plain = text
      .replace(/&#39;/g, "'")
      .replace(/&quot;/g, '"')
      .replace(/&lt;/g, '<')
      .replace(/&gt;/g, '>')
      .replace(/&amp;/g, '&');
    const rest = data.reduce((left, one) => left.replaceAll(one, ' '), plain);
    return (rest.match(/[A-Za-zÀ-ÿ][\wÀ-ÿ-]+/g) ?? []).map((word) => `${word}: ${text}`);
  });
  return [...new Set(found)];
};

/** Words that the program has for what it names: only their words in a language may be seen. */
const TOKENS = new Set<string>([
  ...[...UNIT_KINDS, ...BIKE_TYPES, ...STATES, ...LIMITS, ...GROUNDS, ...BUILT_IN_SERVICE_KINDS],
  ...UNIT_KINDS.flatMap((unitKind) => lookFields({ unitKind }).flatMap(({ looks }) => looks)),
  ...FINDING_NAMES,
]);

/** Returns every text that somebody typed below a value, the longest first. */
export const dataIn = (...of: readonly unknown[]): string[] =>
  textsBelow(of)
    .filter((text) => !TOKENS.has(text))
    .sort((a, b) => b.length - a.length);

const textsBelow = (of: unknown): string[] => {
  if (typeof of === 'string') return of.split('\n');
  return typeof of === 'object' && of !== null ? Object.values(of).flatMap(textsBelow) : [];
};
