/** What the workshop does about jobs at home: kits to hand over, and what riders saw that it has to look at. */
import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import type { AtHomeFact, Fact, ServiceFact } from '../../core/ledger/facts.js';
import type { Matters } from '../../core/notices/matters.js';
import { homeMatters, isToDo } from '../../core/plan/atHome.js';
import type { PartUse } from '../../core/plan/parts.js';
import type { KitWord } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { bikeNow } from '../mail/bikeNow.js';
import { listTaken } from '../plan/partsShelf.js';
import { getWorkshop } from '../settings.js';
import { changeHome } from './steps.js';

/** A job at home, with its unit and whose it is. */
export interface HomeRow {
  readonly factId: string;
  readonly tag: string;
  readonly job: AtHomeFact;
  readonly parts: readonly PartUse[];
  readonly rider: string;
  readonly phone: string | null;
}

/** What a rider saw after a job at home that somebody has to look at. */
export interface BadAnswer extends Omit<HomeRow, 'parts'> {
  readonly on: Day;
  readonly matters: Matters;
}

export interface KitsPage {
  /** The oldest first, like the others. */
  readonly toPickUp: readonly HomeRow[];
  readonly pickedUp: readonly HomeRow[];
}

/** Returns the kits that are to be picked up, and the jobs that are to be done with those that were. */
export async function getKits(tx: Tx, now: Instant): Promise<KitsPage> {
  const rows: HomeRow[] = [];
  for (const fact of await listToDo(tx)) {
    const { unitId, serviceKind, pickedUp } = fact.body;
    const unit = (await tx.facts.current('unit', unitId))?.body;
    const who = await whoHas(tx, fact.body, now);
    if (!unit || !who) continue;
    const parts = pickedUp?.parts ?? (await listTaken(tx, unit, serviceKind));
    rows.push({ factId: fact.id, tag: unit.tag, job: fact.body, parts, ...who });
  }
  return {
    toPickUp: rows.filter(({ job }) => job.step === 'chosen'),
    pickedUp: rows.filter(({ job }) => job.step === 'picked-up'),
  };
}

/** Returns the jobs that are to be done at home: in the service period for which they were chosen. */
export async function listToDo(tx: Tx): Promise<Fact<'atHome'>[]> {
  const open = (await tx.facts.list('atHome')).filter(({ body }) => isToDo(body));
  if (open.length === 0) return [];
  const standings = await tx.standings.listOfMany([...new Set(open.map(({ body }) => body.unitId))]);
  const running = new Set(standings.map(keyOf));
  return open.filter(({ body }) => running.has(keyOf(body)));
}

/** Tells one job in its service period from the next. */
export const keyOf = ({
  unitId,
  serviceKind,
  periodId,
}: Pick<StandingRow, 'unitId' | 'serviceKind' | 'periodId'>): string =>
  `${unitId} ${serviceKind} ${periodId}`;

/** Returns whose it is while the unit is on a bike of who chose it; null once it is not, or its rider was forgotten. */
async function whoHas(
  tx: Tx,
  { unitId, riderId }: AtHomeFact,
  now: Instant,
): Promise<Pick<HomeRow, 'rider' | 'phone'> | null> {
  const { timeZone } = await getWorkshop(tx);
  if ((await bikeNow(tx, unitId, now, timeZone)).riderId !== riderId) return null;
  const contact = await tx.contacts.find(riderId);
  return contact ? { rider: contact.name, phone: contact.phone } : null;
}

/** What came of a job at home, while that service is the last one of its kind. */
export interface HomeLogged {
  readonly fact: Fact<'atHome'>;
  readonly service: ServiceFact;
}

/** Returns the jobs that were done at home, of some units or all, as long as no later service took their place. */
export async function listLogged(
  tx: Tx,
  homes: readonly Fact<'atHome'>[],
  standings: readonly StandingRow[],
): Promise<HomeLogged[]> {
  const done = homes.filter(({ body }) => body.step === 'done' && body.serviceId !== null);
  if (done.length === 0) return [];
  const unitIds = [...new Set(done.map(({ body }) => body.unitId))];
  const services = new Map((await tx.facts.listMany('service', unitIds)).map((one) => [one.entityId, one]));
  const since = new Map(
    standings.map(({ unitId, serviceKind, periodStart }) => [`${unitId} ${serviceKind}`, periodStart]),
  );
  return done.flatMap((fact): HomeLogged[] => {
    const service = services.get(fact.body.serviceId!)?.body;
    if (!service || since.get(`${service.unitId} ${service.serviceKind}`) !== service.on) return [];
    return [{ fact, service }];
  });
}

const hasMatters = ({ stop, soon }: Matters): boolean => stop.length + soon.length > 0;

/** Returns the logged jobs of which the workshop has to look at something, by unit. */
export const badOnes = (logged: readonly HomeLogged[]): ReadonlyMap<string, readonly HomeLogged[]> =>
  groupBy(
    logged.filter(({ service }) => hasMatters(homeMatters(service.findings ?? {}))),
    ({ service }) => service.unitId,
  );

/** Returns the bad answers about which nobody called yet, and whose unit did not come since; the latest first. */
export async function listBadAnswers(tx: Tx, now: Instant): Promise<BadAnswer[]> {
  const homes = (await tx.facts.list('atHome')).filter(
    ({ body }) => body.step === 'done' && body.calledOn === null,
  );
  const unitIds = [...new Set(homes.map(({ body }) => body.unitId))];
  const standings = unitIds.length === 0 ? [] : await tx.standings.listOfMany(unitIds);
  const answers: BadAnswer[] = [];
  for (const { fact, service } of [...badOnes(await listLogged(tx, homes, standings)).values()].flat()) {
    const { unitId } = fact.body;
    const unit = (await tx.facts.current('unit', unitId))?.body;
    const jobs = await tx.facts.list('job', { subject: unitId });
    const who = await whoHas(tx, fact.body, now);
    if (!unit || !who || jobs.some(({ since }) => since >= fact.recordedAt)) continue;
    const matters = homeMatters(service.findings ?? {});
    answers.push({ factId: fact.id, tag: unit.tag, job: fact.body, on: service.on, matters, ...who });
  }
  // What must not be ridden comes first.
  return answers
    .reverse()
    .sort((a, b) => Number(b.matters.stop.length > 0) - Number(a.matters.stop.length > 0));
}

/**
 * Hands a kit over, which leaves the shelf now; drops it; or says that its rider was called.
 * Errors: `not-found`, `already-replaced` where it is no longer as it was seen.
 */
export async function sayKit(
  tx: Tx,
  unitId: string,
  seen: string,
  word: KitWord,
  entry: Entry,
): Promise<void> {
  const fact = await tx.facts.find(seen);
  if (fact?.kind !== 'atHome' || (fact.body as AtHomeFact).unitId !== unitId)
    throw new ServiceError('not-found', 'There is no such job at home.');
  const home = fact as Fact<'atHome'>;
  if (word === 'called') {
    const calledOn = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
    await changeHome(tx, home, { calledOn }, entry);
  } else if (word === 'not-wanted') await changeHome(tx, home, { step: 'not-wanted' }, entry);
  else {
    const unit = (await tx.facts.current('unit', unitId))!.body;
    const parts = await listTaken(tx, unit, home.body.serviceKind);
    await changeHome(tx, home, { step: 'picked-up', pickedUp: { at: entry.at, parts } }, entry);
  }
}
