import type { BikeType } from '../../core/tokens.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { queueOwnPage } from '../mail/kinds/link.js';
import { addBike, addUnitsOn, type NewUnit, newRiderHandle } from './newThings.js';

/** Who comes to the counter for the first time, with what. */
export interface Customer {
  /** Of the form that was filled in: sent twice, it makes one rider. */
  readonly formId: string;
  readonly name: string;
  readonly phone: string | null;
  readonly email: string | null;
  readonly language: string;
  readonly bike: { readonly name: string; readonly type: BikeType };
  readonly units: readonly NewUnit[];
  readonly since: Day;
}

export interface AddedCustomer {
  readonly handle: string;
  /** Whether a mail goes that asks whether the address is the rider's. */
  readonly isAsked: boolean;
}

/**
 * Adds a rider with a bike and its units, all or nothing; the same form again adds nothing. With `ids`, the address is
 * asked for confirmation by mail.
 * Errors: `refused`.
 */
export async function addCustomer(
  tx: Tx,
  customer: Customer,
  entry: Entry,
  ids: Ids | null,
): Promise<AddedCustomer> {
  const { formId: riderId, name, phone, email, language, units, since } = customer;
  if ((await tx.facts.current('rider', riderId)) !== undefined) {
    const handle = (await tx.handles.listOf('rider', [riderId])).get(riderId) ?? '';
    return { handle, isAsked: false };
  }
  const handle = await newRiderHandle(tx);
  const fact = await tx.facts.add({ kind: 'rider', body: {}, entityId: riderId, ...entry });
  await tx.handles.give('rider', handle, riderId, fact.seq);
  const unsaid = { note: null, confirmedAt: null, unsubscribedAt: null };
  await tx.contacts.put({ riderId, name, phone, email, language, ...unsaid });
  const touched = nothingTouched();
  const bike = await addBike(tx, { riderId, fleetId: null, ...customer.bike }, entry, touched);
  await addUnitsOn(tx, { bikeId: bike.entityId, since, units }, entry, touched);
  await follow(tx, touched, entry.at);
  const contact = await tx.contacts.find(riderId);
  const isAsked = ids !== null && contact !== undefined && (await queueOwnPage(tx, contact, entry.at, ids));
  return { handle, isAsked };
}
