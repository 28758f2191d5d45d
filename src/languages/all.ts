import { en } from './en/index.js';
import { pt } from './pt/index.js';

/** The only list of languages: a folder each, by the tag's first part. */
export const ALL = { en, pt };

export type Language = keyof typeof ALL;
export const LANGUAGES = Object.keys(ALL) as readonly Language[] as readonly [Language, ...Language[]];
