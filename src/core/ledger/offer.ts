/** Which jobs a unit is offered for one visit. Source of its rules: common practice. */
import { type Day, hoursOfSeconds, hoursOfThousandths, thousandthsOfHours } from '../../units.js';
import { daysBetween } from '../days/calendar.js';
import { isWanted } from '../states.js';
import type { ServiceKind } from '../tokens.js';
import type { Standing } from './due.js';

/** One service kind of a unit with the clocks that the job restarts by default. */
export interface Job {
  readonly standing: Standing;
  readonly restarts: readonly ServiceKind[];
}

/** One job to offer for a unit, and which wanted ones it includes. */
export interface Offer {
  readonly serviceKind: ServiceKind;
  /** The wanted kind that the offer is made for: the largest of those included, often the same. */
  readonly wanted: ServiceKind;
  /** All wanted kinds included. */
  readonly includes: readonly ServiceKind[];
  /** Why it takes the place of a smaller job that alone is wanted; null where it is wanted itself. */
  readonly because: JobNearness | null;
}

/** Of a larger job, on the day on which the smaller falls due. Units: hours. */
export interface JobNearness {
  readonly hoursLeft: number;
  readonly intervalHours: number;
  readonly limit: 'terrain-hours' | 'moving-hours';
}

/** *Default*: the share of its hours that a larger job may have left to be done in place of a smaller one. */
const NEAR_SHARE = 0.2;

const includes = (larger: Job, smaller: Job): boolean =>
  larger !== smaller && larger.restarts.includes(smaller.standing.serviceKind);

/** Terrain hours a moving hour, as ridden in this period; one where nothing was ridden. */
const groundOf = ({ terrainMs, movingS }: Standing): number =>
  movingS === 0 ? 1 : hoursOfThousandths(terrainMs) / hoursOfSeconds(movingS);

const movingLeft = ({ interval, movingS }: Standing): number | null =>
  interval.movingHoursCeiling === null ? null : interval.movingHoursCeiling - hoursOfSeconds(movingS);

/**
 * Returns the terrain hours that the larger job's clock runs on until the smaller one falls due, whichever limit ends it.
 * A job that is due runs on no further. Of months, the larger one's own likely date says how much of its hours go by.
 */
function hoursUntilDue(larger: Standing, smaller: Standing, today: Day): number {
  if (smaller.state !== 'coming-up') return 0;
  if (smaller.limit === 'moving-hours') return Math.max(0, (movingLeft(smaller) ?? 0) * groundOf(larger));
  if (smaller.limit !== 'months') return Math.max(0, smaller.hoursLeft ?? 0);
  const [dueOn, reachedOn] = [smaller.likely.p50, larger.likely.p50];
  if (dueOn === null || reachedOn === null || larger.limit === 'months' || larger.hoursLeft === null)
    return 0;
  const days = daysBetween(today, reachedOn);
  return days <= 0 ? 0 : larger.hoursLeft * Math.min(1, Math.max(0, daysBetween(today, dueOn) / days));
}

/** Whether the larger job has at most a fifth of its hours left when the smaller falls due; months do not count. */
function nearnessOf({ standing: larger }: Job, { standing: smaller }: Job, today: Day): JobNearness | null {
  if (larger.state === 'history-unknown') return null;
  const used = hoursUntilDue(larger, smaller, today);
  const { terrainHours, movingHoursCeiling } = larger.interval;
  const moving = movingLeft(larger);
  const sides: JobNearness[] = [];
  if (terrainHours !== null && larger.hoursLeft !== null)
    sides.push({ hoursLeft: larger.hoursLeft - used, intervalHours: terrainHours, limit: 'terrain-hours' });
  if (movingHoursCeiling !== null && moving !== null)
    sides.push({
      hoursLeft: moving - used / (groundOf(larger) || 1),
      intervalHours: movingHoursCeiling,
      limit: 'moving-hours',
    });
  return sides.find(({ hoursLeft, intervalHours }) => isWithin(hoursLeft, intervalHours)) ?? null;
}

/** Compared in whole thousandths of a second, so that exactly a fifth is a fifth. */
const isWithin = (hoursLeft: number, intervalHours: number): boolean =>
  thousandthsOfHours(hoursLeft) <= thousandthsOfHours(intervalHours * NEAR_SHARE);

const largestFirst = (a: Job, b: Job): number =>
  b.restarts.length - a.restarts.length || (a.standing.serviceKind < b.standing.serviceKind ? -1 : 1);

/** A job that is nearly due joins a visit that another job makes. */
function joins({ standing }: Job): boolean {
  if (standing.state !== 'in-time') return false;
  const { terrainHours } = standing.interval;
  return terrainHours !== null && standing.hoursLeft !== null && isWithin(standing.hoursLeft, terrainHours);
}

/**
 * Returns the jobs to offer for one visit of a unit, the largest first; none where nothing is wanted. A larger job takes
 * the place of a smaller one where it is wanted too, or nearly due when the smaller falls due. Jobs of which none includes
 * another stand beside each other, and what is nearly due joins them.
 */
export function offersFor(jobs: readonly Job[], today: Day): Offer[] {
  const bySize = [...jobs].sort(largestFirst);
  const offers: Offer[] = [];
  const cover = (wanted: readonly Job[]): void => {
    let open = wanted.filter(
      ({ standing }) => !offers.some((offer) => offer.includes.includes(standing.serviceKind)),
    );
    for (const larger of bySize) {
      const self = open.filter((job) => job === larger);
      const smaller = open.filter((job) => includes(larger, job));
      const near = self.length > 0 ? null : firstOf(smaller, (job) => nearnessOf(larger, job, today));
      const taken = self.length > 0 || near !== null ? [...self, ...smaller] : [];
      if (taken.length === 0) continue;
      offers.push({
        serviceKind: larger.standing.serviceKind,
        wanted: taken[0]!.standing.serviceKind,
        includes: taken.map((job) => job.standing.serviceKind),
        because: near,
      });
      open = open.filter((job) => !taken.includes(job));
    }
  };
  cover(bySize.filter(({ standing }) => isWanted(standing.state)));
  if (offers.length === 0) return offers;
  const done = new Set(
    bySize
      .filter(({ standing }) => offers.some(({ serviceKind }) => serviceKind === standing.serviceKind))
      .flatMap(({ standing, restarts }) => [standing.serviceKind, ...restarts]),
  );
  const beside = bySize.filter((job) => joins(job) && !done.has(job.standing.serviceKind));
  cover(beside.filter((job) => !beside.some((other) => includes(other, job))));
  return offers;
}

function firstOf<T, R>(list: readonly T[], of: (one: T) => R | null): R | null {
  for (const one of list) {
    const found = of(one);
    if (found !== null) return found;
  }
  return null;
}
