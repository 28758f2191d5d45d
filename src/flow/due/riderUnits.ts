import { dayOf } from '../../core/days/calendar.js';
import type { BikeFact, Fact, ServiceFact, UnitFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { Stay } from '../../core/ledger/stay.js';
import { findHomeJob, isToAsk } from '../../core/plan/atHome.js';
import { isLive } from '../../core/plan/leads.js';
import { RIDER_STATES } from '../../core/states.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { findQuestion } from '../facts/jobQuestions.js';
import { findStay } from '../facts/jobs.js';
import { findChosen } from '../home/steps.js';
import { isPlaced } from '../mail/answerLink.js';
import { bikeNow } from '../mail/bikeNow.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** A unit on a rider's bike, as its rider sees it. */
export interface RiderUnit {
  readonly unitId: string;
  readonly unit: UnitFact;
  /** The most pressing first. */
  readonly standings: readonly StandingRow[];
  /** The day that is asked for or booked. */
  readonly lead: (LeadRow & { readonly day: Day }) | null;
  /** Its stay at the workshop that has not ended. */
  readonly stay: Stay | null;
  /** The workshop asks whether another job may be done. */
  readonly isAsked: boolean;
  /** What its rider may do at home, by service kind; `asked`: chosen a while ago, is it still to come? */
  readonly atHome: ReadonlyMap<ServiceKind, 'allowed' | 'chosen' | 'asked'>;
  /** Why it must not be ridden, as the workshop typed it; null where it may. */
  readonly stopWhy: string | null;
}

export interface RiderBike {
  readonly bikeId: string;
  readonly bike: BikeFact;
  readonly units: readonly RiderUnit[];
}

/** Returns the rider's bikes with the units that are on them now; bikes without any come last. */
export async function listRiderBikes(tx: Tx, riderId: string, now: Instant): Promise<RiderBike[]> {
  const { timeZone } = await getWorkshop(tx);
  const bikes: RiderBike[] = [];
  for (const { entityId: bikeId, body: bike } of await tx.facts.list('bike', { object: riderId })) {
    if (bike.sold) continue;
    const units: RiderUnit[] = [];
    for (const fact of await tx.facts.list('fitting', { object: bikeId })) {
      if (!fittingNow([fittingOf(fact, timeZone)], now)) continue;
      const unit = await findRiderUnit(tx, fact.body.unitId, riderId, now);
      if (unit) units.push(unit);
    }
    bikes.push({ bikeId, bike, units: units.sort((a, b) => (a.unit.tag < b.unit.tag ? -1 : 1)) });
  }
  const rank = ({ units }: RiderBike): number => (units.length > 0 ? 0 : 1);
  return bikes.sort((a, b) => rank(a) - rank(b) || (a.bike.name < b.bike.name ? -1 : 1));
}

/** Returns the units in their box that were named as the rider's, and are still there. */
export async function listBoxedOf(tx: Tx, riderId: string, now: Instant): Promise<RiderUnit[]> {
  const { timeZone } = await getWorkshop(tx);
  const units: RiderUnit[] = [];
  for (const { entityId: unitId } of await tx.facts.list('unit', { object: riderId })) {
    const gone = (await tx.facts.list('gone', { subject: unitId })).at(-1)?.body;
    const isGone = gone !== undefined && gone.how !== 'back';
    if (isGone || (await bikeNow(tx, unitId, now, timeZone)).bikeId !== null) continue;
    const unit = await findRiderUnit(tx, unitId, riderId, now);
    if (unit) units.push(unit);
  }
  return units;
}

async function findRiderUnit(
  tx: Tx,
  unitId: string,
  riderId: string,
  now: Instant,
): Promise<RiderUnit | undefined> {
  const fact = await tx.facts.current('unit', unitId);
  if (!fact) return undefined;
  const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1)?.body;
  const lead = (await tx.leads.listOfUnit(unitId)).find((one) => one.riderId === riderId && isLive(one));
  const standings = [...(await tx.standings.listOf(unitId))].sort(byNeed);
  return {
    ...{ unitId, unit: fact.body, standings },
    atHome: await atHomeOf(tx, riderId, fact.body, standings, now),
    lead: lead && isPlaced(lead) ? lead : null,
    stay: await findStay(tx, unitId),
    isAsked: (await findQuestion(tx, unitId))?.body.answer === 'asked',
    stopWhy: mark?.stop ? mark.why : null,
  };
}

async function atHomeOf(
  tx: Tx,
  riderId: string,
  unit: UnitFact,
  standings: readonly StandingRow[],
  now: Instant,
): Promise<RiderUnit['atHome']> {
  const { homeJobs = [], timeZone } = await getWorkshop(tx);
  const atHome = new Map<ServiceKind, 'allowed' | 'chosen' | 'asked'>();
  for (const standing of standings) {
    const chosen = await findChosen(tx, riderId, standing);
    if (chosen)
      atHome.set(standing.serviceKind, isToAsk(chosen.body, dayOf(now, timeZone)) ? 'asked' : 'chosen');
    else if (findHomeJob(homeJobs, unit, standing)) atHome.set(standing.serviceKind, 'allowed');
  }
  return atHome;
}

function byNeed(a: StandingRow, b: StandingRow): number {
  const on = ({ likely }: StandingRow): string => likely.p50 ?? '9999';
  return RIDER_STATES.indexOf(a.state) - RIDER_STATES.indexOf(b.state) || (on(a) < on(b) ? -1 : 1);
}

/** What was done to a unit, newest first. */
export async function listServicesDone(
  tx: Tx,
  unitId: string,
  now: Instant,
): Promise<readonly Fact<'service'>[]> {
  const today = dayOf(now, (await getWorkshop(tx)).timeZone);
  const on = ({ body }: { readonly body: ServiceFact }): Day => body.on;
  return (await tx.facts.list('service', { subject: unitId }))
    .filter((fact) => on(fact) <= today)
    .sort((a, b) => (on(a) < on(b) ? 1 : -1));
}

/** Returns the names of a rider's bikes by id. */
export const listBikeNames = async (tx: Tx, riderId: string): Promise<ReadonlyMap<string, string>> =>
  new Map((await tx.facts.list('bike', { object: riderId })).map((fact) => [fact.entityId, fact.body.name]));

/** Returns a unit and the name of the rider's bike that it is on; undefined for what is no unit. */
export async function findUnitOnBike(
  tx: Tx,
  unitId: string | null,
  riderId: string,
): Promise<{ readonly unit: UnitFact; readonly bike: string | null } | undefined> {
  const fact = unitId === null ? undefined : await tx.facts.current('unit', unitId);
  if (!fact) return undefined;
  const own = await listBikeNames(tx, riderId);
  const on = (await tx.facts.list('fitting', { subject: fact.entityId }))
    .filter(({ body }) => body.to === null && own.has(body.bikeId))
    .at(-1);
  return { unit: fact.body, bike: on === undefined ? null : own.get(on.body.bikeId)! };
}
