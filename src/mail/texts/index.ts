import { type Language, languageOf } from '../../words/index.js';
import { en } from './en.js';
import type { MailTexts } from './mailTexts.js';
import { pt } from './pt.js';

export type { MailTexts } from './mailTexts.js';

const TEXTS: Readonly<Record<Language, MailTexts>> = { en, pt };

/** Returns what mails say in the language that a tag asks for. */
export const textsFor = (tag: string): MailTexts => TEXTS[languageOf(tag)];
