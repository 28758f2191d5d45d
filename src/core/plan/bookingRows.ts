import type { Instant } from '../../units.js';
import type { BookedUnit, BookingFact, Fact } from '../ledger/facts.js';
import type { BookingStep } from '../tokens.js';
import type { Lead, LeadState } from './leads.js';

const STATE: Readonly<Record<BookingStep, LeadState>> = {
  'asked-for': 'asked-for',
  booked: 'booked',
  declined: 'declined',
  'not-wanted': 'declined',
  withdrawn: 'passed',
  missed: 'passed',
  ended: 'passed',
  done: 'done',
};

/** A unit of a booking, as lists have it. */
export interface BookingRow extends Lead {
  readonly factId: string;
  readonly bikeId: string | null;
  readonly offered: NonNullable<BookingFact['offered']>;
  readonly wish: string | null;
  readonly benchMinutes: number;
  readonly madeAt: Instant;
  readonly changedBy: string;
  readonly calendarUid: string;
  readonly calendarSequence: number;
}

/**
 * Returns the rows that a booking stands for, one for each unit. Shape: the fact in force, and how many steps of the
 * booking there were before it.
 */
export const rowsOfBooking = (fact: Fact<'booking'>, stepsBefore: number): BookingRow[] =>
  fact.body.units.map((unit) => rowOf(fact, unit, stepsBefore));

function rowOf(fact: Fact<'booking'>, unit: BookedUnit, stepsBefore: number): BookingRow {
  const { step, day, bikeId, riderId, offered = [], wish = null, calendar } = fact.body;
  const { isDone, beside = [], ...offer } = unit;
  return {
    id: fact.entityId,
    factId: fact.id,
    state: isDone ? 'done' : STATE[step],
    ...{ step, day, bikeId, riderId, offered, wish, beside, ...offer },
    madeAt: fact.since,
    changedAt: fact.recordedAt,
    changedBy: fact.recordedBy,
    calendarUid: calendar.uid,
    calendarSequence: calendar.sequence + stepsBefore,
  };
}
