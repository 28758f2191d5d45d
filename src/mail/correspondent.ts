import type { OwnLines } from '../core/ledger/facts.js';
import { oneLine } from '../core/lines.js';
import type { MailWorkshop } from '../core/notices/notice/frame.js';
import { type MailTexts, mailTextsFor, type Words, wordsFor } from '../languages/index.js';
import { openingHoursFor } from '../languages/openingHours.js';
import type { Block, LetterLink, Rendered, WrittenLetter } from './letter.js';
import { letterHtml } from './letterHtml.js';
import { letterText } from './letterText.js';

/** A language with what it says in mails. */
export interface MailVoice {
  readonly words: Words;
  readonly texts: MailTexts;
}

export const voiceOf = (language: string): MailVoice => ({
  words: wordsFor(language),
  texts: mailTextsFor(language),
});

const typedLines = (text: string | null): string[] =>
  text === null
    ? []
    : text
        .split(/[\r\n]+/)
        .map(oneLine)
        .filter((line) => line !== '');

const signatureOf = (workshop: MailWorkshop, { texts, words }: MailVoice): string[] => [
  ...typedLines(workshop.address),
  ...typedLines(workshop.phone).map(texts.phone),
  ...openingHoursFor(workshop, words).map((line, i) => (i === 0 ? texts.openingHours(line) : line)),
];

/** Returns how to reach the workshop, to end a sentence. */
export function contactOf({ phone, email }: MailWorkshop, texts: MailTexts): string {
  const typed = oneLine(phone ?? '');
  return texts[email === null ? 'noReply' : 'contact'](typed === '' ? null : typed);
}

/** Returns the workshop's own line in mails of a kind, as typed; nothing where it typed none. */
export function ownLine({ ownLines }: MailWorkshop, kind: keyof OwnLines): Block[] {
  const text = oneLine(ownLines?.[kind] ?? '');
  return text === '' ? [] : [{ kind: 'paragraph', text }];
}

/** A subject longer than this is cut by mail readers on a phone. */
const SUBJECT_SIGNS = 70;

/** Returns the text cut at a word to at most so many signs, with an ellipsis where something is missing. */
export const shortened = (text: string, signs: number): string => {
  const whole = oneLine(text);
  const all = [...whole];
  if (all.length <= signs) return whole;
  const cut = all.slice(0, signs).join('');
  const atWord = cut.slice(0, Math.max(0, cut.lastIndexOf(' ')));
  // A word that alone fills most of the room is cut itself.
  const kept = [...atWord].length >= signs / 2 ? atWord : all.slice(0, signs - 1).join('');
  return `${kept.replace(/[\s,;:–-]+$/, '')}…`;
};

export const capitalised = (word: string, locale: string): string =>
  `${word.charAt(0).toLocaleUpperCase(locale)}${word.slice(1)}`;

/** The parts of a mail that differ from one kind to the next. */
export interface Draft {
  readonly subject: string;
  readonly blocks: readonly Block[];
  readonly footnotes?: readonly string[];
  readonly stop?: LetterLink | null;
}

/** Returns a draft as a mail under the workshop's name, in the voice's language. */
export const rendered = (workshop: MailWorkshop, voice: MailVoice, draft: Draft): Rendered => {
  const letter: WrittenLetter = {
    language: voice.words.language,
    subject: shortened(draft.subject, SUBJECT_SIGNS),
    sender: oneLine(workshop.name),
    title: oneLine(draft.subject),
    blocks: draft.blocks,
    signature: signatureOf(workshop, voice),
    footnotes: draft.footnotes ?? [],
    stop: draft.stop ?? null,
  };
  return { subject: letter.subject, text: letterText(letter), html: letterHtml(letter) };
};
