import type { RefusalCode, RefusalValues } from '../core/refusals.js';
import type { pages } from './en/pages/index.js';
import type { rider } from './en/rider/index.js';
import type { MailTexts } from './mailTexts.js';
import type { Terms, Words } from './words.js';

/** What the workshop's pages say, by page. */
export type PageTexts = typeof pages;
/** What the pages behind links in mails say. */
export type RiderTexts = typeof rider;

/** Alone, or with what to do about it. */
export type RefusalText = string | readonly [message: string, hint: string];

/** How a refusal writes its values where it is read. */
export interface Around {
  readonly words: Words;
  /** A day or a moment. */
  day(text: string): string;
  /** A day at the bench, of which people want to know the weekday. */
  weekday(text: string): string;
  number(value: number): string;
  serviceKind(kind: string): string;
  /** The id of a fact in brackets; nothing on pages, which show none. */
  fact(id: string): string;
}

/** A code that lacks its words does not compile. */
export type RefusalTexts = {
  readonly [C in RefusalCode]: (around: Around, ...of: RefusalValues<C>) => RefusalText;
};

/** All that a language brings: one folder, and one line in `all.ts`. */
export interface LanguageTexts {
  readonly terms: Terms;
  readonly refusals: RefusalTexts;
  readonly mails: MailTexts;
  readonly pages: PageTexts;
  readonly rider: RiderTexts;
}
