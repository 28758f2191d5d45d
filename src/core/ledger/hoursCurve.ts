import type { Instant, Seconds, Thousandths } from '../../units.js';
import type { ChargedRide } from './hours.js';
import type { Period } from './period.js';

/** The hours of a service period after a ride, or where it began. */
export interface CurvePoint {
  readonly at: Instant;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

/** How the hours of one service period grew; the next service begins another. */
export interface HoursCurve {
  readonly periodId: string;
  /** Where the period's hours begin to be counted, then a point for each ride, oldest first; the last is its end or now. */
  readonly points: readonly CurvePoint[];
  readonly isRunning: boolean;
}

/** Returns how the hours of each service period grew, in their order. Shape: `charged` oldest first. */
export function hoursCurves(
  periods: readonly Period[],
  charged: readonly ChargedRide[],
  now: Instant,
): HoursCurve[] {
  return periods
    .map((period) => ({
      periodId: period.periodId,
      isRunning: period.to === null,
      points: pointsOf(period, charged, now),
    }))
    .filter(({ points }) => points.length > 1);
}

function pointsOf(period: Period, charged: readonly ChargedRide[], now: Instant): CurvePoint[] {
  // Of an unknown history the hours are those since the unit came.
  const from = period.isKnown ? period.from : null;
  const end = period.to ?? now;
  const ridden = charged.filter(({ start }) => start < end && (from === null || start >= from));
  const begin = from ?? ridden[0]?.start;
  if (begin === undefined || begin > now) return [];
  let [movingS, terrainMs]: [number, number] = [period.baseMovingS, period.baseTerrainMs];
  const point = (at: Instant): CurvePoint => ({
    at,
    movingS: movingS as Seconds,
    terrainMs: terrainMs as Thousandths,
  });
  const points = [point(begin)];
  for (const ride of ridden) {
    movingS += ride.movingS;
    terrainMs += ride.terrainMs;
    points.push(point(ride.start));
  }
  return [...points, point(end)];
}
