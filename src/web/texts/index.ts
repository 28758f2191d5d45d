import { type Language, languageOf, wordsFor } from '../../words/index.js';
import type { Voice } from '../viewer.js';
import { en } from './en.js';
import { pt } from './pt.js';

/** What the pages say, by page; every language has the same keys. */
export type WebTexts = typeof en;

const TEXTS: Readonly<Record<Language, WebTexts>> = { en, pt };

/** Returns the texts and words of the language that a tag asks for; English where there is none of ours. */
export const voiceOf = (tag: string): Voice => ({ texts: TEXTS[languageOf(tag)], words: wordsFor(tag) });
