import type { Fact, JobMinutes, JobOffer } from '../../core/ledger/facts.js';
import { type AddedServiceKind, jobsOf, serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { jobMinutes } from '../../core/plan/jobMinutes.js';
import { type ServiceKind, UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { replaceFact } from '../facts/changeFact.js';
import { setWorkshop } from '../facts/setWorkshop.js';
import { findWorkshop, listAddedKinds } from '../settings.js';

/** A job as the page of all jobs has it. */
export interface JobRow {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  /** What it takes on the bench here. */
  readonly minutes: number;
  /** What it takes where nobody says otherwise. */
  readonly usual: number;
  /** It falls due, so mails may tell its price. */
  readonly isOffered: boolean;
  readonly price: string | null;
  readonly turnaround: string | null;
}

/** Returns every job of every kind of unit, with what the workshop says of it. */
export async function listJobs(tx: Tx): Promise<JobRow[]> {
  const { offers = [], jobMinutes: own = [] } = (await findWorkshop(tx))!.body;
  const added = await listAddedKinds(tx);
  return UNIT_KINDS.flatMap((unitKind) =>
    jobsOf({ unitKind }, added).map((serviceKind): JobRow => {
      const isIt = (one: { readonly unitKind: UnitKind; readonly serviceKind: ServiceKind }): boolean =>
        one.unitKind === unitKind && one.serviceKind === serviceKind;
      const { price = null, turnaround = null } = offers.find(isIt) ?? {};
      const minutes = jobMinutes({ unitKind }, serviceKind, { added, own })!;
      const usual = jobMinutes({ unitKind }, serviceKind, { added: withoutMinutes(added), own: [] })!;
      return {
        unitKind,
        serviceKind,
        minutes,
        usual,
        isOffered: isClocked(unitKind, serviceKind, added),
        price,
        turnaround,
      };
    }),
  );
}

const isClocked = (unitKind: UnitKind, kind: ServiceKind, added: readonly AddedServiceKind[]): boolean =>
  serviceKindsOf({ unitKind }, added).some(({ name }) => name === kind);

const withoutMinutes = (added: readonly AddedServiceKind[]): AddedServiceKind[] =>
  added.map(({ benchMinutes: _, ...rest }) => rest);

/** What the page of all jobs shows. */
export const getJobsPage = async (
  tx: Tx,
): Promise<{ readonly fact: Fact<'workshop'>; readonly jobs: readonly JobRow[] }> => ({
  fact: (await findWorkshop(tx))!,
  jobs: await listJobs(tx),
});

export type JobWords = Pick<JobRow, 'unitKind' | 'serviceKind' | 'minutes' | 'price' | 'turnaround'>;

/**
 * Puts what a person typed of jobs in the place of what they saw, named by the fact. Returns whether anything is other.
 * A kind of the workshop's own holds its minutes itself.
 * Errors: `already-replaced` where somebody else changed the same meanwhile.
 */
export async function setJobs(
  tx: Tx,
  factId: string | undefined,
  words: readonly JobWords[],
  entry: Entry,
): Promise<boolean> {
  const rows = await listJobs(tx);
  const own = await tx.facts.list('serviceKind');
  const minutes: JobMinutes[] = [];
  const offers: JobOffer[] = [];
  let isOther = false;
  for (const { unitKind, serviceKind, minutes: typed, price, turnaround } of words) {
    const row = rows.find((one) => one.unitKind === unitKind && one.serviceKind === serviceKind);
    if (!row) continue;
    const fact = own.find(({ body }) => body.unitKind === unitKind && body.name === serviceKind);
    if (fact && typed !== row.minutes) {
      await replaceFact(
        tx,
        fact.id,
        { kind: 'serviceKind', body: { ...fact.body, benchMinutes: typed } },
        entry,
      );
      isOther = true;
    }
    if (!fact && typed !== row.usual) minutes.push({ unitKind, serviceKind, minutes: typed });
    if (price !== null || turnaround !== null) offers.push({ unitKind, serviceKind, price, turnaround });
  }
  const { id: standing, body } = (await findWorkshop(tx))!;
  const id = await setWorkshop(
    tx,
    factId ?? standing,
    {
      ...(minutes.length > 0 || body.jobMinutes !== undefined ? { jobMinutes: minutes } : {}),
      ...(offers.length > 0 || body.offers !== undefined ? { offers } : {}),
    },
    entry,
  );
  return isOther || id !== null;
}
