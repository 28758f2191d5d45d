import { dayOf } from '../../core/days/calendar.js';
import { type ChargedRide, type Hours, hoursIn } from '../../core/ledger/hours.js';
import { type Period, periodsOf } from '../../core/ledger/period.js';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { HOUR_SOURCES, type HourSource, type ServiceKind } from '../../core/tokens.js';
import type { RideHoursRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, instant, seconds, thousandths } from '../../units.js';
import { listAddedKinds } from '../settings.js';
import type { UnitLedger } from '../unitLedger.js';
import { type AllCharged, listAllCharged } from './listCharged.js';

/** One service period of a unit with what was ridden in it. */
export interface PeriodHours extends Hours {
  readonly serviceKind: ServiceKind;
  readonly period: Period;
  /** The day of the service that ended it; null while it runs. */
  readonly to: Day | null;
  /** What came with the unit is in none of them. */
  readonly sources: Readonly<Record<HourSource, Hours>>;
}

/** Returns every service period of a unit, by service kind, oldest first. */
export const listPeriodHours = (tx: Tx, ledger: UnitLedger, now: Instant): Promise<PeriodHours[]> =>
  listHours(tx, ledger, now, () => true);

/** Returns the service periods of a unit that are running, by service kind. Shape: `known` reaches back to all of them. */
export const listRunningHours = (
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  known?: AllCharged,
): Promise<PeriodHours[]> => listHours(tx, ledger, now, ({ to }) => to === null, known);

async function listHours(
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  isWanted: (period: Period) => boolean,
  known?: AllCharged,
): Promise<PeriodHours[]> {
  const { unit, fittings, services, zone } = ledger;
  const today = dayOf(now, zone);
  const wanted = serviceKindsOf(unit, await listAddedKinds(tx)).flatMap(({ name: serviceKind }) =>
    periodsOf({ unit, fittings, services, serviceKind, today, zone })
      .filter(isWanted)
      // Of an unknown history the hours are those since the unit came.
      .map((period) => ({
        serviceKind,
        period,
        counted: period.isKnown ? period : { ...period, from: null },
      })),
  );
  const since = instant(Math.min(...wanted.map(({ counted }) => counted.from ?? 0)));
  const { charged, rides } = known ?? (await listAllCharged(tx, ledger, now, since));
  const bySource = new Map(HOUR_SOURCES.map((source) => [source, [] as ChargedRide[]]));
  for (const one of charged) bySource.get(sourceOf(one, rides.get(one.rideId)))!.push(one);
  return wanted.map(({ serviceKind, period, counted }) => ({
    serviceKind,
    period,
    to: period.to === null ? null : dayOf(period.to, zone),
    ...hoursIn(counted, charged),
    sources: {
      recorded: riddenIn(counted, bySource.get('recorded')!),
      'by-hand': riddenIn(counted, bySource.get('by-hand')!),
      unrecorded: riddenIn(counted, bySource.get('unrecorded')!),
      declared: riddenIn(counted, bySource.get('declared')!),
    },
  }));
}

/** What went unrecorded, or is declared, is no ride. */
function sourceOf({ isDeclared }: ChargedRide, ride: RideHoursRow | undefined): HourSource {
  if (isDeclared) return 'declared';
  if (ride === undefined) return 'unrecorded';
  return ride.source === 'hand' ? 'by-hand' : 'recorded';
}

/** What a period began with came with the unit, and was not ridden in it. */
const riddenIn = (period: Period, charged: readonly ChargedRide[]): Hours =>
  hoursIn({ ...period, baseMovingS: seconds(0), baseTerrainMs: thousandths(0) }, charged);
