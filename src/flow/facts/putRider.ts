import type { Fact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import type { Rows } from './ledgerDocument.js';

/**
 * Puts what is known of how to reach a rider. Returns the fact that the rider is, where it is new. An address that
 * was confirmed stays so while it is the same; whoever unsubscribed stays unsubscribed.
 */
export async function putRider(
  tx: Tx,
  { id, name, email, phone, language, addressConfirmed }: Rows['rider'],
  entry: Entry,
): Promise<Fact<'rider'> | null> {
  const known = await tx.handles.find('rider', id);
  const added = known === undefined ? await tx.facts.add({ kind: 'rider', body: {}, ...entry }) : null;
  if (added) await tx.handles.give('rider', id, added.entityId, added.seq);
  const riderId = known ?? added!.entityId;
  const before = await tx.contacts.find(riderId);
  const confirmedBefore = before?.email === email ? (before?.confirmedAt ?? null) : null;
  await tx.contacts.put({
    riderId,
    name,
    email,
    phone,
    note: before?.note ?? null,
    language,
    confirmedAt: confirmedBefore ?? (addressConfirmed ? entry.at : null),
    unsubscribedAt: before?.unsubscribedAt ?? null,
  });
  return added;
}
