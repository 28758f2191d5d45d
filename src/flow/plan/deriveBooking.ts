import type { Fact } from '../../core/ledger/facts.js';
import { type BookingRow, rowsOfBooking } from '../../core/plan/bookingRows.js';
import { isLive } from '../../core/plan/leads.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import { refuse } from '../refuse.js';
import { differenceOf } from '../rides/checkRides.js';

/** Brings the rows of a booking to what its facts say. Errors: `refused` where a unit of it has another day since. */
export async function deriveBooking(tx: Tx, id: string): Promise<void> {
  const fact = await tx.facts.current('booking', id);
  const rows = fact ? await rowsOf(tx, fact) : [];
  for (const { unitId } of rows.filter(isLive)) {
    const other = (await tx.leads.listOfUnit(unitId)).find(
      (one) => one.id !== id && one.factId !== null && isLive(one),
    );
    if (other) refuse('other-lead', { lead: other.id });
  }
  await tx.leads.putBooking(id, rows);
}

async function rowsOf(tx: Tx, fact: Fact<'booking'>): Promise<BookingRow[]> {
  const steps = await tx.facts.versions('booking', fact.entityId);
  return rowsOfBooking(fact, steps.filter(({ seq }) => seq < fact.seq).length);
}

/** Returns which rows of bookings are stored otherwise than their facts say. */
export async function bookingDifferences(tx: Tx): Promise<string[]> {
  const key = ({ id, unitId }: LeadRow): string => `${id} of unit ${unitId}`;
  const stored = new Map(
    (await tx.leads.list()).filter((row) => row.factId !== null).map((row) => [key(row), row]),
  );
  const rebuilt = new Map<string, BookingRow>();
  for (const fact of await tx.facts.list('booking'))
    for (const row of await rowsOf(tx, fact)) rebuilt.set(key(row), row);
  const others = [...stored.keys()].filter((one) => !rebuilt.has(one));
  return [
    ...[...rebuilt].flatMap(([id, row]) => differenceOf('booking', id, row, stored.get(id))),
    ...others.map((id) => `booking ${id} stands on no fact`),
  ];
}
