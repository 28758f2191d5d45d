import {
  type Day,
  hoursOfThousandths,
  msOf,
  type Thousandths,
  thousandths,
  thousandthsOfHours,
} from '../../units.js';
import { addMonths } from '../days/calendar.js';
import { type ForeseenChance, monthsEnd } from '../forecast/dueChance.js';
import type { Standing } from '../ledger/due.js';
import { type JobNearness, offersFor } from '../ledger/offer.js';
import { wantsShakedown } from '../ledger/serviceKinds.js';
import type { Limit, ServiceKind } from '../tokens.js';
import { type OpenDays, openDaysBefore } from './openDays.js';

/** *Default*: services are done so many open days before a race. Common practice, no source. */
export const RACE_OPEN_DAYS = 3;

/** A race as a bike meets it. Units: moving hours. */
export interface RaceOfBike {
  readonly raceId: string;
  readonly on: Day;
  readonly practiceHours: number;
  readonly raceHours: number;
}

/** Why a service must be done before a race. */
export interface RaceReason {
  readonly serviceKind: ServiceKind;
  /** `none` where the history is unknown. */
  readonly limit: Limit;
  /** Terrain and moving hours as they would stand after the race. */
  readonly terrainHoursThen: number;
  readonly movingHoursThen: number;
  /** Of the hours that set the limit; null where none do. */
  readonly limitHours: number | null;
  /** When its months end, where they set the limit. */
  readonly monthsOn: Day | null;
}

/** A job to be done before a race. */
export interface RaceNeed {
  readonly raceId: string;
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly reasons: readonly RaceReason[];
  /** Why it takes the place of a smaller job that alone would be due; null where it is due itself. */
  readonly because: JobNearness | null;
  /** The last day to do it on; null where the workshop has no open day before. */
  readonly by: Day | null;
  readonly isLate: boolean;
  /** Damper work wants a ride before it is raced. Common practice, no source. */
  readonly wantsShakedown: boolean;
}

export interface RacesInput {
  /** All that is foreseen of one unit on the bike. */
  readonly foreseen: readonly ForeseenChance[];
  /** The bike's races that have not been, in order of date. */
  readonly races: readonly RaceOfBike[];
  /** Terrain hours a moving hour on this bike, with the unit's factor. */
  readonly weight: number;
  readonly open: OpenDays;
  readonly openDaysBefore: number;
  readonly today: Day;
}

/** Where a service kind stands while races are gone through one after the other. */
interface RaceClock {
  readonly foreseen: ForeseenChance;
  readonly terrainMs: Thousandths;
  readonly movingMs: Thousandths;
  readonly monthsOn: Day | null;
  /** False while the history is unknown. */
  readonly isKnown: boolean;
}

const clockOf = (foreseen: ForeseenChance): RaceClock => ({
  foreseen,
  terrainMs: foreseen.standing.terrainMs,
  movingMs: thousandths(msOf(foreseen.standing.movingS)),
  monthsOn: monthsEnd(foreseen.standing),
  isKnown: foreseen.standing.state !== 'history-unknown',
});

const ridden = (clock: RaceClock, race: RaceOfBike, weight: number): RaceClock => {
  const movingMs = thousandthsOfHours(race.practiceHours + race.raceHours);
  return {
    ...clock,
    terrainMs: thousandths(clock.terrainMs + movingMs * weight),
    movingMs: thousandths(clock.movingMs + movingMs),
  };
};

const isReached = (usedMs: Thousandths, limitHours: number | null): boolean =>
  limitHours !== null && usedMs >= thousandthsOfHours(limitHours);

/** Returns why the service is due by the end of the race, or null where it is not. Reached exactly counts. */
function reasonOf(clock: RaceClock, race: RaceOfBike): RaceReason | null {
  const { serviceKind, interval } = clock.foreseen.standing;
  const limit: Limit | null = !clock.isKnown
    ? 'none'
    : isReached(clock.terrainMs, interval.terrainHours)
      ? 'terrain-hours'
      : isReached(clock.movingMs, interval.movingHoursCeiling)
        ? 'moving-hours'
        : clock.monthsOn !== null && clock.monthsOn <= race.on
          ? 'months'
          : null;
  if (limit === null) return null;
  return {
    serviceKind,
    limit,
    terrainHoursThen: hoursOfThousandths(clock.terrainMs),
    movingHoursThen: hoursOfThousandths(clock.movingMs),
    limitHours:
      limit === 'terrain-hours'
        ? interval.terrainHours
        : limit === 'moving-hours'
          ? interval.movingHoursCeiling
          : null,
    monthsOn: limit === 'months' ? clock.monthsOn : null,
  };
}

/** As the offer takes it: what the race calls for is due, the rest stands where it would after the race. */
function jobThen(clock: RaceClock, reason: RaceReason | null) {
  const { standing, restarts } = clock.foreseen;
  const { terrainHours } = standing.interval;
  const then: Standing = {
    ...standing,
    state: reason ? 'due' : 'in-time',
    hoursLeft:
      terrainHours === null
        ? null
        : hoursOfThousandths(thousandths(thousandthsOfHours(terrainHours) - clock.terrainMs)),
  };
  return { standing: then, restarts };
}

/** Begins the clocks anew that a job restarts: what is ridden at the race counts after it. */
function serviced(clock: RaceClock, by: Day, race: RaceOfBike, weight: number): RaceClock {
  const { months } = clock.foreseen.standing.interval;
  const fresh = {
    ...clock,
    terrainMs: thousandths(0),
    movingMs: thousandths(0),
    monthsOn: months === null ? null : addMonths(by, months),
    isKnown: true,
  };
  return ridden(fresh, race, weight);
}

/**
 * Returns what one unit needs before each race: whatever falls due by its end, practice included, joined into jobs as
 * they would be offered. Only practice and race hours are added to those ridden, race after race; a service that one
 * race calls for is taken as done before the next. A unit with a crash mark needs to be seen, not serviced: nothing.
 */
export function raceNeeds(input: RacesInput): RaceNeed[] {
  const { foreseen, races, weight, open, today } = input;
  if (foreseen.some(({ standing }) => standing.state === 'stop-riding')) return [];
  let clocks = foreseen.map(clockOf);
  const needs: RaceNeed[] = [];
  for (const race of races) {
    clocks = clocks.map((clock) => ridden(clock, race, weight));
    const reasons = clocks.map((clock) => reasonOf(clock, race));
    const jobs = clocks.map((clock, i) => jobThen(clock, reasons[i]!));
    const by = openDaysBefore(open, race.on, input.openDaysBefore);
    for (const offer of offersFor(jobs, today)) {
      const { restarts } = jobs.find(({ standing }) => standing.serviceKind === offer.serviceKind)!;
      needs.push({
        raceId: race.raceId,
        unitId: jobs[0]!.standing.unitId,
        serviceKind: offer.serviceKind,
        reasons: reasons.filter(
          (reason) => reason !== null && offer.includes.includes(reason.serviceKind),
        ) as RaceReason[],
        because: offer.because,
        by,
        isLate: by === null || by < today,
        wantsShakedown: wantsShakedown(offer.serviceKind, restarts),
      });
      const restarted = new Set([offer.serviceKind, ...restarts]);
      clocks = clocks.map((clock) =>
        restarted.has(clock.foreseen.standing.serviceKind)
          ? serviced(clock, by ?? today, race, weight)
          : clock,
      );
    }
  }
  return needs;
}
