import type { UnitFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listRiderBikes } from '../due/riderUnits.js';
import { getContact } from '../facts/ridersPage.js';

/** What stands on the labels of a rider's units. */
export interface RiderLabels {
  readonly name: string;
  readonly labels: readonly { readonly unit: UnitFact; readonly bike: string }[];
}

/** Errors: `not-found`. */
export async function getLabels(tx: Tx, handle: string, now: Instant): Promise<RiderLabels> {
  const { name, riderId } = await getContact(tx, handle);
  const bikes = await listRiderBikes(tx, riderId, now);
  return {
    name,
    labels: bikes.flatMap(({ bike, units }) => units.map(({ unit }) => ({ unit, bike: bike.name }))),
  };
}
