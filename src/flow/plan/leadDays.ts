import { dayOf } from '../../core/days/calendar.js';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import { type AddedServiceKind, findServiceKind, type UnitSort } from '../../core/ledger/serviceKinds.js';
import { holdsPlace } from '../../core/plan/leads.js';
import { type Bench, type BenchWork, isFree, MINUTES_A_DAY, offeredDays } from '../../core/plan/slots.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getWorkshop, listAddedKinds } from '../settings.js';

/** For a job of a kind that is gone. */
const USUAL_MINUTES = 60;

const minutesFor = (
  sort: UnitSort | undefined,
  kind: ServiceKind,
  added: readonly AddedServiceKind[],
): number => (sort && findServiceKind(sort, kind, added)?.benchMinutes) ?? USUAL_MINUTES;

export const benchOf = (workshop: WorkshopFact): Bench => ({
  openDays: workshop.openDays,
  closedDays: workshop.closedDays ?? [],
  placesAWeek: workshop.placesAWeek ?? null,
  minutesADay: workshop.benchMinutesADay ?? MINUTES_A_DAY,
});

/** Returns the bench minutes of a job on a unit. */
export async function benchMinutesOf(tx: Tx, unitId: string, kind: ServiceKind): Promise<number> {
  return minutesFor((await tx.facts.current('unit', unitId))?.body, kind, await listAddedKinds(tx));
}

/** What other leads take on the bench. */
const takenBeside = (leads: readonly LeadRow[], unitId: string): BenchWork[] =>
  leads
    .filter((lead) => holdsPlace(lead) && lead.unitId !== unitId && lead.day !== null)
    .map((lead) => ({ day: lead.day!, minutes: lead.benchMinutes }));

/** The largest job of each other unit on its likely day, where no lead has a day for it yet. */
async function expectedBeside(
  tx: Tx,
  standings: readonly StandingRow[],
  leads: readonly LeadRow[],
  unitId: string,
): Promise<BenchWork[]> {
  const placed = new Set(leads.filter(holdsPlace).map((lead) => lead.unitId));
  const kinds = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, fact.body]));
  const added = await listAddedKinds(tx);
  const byUnit = new Map<string, BenchWork>();
  for (const { unitId: other, serviceKind, likely } of standings) {
    if (other === unitId || placed.has(other) || likely.p50 === null) continue;
    const known = byUnit.get(other);
    if (known && known.day <= likely.p50) continue;
    byUnit.set(other, { day: likely.p50, minutes: minutesFor(kinds.get(other), serviceKind, added) });
  }
  return [...byUnit.values()];
}

export interface DayWish {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly count: number;
}

/** Returns the days to offer for a job on a unit, from what is booked, asked for and expected beside it. */
export async function listOfferedDays(tx: Tx, wish: DayWish, now: Instant): Promise<Day[]> {
  const workshop = await getWorkshop(tx);
  const leads = await tx.leads.list(['asked-for', 'booked']);
  const standings = await tx.standings.list();
  const own = standings.filter((one) => one.unitId === wish.unitId && one.state !== 'in-time');
  const pressing = own.some((one) => one.state !== 'coming-up');
  const likely = pressing
    ? null
    : (own
        .map((one) => one.likely.p50)
        .filter((day) => day !== null)
        .sort()[0] ?? null);
  const load = {
    taken: takenBeside(leads, wish.unitId),
    expected: await expectedBeside(tx, standings, leads, wish.unitId),
  };
  return offeredDays(benchOf(workshop), load, {
    today: dayOf(now, workshop.timeZone),
    jobMinutes: await benchMinutesOf(tx, wish.unitId, wish.serviceKind),
    likely,
    count: wish.count,
  });
}

/** Returns whether a job on a unit finds a place on a day; what the unit holds itself does not count. */
export async function hasPlace(tx: Tx, unitId: string, kind: ServiceKind, day: Day): Promise<boolean> {
  const taken = takenBeside(await tx.leads.list(['asked-for', 'booked']), unitId);
  return isFree(benchOf(await getWorkshop(tx)), taken, day, await benchMinutesOf(tx, unitId, kind));
}
