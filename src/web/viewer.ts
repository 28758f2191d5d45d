import type { WorkshopFact } from '../core/ledger/facts.js';
import type { Asked, OwnFleet } from '../flow/rights.js';
import { type PageTexts, pageTextsFor, type Words, wordsFor } from '../languages/index.js';
import type { Account } from '../ports/accounts.js';
import type { Day, Instant } from '../units.js';
import type { Visit } from './door/visit.js';

/** How a page speaks. */
export interface Voice {
  readonly texts: PageTexts;
  readonly words: Words;
}

/** Returns the texts and words of the language that a tag asks for; English where there is none of ours. */
export const voiceOf = (tag: string): Voice => ({ texts: pageTextsFor(tag), words: wordsFor(tag) });

/** Who looks at a page, and what every page needs to know. */
export interface Viewer extends Voice {
  readonly account: Account;
  /** The one that a mechanic looks after; null for those who see the whole workshop. */
  readonly fleet: OwnFleet | null;
  /** Stands in each form, so that no other site can send it. */
  readonly formToken: string;
  /** Null until it is imported or made on the first page. */
  readonly workshop: WorkshopFact | null;
  readonly zone: string;
  readonly now: Instant;
  readonly today: Day;
  /** Rides that wait in the tray. */
  readonly waiting: number;
}

/** Returns the names that whoever guesses an account's password would try. */
export const namesAbout = ({ workshop }: Viewer, account: string): readonly string[] =>
  workshop === null ? [account] : [account, workshop.name];

/** What the middleware leaves for the pages. */
export interface WebEnv {
  Variables: {
    visit: Visit;
    voice: Voice;
    viewer: Viewer;
    sessionToken: string;
    /** What the page or form needs of whoever uses it. */
    asked: Asked;
  };
}
