import { type Language, languageOf } from '../../../words/index.js';
import { en } from './en.js';
import { pt } from './pt.js';

/** What the pages behind links in mails say; every language has the same keys. */
export type RiderTexts = typeof en;

const TEXTS: Readonly<Record<Language, RiderTexts>> = { en, pt };

/** Returns the texts of the language that a tag asks for; English where there is none of ours. */
export const riderTextsFor = (tag: string): RiderTexts => TEXTS[languageOf(tag)];
