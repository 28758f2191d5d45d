import type { Later, Lead, LeadOffer, LeadState } from '../core/plan/leads.js';
import type { Day, Instant } from '../units.js';

/** A lead with what the bench and the calendar need. */
export interface LeadRow extends Lead {
  readonly benchMinutes: number;
  readonly madeAt: Instant;
  readonly changedBy: string;
  /** A random UUID, the same through all its days. */
  readonly calendarUid: string;
  /** Rises with each change of its day. */
  readonly calendarSequence: number;
}

export interface LeadTable {
  list(states?: readonly LeadState[]): Promise<readonly LeadRow[]>;
  count(state: LeadState): Promise<number>;
  /** The first of those in a state by their day, and then those without one. */
  listByDay(state: LeadState, most: number): Promise<readonly LeadRow[]>;
  /** Those in a state on a day. */
  listOn(state: LeadState, day: Day): Promise<readonly LeadRow[]>;
  listOfUnit(unitId: string): Promise<readonly LeadRow[]>;
  find(id: string): Promise<LeadRow | undefined>;
  /** Errors: the store's own where the unit has a live one. */
  add(
    lead: LeadOffer & Pick<LeadRow, 'state' | 'day' | 'benchMinutes' | 'madeAt' | 'changedBy'>,
  ): Promise<LeadRow>;
  update(
    id: string,
    change: Partial<Omit<LeadRow, 'id' | 'unitId' | 'madeAt' | 'calendarUid'>>,
  ): Promise<void>;
  remove(id: string): Promise<void>;
  listLater(unitId?: string): Promise<readonly Later[]>;
  /** The last word about a unit counts. */
  putLater(later: Later): Promise<void>;
  /** Of the secret address of the bookings' calendar. */
  feedEpoch(): Promise<number>;
  renewFeed(): Promise<void>;
}
