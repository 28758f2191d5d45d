import { type Day, thousandthsOfHours } from '../../units.js';
import { daysBetween } from '../days/calendar.js';
import { isWanted } from '../states.js';
import type { ServiceKind } from '../tokens.js';
import type { Standing } from './due.js';

/** One service kind of a unit with the clocks that the job restarts by default. */
export interface Job {
  readonly standing: Standing;
  readonly restarts: readonly ServiceKind[];
}

/** The job to offer for a unit, and which wanted ones it includes. */
export interface Offer {
  readonly serviceKind: ServiceKind;
  /** The wanted kind that the offer is made for: the largest of those included, often the same. */
  readonly wanted: ServiceKind;
  /** All wanted kinds included. */
  readonly includes: readonly ServiceKind[];
}

/** *Defaults*: how near a larger job must be to be done in place of a smaller one. */
const NEAR_SHARE = 0.2;
const NEAR_DAYS = 60;

const includes = (larger: Job, smaller: Job): boolean =>
  larger !== smaller && larger.restarts.includes(smaller.standing.serviceKind);

/** When the smaller job falls due, the larger one has at most a fifth of its hours left, or 60 days. */
function fallsNear(larger: Standing, smaller: Standing, today: Day): boolean {
  if (larger.state === 'history-unknown') return false;
  const { terrainHours } = larger.interval;
  if (larger.hoursLeft !== null && terrainHours !== null) {
    const leftThen =
      thousandthsOfHours(larger.hoursLeft) - thousandthsOfHours(Math.max(0, smaller.hoursLeft ?? 0));
    if (leftThen <= thousandthsOfHours(terrainHours * NEAR_SHARE)) return true;
  }
  const [largerOn, smallerOn] = [larger.likely.p50, smaller.likely.p50];
  if (largerOn === null || smallerOn === null) return false;
  return daysBetween(smallerOn < today ? today : smallerOn, largerOn) <= NEAR_DAYS;
}

const largestFirst = (a: Job, b: Job): number =>
  b.restarts.length - a.restarts.length || (a.standing.serviceKind < b.standing.serviceKind ? -1 : 1);

/**
 * Returns what to offer for one unit: a larger job that is wanted too, or falls within 20 % or 60 days of a smaller one
 * that is, takes its place. Usually one offer; more only where no single job includes all that is wanted.
 */
export function offersFor(jobs: readonly Job[], today: Day): Offer[] {
  let open = jobs.filter(({ standing }) => isWanted(standing.state)).sort(largestFirst);
  const offers: Offer[] = [];
  for (const larger of [...jobs].sort(largestFirst)) {
    const self = open.filter((job) => job === larger);
    const smaller = open.filter((job) => includes(larger, job));
    const isNear = smaller.some((job) => fallsNear(larger.standing, job.standing, today));
    const taken = self.length > 0 || isNear ? [...self, ...smaller] : [];
    if (taken.length === 0) continue;
    offers.push({
      serviceKind: larger.standing.serviceKind,
      wanted: taken[0]!.standing.serviceKind,
      includes: taken.map((job) => job.standing.serviceKind),
    });
    open = open.filter((job) => !taken.includes(job));
  }
  return offers;
}
