import type { Language } from '../languages/index.js';

/** A way on: a page to open. */
export interface LetterLink {
  readonly label: string;
  readonly href: string;
}

export interface LetterEntry {
  /** What the entry is sorted by, such as a day. */
  readonly lead: string;
  readonly leadNote: string | null;
  readonly title: string;
  readonly lines: readonly string[];
  readonly mark: string | null;
}

/** The parts a letter is built from; each is written as text and as HTML, so that the two say the same. */
export type Block =
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'heading'; readonly text: string }
  /** What must not be overlooked. */
  | { readonly kind: 'warning'; readonly text: string; readonly items: readonly string[] }
  | { readonly kind: 'rows'; readonly rows: readonly (readonly [label: string, value: string])[] }
  | { readonly kind: 'list'; readonly title: string | null; readonly items: readonly string[] }
  | {
      readonly kind: 'entries';
      readonly columns: readonly [string, string];
      readonly entries: readonly LetterEntry[];
    }
  | {
      readonly kind: 'links';
      readonly main: LetterLink | null;
      readonly others: readonly LetterLink[];
    }
  | { readonly kind: 'cautions'; readonly title: string; readonly items: readonly string[] };

/** A mail before it is text or HTML. */
export interface WrittenLetter {
  readonly language: Language;
  readonly subject: string;
  /** Whose letterhead it carries. */
  readonly sender: string;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** After the sender's name: where to find and how to reach them. */
  readonly signature: readonly string[];
  /** Notes in small print, and how to stop the mails. */
  readonly footnotes: readonly string[];
  readonly stop: LetterLink | null;
}

/** A mail ready to be addressed. */
export interface Rendered {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}
