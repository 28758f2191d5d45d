import type { ClockWord, FilesSince } from '../core/days/clockWord.js';
import type { Instant } from '../units.js';

export interface Clock {
  now(): Instant;
  /** Whether it was set for this call: then nobody asks whether it is right. */
  readonly isSet?: boolean;
}

/** What is known of the machine's clock. */
export interface ClockWordTable {
  find(): Promise<ClockWord | null>;
  put(word: ClockWord): Promise<void>;
  /** The files that came since a moment: whose rides ended shortly before they came, and whose are still to be ridden. */
  countFilesSince(since: Instant): Promise<FilesSince>;
}
