import type { Day } from '../../../units.js';

/** The workshop as it signs; all as typed. */
export interface MailWorkshop {
  readonly name: string;
  readonly phone: string | null;
  /** Where it stands; may hold line breaks. */
  readonly address: string | null;
  readonly openingHours: string | null;
}

/** What every mail to a rider is written from. */
export interface MailFrame {
  readonly workshop: MailWorkshop;
  /** Name as typed. */
  readonly rider: { readonly name: string; readonly language: string };
  /** The local day it is written on. */
  readonly today: Day;
}
