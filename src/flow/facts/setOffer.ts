import type { JobOffer } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { findWorkshop } from '../settings.js';
import { replaceFact } from './changeFact.js';

const isSame = (a: JobOffer, b: JobOffer): boolean =>
  a.unitKind === b.unitKind && a.serviceKind === b.serviceKind;

/** Says what mails tell of a job's price and how long the bike stands, in place of what they told. */
export async function setOffer(tx: Tx, offer: JobOffer, entry: Entry): Promise<void> {
  const fact = (await findWorkshop(tx))!;
  const others = (fact.body.offers ?? []).filter((one) => !isSame(one, offer));
  const isEmpty = offer.price === null && offer.turnaround === null;
  const body = { ...fact.body, offers: isEmpty ? others : [...others, offer] };
  await replaceFact(tx, fact.id, { kind: 'workshop', body }, entry);
}
