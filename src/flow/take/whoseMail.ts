import {
  type MailFields,
  provenSender,
  ridesAddress,
  ridesMark,
  ridesText,
  ridesTokens,
} from '../../core/mailedIn.js';
import type { Seal } from '../../ports/seal.js';
import type { Tx } from '../../ports/store.js';

/** The workshop’s mailbox, as riders write to it. */
export interface RidesMailbox {
  /** Such as rides@bench.example. */
  readonly address: string;
  /** Whose word on senders counts; null: nobody’s, then only a rider’s own address says whose rides they are. */
  readonly server: string | null;
  readonly seal: Seal;
}

/** A mail to more riders than these is to nobody. */
const MOST_RIDERS = 4;

/** Returns the riders whose rides a mail brings; none where nobody’s. */
export async function ridersOfMail(
  tx: Tx,
  { address, server, seal }: RidesMailbox,
  fields: MailFields,
): Promise<string[]> {
  const found: string[] = [];
  for (const { riderId, mark } of ridesTokens(address, fields.to)) {
    if (!(await tx.contacts.find(riderId))) continue;
    if (fits(seal, ridesText(tx.workshopId, riderId, (await tx.mailed.rider(riderId)).epoch), mark))
      found.push(riderId);
  }
  if (found.length > MOST_RIDERS) return [];
  if (found.length > 0 || server === null) return found;
  const sender = provenSender(fields, server);
  if (sender === null) return [];
  const same = (await tx.contacts.list()).filter(
    ({ email, confirmedAt, refusedAt }) =>
      email?.toLowerCase() === sender && confirmedAt !== null && refusedAt === null,
  );
  // An address that two share says nothing of whose rides they are.
  return same.length === 1 ? [same[0]!.riderId] : [];
}

/** All of a mark that an address carries is compared, in constant time. */
const fits = (seal: Seal, text: string, mark: string): boolean => {
  const whole = seal.mark(text);
  return seal.fits(text, mark + whole.slice(mark.length));
};

/** Returns the address to which a rider mails rides. */
export async function findRidesAddress(
  tx: Tx,
  { address, seal }: Pick<RidesMailbox, 'address' | 'seal'>,
  riderId: string,
): Promise<string> {
  const { epoch } = await tx.mailed.rider(riderId);
  return ridesAddress(address, {
    riderId,
    mark: ridesMark(seal.mark(ridesText(tx.workshopId, riderId, epoch))),
  });
}
