import type { Day } from '../../../units.js';
import type { OwnLines } from '../../ledger/facts.js';
import type { Weekday } from '../../tokens.js';

/** The workshop as it signs; all as typed. */
export interface MailWorkshop {
  readonly name: string;
  readonly phone: string | null;
  /** Where answers go; null where a reply reaches nobody. */
  readonly email?: string | null;
  /** Where it stands; may hold line breaks. */
  readonly address: string | null;
  readonly openingHours: string | null;
  /** The language that the hours are typed in, and the days themselves, for readers of another. */
  readonly language?: string;
  readonly openDays?: readonly Weekday[];
  readonly ownLines?: OwnLines;
}

/** What every mail to a rider is written from. */
export interface MailFrame {
  readonly workshop: MailWorkshop;
  /** Name as typed. */
  readonly rider: { readonly name: string; readonly language: string };
  /** The local day it is written on. */
  readonly today: Day;
}
