import { dayOf } from '../../core/days/calendar.js';
import { isForeseeable } from '../../core/forecast/dueChance.js';
import {
  type BenchJob,
  type BenchWeek,
  benchWeeks,
  RESPONSE_SHARE,
  type Week,
  weeksFrom,
} from '../../core/plan/benchWeeks.js';
import { expectedJobs } from '../../core/plan/expectedJobs.js';
import { holdsPlace, jobsOfVisit } from '../../core/plan/leads.js';
import { type PartPlan, type PartUse, partsFor, planParts } from '../../core/plan/parts.js';
import { WEEKS_SHOWN } from '../../core/plan/weeksShown.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import { keyOf, listToDo } from '../home/kits.js';
import { getWorkshop } from '../settings.js';
import { listJobs } from './jobs.js';
import { benchOf } from './leadDays.js';
import { listPartRows, listShelf } from './partsShelf.js';

/** A job expected or booked in the weeks to come. */
export interface PlannedJob extends BenchJob {
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly parts: readonly PartUse[];
}

/** Units that no job can be foreseen for; of those on the bench the ones of which nothing is due. */
export interface LeftOut {
  readonly onTheBench: number;
  readonly stopRiding: number;
  readonly historyUnknown: number;
  readonly boxed: number;
}

export interface BenchPlan {
  readonly today: Day;
  readonly response: number;
  readonly weeks: readonly BenchWeek[];
  readonly jobs: readonly PlannedJob[];
  readonly leftOut: LeftOut;
  readonly parts: readonly PartPlan[];
}

/** Returns what the bench and the shelf will need in the weeks from today on. */
export async function getBenchPlan(tx: Tx, now: Instant, count = WEEKS_SHOWN): Promise<BenchPlan> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const weeks = weeksFrom(today, count);
  const bench = benchOf(workshop);
  const response = workshop.responseShare ?? RESPONSE_SHARE;
  const rows = await listPartRows(tx);
  const units = await listForeseen(tx, now);
  const leads = await tx.leads.list(['asked-for', 'booked', 'declined']);
  const atHome = await listToDo(tx);
  const isAtHome = new Set(atHome.map(({ body }) => keyOf(body)));
  const partsOf = (unit: ForeseenUnit['unit'], kind: ServiceKind): PartUse[] => partsFor(rows, unit, kind);
  const there = await listJobs(tx, now);
  const isThere = new Set(there.map(({ one }) => one.unit.id));
  const atWork = there.flatMap(({ one, serviceKind, minutes }): PlannedJob[] => {
    const kind = serviceKind ?? largestOf(one);
    if (minutes === 0 || kind === null) return [];
    const { tag } = one.unit;
    const parts = serviceKind === null ? [] : partsOf(one.unit, kind);
    const dueBy = weeks.map(() => 1);
    return [{ unit: tag, serviceKind: kind, minutes, response: 1, isBooked: true, dueBy, parts }];
  });
  const booked = units.flatMap(({ unit }) =>
    leads
      .filter(
        (lead) =>
          lead.unitId === unit.id &&
          !isThere.has(unit.id) &&
          holdsPlace(lead) &&
          lead.day !== null &&
          lead.day >= today,
      )
      .map(
        (lead): PlannedJob => ({
          ...bookedJob(lead, weeks),
          unit: unit.tag,
          parts: jobsOfVisit(lead).flatMap((job) => partsOf(unit, job)),
        }),
      ),
  );
  const expected = units
    .filter(
      ({ unit, bike }) => bike !== null && !leads.some((lead) => lead.unitId === unit.id && holdsPlace(lead)),
    )
    .flatMap((one) => {
      const { unit, bike, foreseen } = one;
      const open = foreseen.filter(
        ({ standing }) =>
          !isAtHome.has(keyOf(standing)) && !leads.some((lead) => isNotWanted(lead, standing)),
      );
      const weekEnds = weeks.map(({ to }) => to);
      return expectedJobs({ foreseen: open, weekEnds, today, zone: workshop.timeZone }).map(
        ({ serviceKind, dueBy }): PlannedJob => ({
          unit: unit.tag,
          serviceKind,
          dueBy,
          isBooked: false,
          // A bike without a rider is the workshop's or the team's own: nobody has to be reminded.
          response: bike?.riderId === null ? 1 : response,
          minutes: minutesOf(one, serviceKind),
          parts: partsOf(unit, serviceKind),
        }),
      );
    });
  const jobs = [...atWork, ...booked, ...expected];
  // Their jobs take nothing of the bench.
  const kits = units.flatMap(({ unit }) =>
    atHome
      .filter(({ body }) => body.unitId === unit.id && body.pickedUp === null)
      .map(({ body }) => ({
        dueBy: weeks.map(() => 1),
        response: 1,
        parts: partsOf(unit, body.serviceKind),
      })),
  );
  const shelf = await listShelf(tx, rows);
  return {
    today,
    response,
    weeks: benchWeeks(bench, jobs, weeks),
    jobs,
    leftOut: { ...leftOutOf(units), onTheBench: there.length - atWork.length },
    parts: planParts({ jobs: [...jobs, ...kits], shelf, weeks, open: bench, today }),
  };
}

/** Nobody wants it in this service period. */
const isNotWanted = (
  lead: LeadRow,
  of: { unitId: string; serviceKind: ServiceKind; periodId: string },
): boolean =>
  lead.step === 'not-wanted' &&
  lead.unitId === of.unitId &&
  lead.wanted === of.serviceKind &&
  lead.periodId === of.periodId;

const bookedJob = ({ serviceKind, benchMinutes, day }: LeadRow, weeks: readonly Week[]) => ({
  serviceKind,
  minutes: benchMinutes,
  response: 1,
  isBooked: true,
  dueBy: weeks.map(({ to }) => (day !== null && day <= to ? 1 : 0)),
});

/** A unit of unknown history at the workshop holds the time of its largest job. */
const largestOf = ({ foreseen }: ForeseenUnit): ServiceKind | null =>
  [...foreseen].sort((a, b) => b.benchMinutes - a.benchMinutes)[0]?.standing.serviceKind ?? null;

function leftOutOf(units: readonly ForeseenUnit[]): Omit<LeftOut, 'onTheBench'> {
  const having = (state: string): number =>
    units.filter(({ foreseen }) => foreseen.some(({ standing }) => standing.state === state)).length;
  return {
    stopRiding: having('stop-riding'),
    historyUnknown: having('history-unknown'),
    boxed: units.filter(({ bike, foreseen }) => bike === null && foreseen.some(isForeseeable)).length,
  };
}
