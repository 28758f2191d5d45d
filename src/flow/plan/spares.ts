import type { UsedPart } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';

/** Returns the spare lists of the fleets that some bikes belong to, one after the other. */
export async function listSparesOf(tx: Tx, bikeIds: readonly string[]): Promise<UsedPart[]> {
  const bikes = await tx.facts.listMany('bike', bikeIds);
  const fleetIds = [...new Set(bikes.map(({ body }) => body.fleetId).filter((id) => id !== null))];
  const spares: UsedPart[] = [];
  for (const id of fleetIds) spares.push(...((await tx.facts.current('fleet', id))?.body.spares ?? []));
  return spares;
}
