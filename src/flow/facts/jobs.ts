/** A unit's stay at the workshop, step by step. Each step takes the place of the one that a person saw. */
import { dayOf } from '../../core/days/calendar.js';
import type { JobFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { NOTHING_SAID, type Stay, stayOf } from '../../core/ledger/stay.js';
import { AlreadyReplaced, ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { isoTime } from '../../units.js';
import type { Entry } from '../entry.js';
import { fitUnit } from '../fittings/fittings.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { addFact, replaceFact } from './changeFact.js';

/** What a person may say of a job at any time. */
export type JobSaid = Pick<JobFact, 'wish' | 'promisedFor' | 'price' | 'missing' | 'comeback'>;

/** Returns the stay of a unit that has not ended. */
export async function findStay(tx: Tx, unitId: string): Promise<Stay | null> {
  const of = { subject: unitId };
  const { timeZone } = await getWorkshop(tx);
  return stayOf(await tx.facts.list('job', of), await tx.facts.list('bench', of), timeZone);
}

/** Begins a job: the unit arrived. Returns the fact's id. Errors: `refused` where it is there already. */
export async function arrive(tx: Tx, unitId: string, said: Partial<JobSaid>, entry: Entry): Promise<string> {
  if (await findStay(tx, unitId)) refuse('job-open', { tag: await tagOf(tx, unitId) });
  const arrivedOn = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  const body = { unitId, step: 'arrived', arrivedOn, ...NOTHING_SAID, ...said } as const;
  return (await addFact(tx, { kind: 'job', body }, entry)).id;
}

/**
 * Takes a job a step further or back, or changes what was said of it. Shape: `seen` is the fact that the person saw; null
 * where a program from before jobs wrote it. Returns the new fact's id.
 * Errors: `already-replaced` where it is no longer as it was seen, `refused` where the unit is not there.
 */
export async function changeJob(
  tx: Tx,
  unitId: string,
  seen: string | null,
  change: Partial<JobFact>,
  entry: Entry,
): Promise<string> {
  const stay = await findStay(tx, unitId);
  if (seen === null) {
    if (stay === null) return refuse('no-job', { tag: await tagOf(tx, unitId) });
    if (stay.factId !== null) throw await movedMeanwhile(tx, stay.factId);
    return (await addFact(tx, { kind: 'job', body: { ...stay.job, ...change } }, entry)).id;
  }
  const fact = await tx.facts.find(seen);
  if (fact?.kind !== 'job' || (fact.body as JobFact).unitId !== unitId)
    throw new ServiceError('not-found', 'There is no such job.');
  const body = { ...(fact.body as JobFact), ...change };
  return (await replaceFact(tx, seen, { kind: 'job', body }, entry)).id;
}

async function movedMeanwhile(tx: Tx, factId: string): Promise<AlreadyReplaced> {
  const { recordedBy, recordedAt, isVoid } = (await tx.facts.find(factId))!;
  return new AlreadyReplaced(recordedBy, recordedAt, isVoid, factId);
}

/** Says as commands do that the unit came to the workshop, or left it. Returns the fact's id. */
export async function benchUnit(tx: Tx, unitId: string, isIn: boolean, entry: Entry): Promise<string> {
  if (isIn) return arrive(tx, unitId, {}, entry);
  const stay = await findStay(tx, unitId);
  return changeJob(tx, unitId, stay?.factId ?? null, { step: 'collected' }, entry);
}

/** Returns the bike that a unit was on last, where it is on none now: there it goes back to. */
export async function findBikeBefore(tx: Tx, unitId: string, now: Entry['at']): Promise<string | null> {
  const { timeZone } = await getWorkshop(tx);
  const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((fact) =>
    fittingOf(fact, timeZone),
  );
  if (fittingNow(fittings, now)) return null;
  return fittings.sort((a, b) => a.from - b.from).at(-1)?.bikeId ?? null;
}

/** Ends a job; a unit in its box goes back on its bike where that is wanted. Errors: as of `changeJob` and of a fitting. */
export async function collect(
  tx: Tx,
  unitId: string,
  seen: string | null,
  isFittedBack: boolean,
  entry: Entry,
): Promise<string> {
  const bikeId = isFittedBack ? await findBikeBefore(tx, unitId, entry.at) : null;
  const id = await changeJob(tx, unitId, seen, { step: 'collected' }, entry);
  const from = isoTime(entry.at);
  if (bikeId !== null) await fitUnit(tx, { unitId, bikeId, from, to: null }, false, entry);
  return id;
}

const tagOf = async (tx: Tx, unitId: string): Promise<string> =>
  (await tx.facts.current('unit', unitId))?.body.tag ?? unitId;
