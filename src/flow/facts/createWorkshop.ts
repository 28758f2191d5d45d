import type { WorkshopFact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../fittings/fittings.js';
import { findWorkshop } from '../settings.js';

/** What somebody says of a new workshop; the rest takes its default. */
export type NewWorkshop = Pick<
  WorkshopFact,
  'name' | 'timeZone' | 'openDays' | 'language' | 'email' | 'phone' | 'openingHours'
>;

/** Makes the workshop in a store that has none. Errors: `refused` where there is one. */
export async function createWorkshop(tx: Tx, workshop: NewWorkshop, entry: Entry): Promise<void> {
  if (await findWorkshop(tx)) {
    throw new ServiceError('refused', 'There is a workshop in this data folder already.');
  }
  const body: WorkshopFact = {
    handle: 'w1',
    digestHour: 7,
    noticeDays: 14,
    address: null,
    remindersFrom: null,
    ...workshop,
  };
  await tx.facts.add({ kind: 'workshop', body, ...entry });
}
