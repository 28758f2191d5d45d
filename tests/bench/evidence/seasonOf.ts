import type { RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { hoursByWeek, type RiderLog } from './ridingLogs.js';

const DAYS_A_YEAR = 365.2425;
const WEEKS_A_YEAR = 52;

interface Point {
  readonly cos: number;
  readonly sin: number;
  /** Hours of a ride week over the rider's mean. */
  readonly hours: number;
}

const meanOf = (points: readonly Point[], value: (point: Point) => number): number =>
  points.reduce((sum, point) => sum + value(point), 0) / points.length;

const pointsOf = (log: RiderLog): readonly Point[] => {
  const ridden = hoursByWeek(log).flatMap((hours, week) => {
    const angle = (2 * Math.PI * (log.first + 7 * week + 3)) / DAYS_A_YEAR;
    return hours > 0 ? [{ cos: Math.cos(angle), sin: Math.sin(angle), hours }] : [];
  });
  const mean = meanOf(ridden, ({ hours }) => hours);
  return ridden.map((point) => ({ ...point, hours: point.hours / mean }));
};

/**
 * Returns by how much ride weeks are longer at the height of the year, and in which week that is: a regression of their
 * hours, each against the rider's own mean, on a yearly wave. Every rider weighs the same. Riders of the north.
 */
export const seasonOf = (logs: readonly RiderLog[]): Pick<RidingHabits, 'seasonHours' | 'seasonPeak'> => {
  let [cosCos, cosSin, sinSin, cosHours, sinHours] = [0, 0, 0, 0, 0];
  for (const points of logs.map(pointsOf)) {
    const [cos, sin, hours] = (['cos', 'sin', 'hours'] as const).map((of) => meanOf(points, (p) => p[of]));
    cosCos += meanOf(points, (p) => (p.cos - cos!) ** 2);
    cosSin += meanOf(points, (p) => (p.cos - cos!) * (p.sin - sin!));
    sinSin += meanOf(points, (p) => (p.sin - sin!) ** 2);
    cosHours += meanOf(points, (p) => (p.cos - cos!) * (p.hours - hours!));
    sinHours += meanOf(points, (p) => (p.sin - sin!) * (p.hours - hours!));
  }
  const by = cosCos * sinSin - cosSin ** 2;
  const alongCos = (cosHours * sinSin - sinHours * cosSin) / by;
  const alongSin = (sinHours * cosCos - cosHours * cosSin) / by;
  const peak = (Math.atan2(alongSin, alongCos) / (2 * Math.PI)) * WEEKS_A_YEAR;
  return {
    seasonHours: Math.hypot(alongCos, alongSin),
    seasonPeak: (peak + WEEKS_A_YEAR) % WEEKS_A_YEAR,
  };
};
