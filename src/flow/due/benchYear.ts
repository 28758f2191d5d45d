import { dayOf, startOfDay } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import {
  type ClockRead,
  groupOf,
  type ServicedUnit,
  VISIT_GROUPS,
  type VisitGroup,
} from '../../core/ledger/benchYear.js';
import type { Fact } from '../../core/ledger/facts.js';
import { hoursIn } from '../../core/ledger/hours.js';
import { type Interval, intervalFor } from '../../core/ledger/interval.js';
import { periodsOf } from '../../core/ledger/period.js';
import { fleetOf } from '../../core/ledger/whereabouts.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths, type Instant, instant } from '../../units.js';
import { findWorkshop, hasBegun, listAddedKinds, listIntervalRules } from '../settings.js';
import { getUnitLedger, type UnitLedger } from '../unitLedger.js';
import { type AllCharged, listAllCharged } from './listCharged.js';

export interface BenchYear {
  /** Null where reminders have not begun, or rest. */
  readonly begunOn: Day | null;
  /** All that was ever done here, the oldest first. */
  readonly visits: readonly ServicedUnit[];
  readonly groups: Readonly<Record<VisitGroup, readonly ServicedUnit[]>>;
  /** Units over their interval that have not come yet. */
  readonly notCome: number;
}

/** Returns what was done at the bench, each with its hours against the interval as it is set now. */
export async function getBenchYear(tx: Tx, now: Instant): Promise<BenchYear> {
  const { timeZone: zone, ...workshop } = (await findWorkshop(tx))!.body;
  const today = dayOf(now, zone);
  const begunOn = hasBegun({ timeZone: zone, ...workshop }, today) ? workshop.remindersFrom! : null;
  const units = new Set((await tx.facts.list('unit')).map(({ entityId }) => entityId));
  const here = (await tx.facts.list('service')).filter(
    ({ body }) => body.by === 'here' && body.on <= today && units.has(body.unitId),
  );
  const visits: ServicedUnit[] = [];
  for (const [unitId, done] of groupBy(here, ({ body }) => body.unitId)) {
    const ledger = await getUnitLedger(tx, unitId, zone);
    const read = await clockReader(tx, ledger, now, begunOn);
    for (const [on, ofDay] of groupBy(done, ({ body }) => body.on))
      visits.push(visitOf(unitId, on, ofDay, read(on, restartedBy(ledger, on))));
  }
  visits.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.unitId < b.unitId ? -1 : 1));
  const groups = Object.fromEntries(
    VISIT_GROUPS.map((group) => [group, visits.filter((visit) => groupOf(visit, begunOn) === group)]),
  ) as Record<VisitGroup, ServicedUnit[]>;
  const notCome = (await tx.standings.listUnitsIn(['over-interval'])).length;
  return { begunOn, visits, groups, notCome };
}

type Read = Pick<ServicedUnit, 'clock' | 'isKnown' | 'wasUp'>;

function visitOf(unitId: string, on: Day, services: readonly Fact<'service'>[], read: Read): ServicedUnit {
  const rings = services.map(({ body }) => body.findings?.foamRings).findLast((look) => look !== undefined);
  return {
    ...{ unitId, on, ...read },
    serviceKinds: [...new Set(services.map(({ body }) => body.serviceKind))],
    isDark: rings === undefined ? null : rings === 'dark',
  };
}

const restartedBy = ({ services }: UnitLedger, on: Day): ServiceKind[] => [
  ...new Set(
    services.filter((one) => one.on === on && one.by === 'here').flatMap(({ restarts }) => restarts),
  ),
];

/** Returns what tells how far the clocks of a unit had run when a day's services restarted them. */
async function clockReader(
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  begunOn: Day | null,
): Promise<(on: Day, serviceKinds: readonly ServiceKind[]) => Read> {
  const { unit, fittings, services, zone } = ledger;
  const rules = await listIntervalRules(tx, [unit.id]);
  const added = await listAddedKinds(tx);
  const { charged } = await listAllCharged(tx, ledger, now);
  const begunAt = begunOn === null ? null : startOfDay(begunOn, zone);
  return (on, serviceKinds) => {
    const at = startOfDay(on, zone);
    const fleetId = fleetOf(ledger, at, zone);
    const ended = serviceKinds.flatMap((serviceKind) =>
      periodsOf({ unit, fittings, services, serviceKind, today: dayOf(now, zone), zone })
        // The second service of a day ends a period in which nothing can have been ridden.
        .filter(({ from, to, isKnown }) => to === at && from !== to && isKnown)
        .map((period) => ({
          period,
          serviceKind,
          interval: intervalFor(unit, serviceKind, fleetId, rules, on, added),
        })),
    );
    const readAt = (until: Instant): ClockRead[] =>
      ended.flatMap(({ period, serviceKind, interval }) => {
        if (interval === null || (period.from ?? until) > until) return [];
        const to = instant(Math.min(period.to!, until));
        return clockOf(serviceKind, hoursIn({ ...period, to }, charged), interval);
      });
    return {
      clock: furthest(readAt(at)),
      isKnown: ended.length > 0,
      wasUp: begunAt !== null && begunAt < at && (furthest(readAt(begunAt))?.share ?? 0) >= 1,
    };
  };
}

/** Of a clock on which nothing was counted the hours are not known: no unit comes to a service unridden. */
function clockOf(
  serviceKind: ServiceKind,
  { movingS, terrainMs }: Pick<AllCharged['charged'][number], 'movingS' | 'terrainMs'>,
  { terrainHours: most, movingHoursCeiling: ceiling }: Interval,
): ClockRead[] {
  const [terrainHours, movingHours] = [hoursOfThousandths(terrainMs), hoursOfSeconds(movingS)];
  if (terrainHours === 0 && movingHours === 0) return [];
  const read = { serviceKind, terrainHours, movingHours };
  return [
    ...(most === null
      ? []
      : [{ ...read, limit: 'terrain-hours' as const, limitHours: most, share: terrainHours / most }]),
    ...(ceiling === null
      ? []
      : [{ ...read, limit: 'moving-hours' as const, limitHours: ceiling, share: movingHours / ceiling }]),
  ];
}

const furthest = (clocks: readonly ClockRead[]): ClockRead | null =>
  clocks.reduce<ClockRead | null>(
    (most, one) => (most !== null && most.share >= one.share ? most : one),
    null,
  );
