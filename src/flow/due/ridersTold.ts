import { fittingNow } from '../../core/ledger/ledger.js';
import { isWanted } from '../../core/states.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { ChangedState } from '../facts/setWeights.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** Returns the riders who could be written to because units change state: each gets one mail at most a day. */
export async function listRidersTold(
  tx: Tx,
  changes: readonly ChangedState[],
  now: Instant,
): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const riders = new Set<string>();
  for (const unitId of new Set(changes.filter((one) => isWanted(one.after)).map((one) => one.unitId))) {
    const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((fact) =>
      fittingOf(fact, timeZone),
    );
    const bikeId = fittingNow(fittings, now)?.bikeId;
    const riderId = bikeId === undefined ? null : (await tx.facts.current('bike', bikeId))?.body.riderId;
    const contact = riderId ? await tx.contacts.find(riderId) : undefined;
    if (contact && contact.email !== null && contact.refusedAt === null && contact.unsubscribedAt === null)
      riders.add(contact.riderId);
  }
  return [...riders];
}
