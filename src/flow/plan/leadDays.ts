import { addDays, dayOf } from '../../core/days/calendar.js';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { UnitSort } from '../../core/ledger/serviceKinds.js';
import { jobMinutes, type MinuteTerms } from '../../core/plan/jobMinutes.js';
import { holdsPlace, type VisitUnit } from '../../core/plan/leads.js';
import {
  type Bench,
  type BenchWork,
  freeDays,
  isCrowded,
  isFree,
  MINUTES_A_DAY,
  mondaysAhead,
  offeredDays,
} from '../../core/plan/slots.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getMinuteTerms, getWorkshop } from '../settings.js';

/** For a job of a kind that is gone. */
const USUAL_MINUTES = 60;

const minutesFor = (sort: UnitSort | undefined, kind: ServiceKind, terms: MinuteTerms): number =>
  (sort && jobMinutes(sort, kind, terms)) ?? USUAL_MINUTES;

export const benchOf = (workshop: WorkshopFact): Bench => ({
  openDays: workshop.openDays,
  closedDays: workshop.closedDays ?? [],
  placesAWeek: workshop.placesAWeek ?? null,
  minutesADay: workshop.benchMinutesADay ?? MINUTES_A_DAY,
  people: workshop.people ?? [],
});

/** Returns the bench minutes of the jobs of one visit on a unit, added up. */
export async function benchMinutesOf(tx: Tx, unitId: string, jobs: readonly ServiceKind[]): Promise<number> {
  const unit = (await tx.facts.current('unit', unitId))?.body;
  const terms = await getMinuteTerms(tx);
  return jobs.reduce((sum, job) => sum + minutesFor(unit, job, terms), 0);
}

/** What other leads take on the bench. */
const takenBeside = (leads: readonly LeadRow[], units: readonly VisitUnit[]): BenchWork[] =>
  leads
    .filter((lead) => holdsPlace(lead) && lead.day !== null)
    .filter((lead) => !units.some(({ unitId }) => unitId === lead.unitId))
    .map((lead) => ({ day: lead.day!, minutes: lead.benchMinutes }));

const EXPECTED_AT_ONCE = 50;

/**
 * What is expected in a week: of each other unit without a day the job that is likely first, where that is likely then.
 * Once the week is crowded no more is asked for, however many units there are.
 */
async function expectedIn(
  tx: Tx,
  monday: Day,
  bench: Bench,
  taken: readonly BenchWork[],
  isLeftOut: (unitId: string) => boolean,
): Promise<BenchWork[]> {
  const terms = await getMinuteTerms(tx);
  const expected: BenchWork[] = [];
  for (let from = 0; !isCrowded(bench, { taken, expected }, monday); from += EXPECTED_AT_ONCE) {
    const some = await tx.standings.listFirstLikely({
      from: monday,
      to: addDays(monday, 6),
      most: EXPECTED_AT_ONCE,
      after: from,
    });
    const unitIds = some.map(({ unitId }) => unitId);
    const kinds = new Map(
      (await tx.facts.listMany('unit', unitIds)).map((fact) => [fact.entityId, fact.body]),
    );
    for (const { unitId, serviceKind, day } of some)
      if (!isLeftOut(unitId))
        expected.push({ day, minutes: minutesFor(kinds.get(unitId), serviceKind, terms) });
    if (some.length < EXPECTED_AT_ONCE) break;
  }
  return expected;
}

export interface DayWish {
  /** All of one visit. */
  readonly units: readonly VisitUnit[];
  readonly count: number;
}

/** The first day on which something of the units is likely due; null where something presses, or nothing is foretold. */
async function likelyDay(tx: Tx, units: readonly VisitUnit[]): Promise<Day | null> {
  const unitIds = units.map(({ unitId }) => unitId);
  const own = (await tx.standings.listOfMany(unitIds)).filter((one) => one.state !== 'in-time');
  if (own.some((one) => one.state !== 'coming-up')) return null;
  const days = own.map((one) => one.likely.p50).filter((day) => day !== null);
  return days.sort()[0] ?? null;
}

/** Returns the days to offer for a visit, from what is booked, asked for and expected beside it. */
export async function listOfferedDays(tx: Tx, wish: DayWish, now: Instant): Promise<Day[]> {
  const workshop = await getWorkshop(tx);
  const leads = await tx.leads.list(['asked-for', 'booked']);
  const bench = benchOf(workshop);
  const today = dayOf(now, workshop.timeZone);
  const likely = await likelyDay(tx, wish.units);
  const taken = takenBeside(leads, wish.units);
  const placed = new Set([...wish.units, ...leads.filter(holdsPlace)].map(({ unitId }) => unitId));
  const expected: BenchWork[] = [];
  for (const monday of likely === null ? [] : mondaysAhead(today, likely))
    expected.push(...(await expectedIn(tx, monday, bench, taken, (unitId) => placed.has(unitId))));
  return offeredDays(
    bench,
    { taken, expected },
    {
      today,
      jobMinutes: await visitMinutes(tx, wish.units),
      likely,
      count: wish.count,
    },
  );
}

async function visitMinutes(tx: Tx, units: readonly VisitUnit[]): Promise<number> {
  let minutes = 0;
  for (const { unitId, jobs } of units) minutes += await benchMinutesOf(tx, unitId, jobs);
  return minutes;
}

/** Returns whether a visit finds a place on a day; what its units hold themselves does not count. */
export async function hasPlace(tx: Tx, units: readonly VisitUnit[], day: Day): Promise<boolean> {
  const taken = takenBeside(await tx.leads.list(['asked-for', 'booked']), units);
  return isFree(benchOf(await getWorkshop(tx)), taken, day, await visitMinutes(tx, units));
}

/** Returns the days of a week on which a visit finds a place. */
export async function listFreeDaysIn(
  tx: Tx,
  visit: readonly VisitUnit[],
  { from, to }: { readonly from: Day; readonly to: Day },
  now: Instant,
): Promise<Day[]> {
  const workshop = await getWorkshop(tx);
  const taken = takenBeside(await tx.leads.list(['asked-for', 'booked']), visit);
  const minutes = await visitMinutes(tx, visit);
  const days = freeDays(benchOf(workshop), taken, dayOf(now, workshop.timeZone), minutes);
  return days.filter((day) => day >= from && day <= to);
}
