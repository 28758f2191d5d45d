import { canonical } from '../../core/canonical.js';
import type { Contact } from '../../ports/contacts.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { queueOwnPage } from '../mail/kinds/link.js';

/** What a workshop writes down of a rider. */
export type ContactWords = Pick<Contact, 'name' | 'phone' | 'email' | 'language' | 'note'>;

/** Returns what a person sees of a contact, so that two who change it at once collide visibly. */
export const contactSeen = ({ name, phone, email, language, note }: ContactWords): string =>
  canonical([name, phone, email, language, note]);

/** `changed`: somebody else changed it since it was seen. */
export type ContactChange = 'saved' | 'asked' | 'unchanged' | 'changed';

/**
 * Puts other words in the place of those that were seen. A new address is not confirmed; with `ids` it is asked for that
 * by mail.
 */
export async function changeContact(
  tx: Tx,
  before: Contact,
  words: ContactWords,
  seen: string,
  { at }: Entry,
  ids: Ids | null,
): Promise<ContactChange> {
  if (contactSeen(before) !== seen) return 'changed';
  if (contactSeen(words) === seen) return 'unchanged';
  const { riderId, unsubscribedAt } = before;
  const isSame = before.email === words.email;
  await tx.contacts.put({
    riderId,
    ...words,
    unsubscribedAt,
    confirmedAt: isSame ? before.confirmedAt : null,
  });
  const contact = await tx.contacts.find(riderId);
  if (isSame || ids === null || contact === undefined) return 'saved';
  return (await queueOwnPage(tx, contact, at, ids)) ? 'asked' : 'saved';
}
