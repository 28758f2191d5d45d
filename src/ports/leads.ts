import type { Later, Lead, LeadOffer, LeadState } from '../core/plan/leads.js';
import type { Day, Instant } from '../units.js';

/**
 * A lead with what the bench and the calendar need. One that is open follows from what is due; every other is a unit of a
 * booking, has its id, and follows from that booking's facts.
 */
export interface LeadRow extends Lead {
  /** The booking's last step; null for one that is open. */
  readonly factId: string | null;
  /** The bike that the day is for. */
  readonly bikeId: string | null;
  readonly offered: readonly Day[];
  readonly wish: string | null;
  readonly benchMinutes: number;
  readonly madeAt: Instant;
  readonly changedBy: string;
  /** The same through all days of a booking. */
  readonly calendarUid: string;
  /** Rises with each step. */
  readonly calendarSequence: number;
}

export interface LeadTable {
  list(states?: readonly LeadState[]): Promise<readonly LeadRow[]>;
  /** Of bookings, however many units each is for. */
  count(state: LeadState): Promise<number>;
  /** The first of those in a state by their day, and then those without one. */
  listByDay(state: LeadState, most: number, isLatestFirst?: boolean): Promise<readonly LeadRow[]>;
  /** Those in a state on a day. */
  listOn(state: LeadState, day: Day): Promise<readonly LeadRow[]>;
  listOfUnit(unitId: string): Promise<readonly LeadRow[]>;
  /** A row for each unit of a booking; none where there is no such. */
  listOf(id: string): Promise<readonly LeadRow[]>;
  /** Errors: the store's own where the unit has a live one. */
  addOpen(lead: LeadOffer & Pick<LeadRow, 'benchMinutes' | 'madeAt' | 'changedBy'>): Promise<LeadRow>;
  changeOpen(id: string, offer: Omit<LeadOffer, 'unitId'> & Pick<LeadRow, 'benchMinutes'>): Promise<void>;
  removeOpen(id: string): Promise<void>;
  /** Puts rows in the place of all that a booking had, and of what was open of their units. */
  putBooking(id: string, rows: readonly LeadRow[]): Promise<void>;
  listLater(unitId?: string): Promise<readonly Later[]>;
  /** The last word about a unit counts. */
  putLater(later: Later): Promise<void>;
  /** Of the secret address of the bookings' calendar. */
  feedEpoch(): Promise<number>;
  renewFeed(): Promise<void>;
}
