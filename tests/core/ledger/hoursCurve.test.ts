import { expect, it } from 'vitest';
import type { ChargedRide } from '../../../src/core/ledger/hours.js';
import { hoursCurves } from '../../../src/core/ledger/hoursCurve.js';
import type { Period } from '../../../src/core/ledger/period.js';
import { day, instant, seconds, thousandths } from '../../../src/units.js';

const at = (text: string) => instant(Date.parse(`${text}T10:00:00Z`));
const ride = (on: string, hours: number): ChargedRide => ({
  rideId: on,
  bikeId: 'b',
  start: at(on),
  movingS: seconds(hours * 3600),
  terrainMs: thousandths(hours * 7_200_000),
});
const period = (
  periodId: string,
  from: string | null,
  to: string | null,
  rest: Partial<Period> = {},
): Period => ({
  periodId,
  start: from === null ? null : day(from),
  from: from === null ? null : at(from),
  to: to === null ? null : at(to),
  baseMovingS: seconds(0),
  baseTerrainMs: thousandths(0),
  isKnown: true,
  ...rest,
});
const RIDES = [ride('2026-01-05', 1), ride('2026-02-05', 2), ride('2026-03-05', 4)];
const NOW = at('2026-04-01');
const hoursOf = (curve: { points: readonly { movingS: number }[] }) =>
  curve.points.map(({ movingS }) => movingS / 3600);

it('grows by each ride and begins again with each service', () => {
  const periods = [period('start', '2026-01-01', '2026-02-20'), period('s1', '2026-02-20', null)];
  const curves = hoursCurves(periods, RIDES, NOW);
  expect(curves.map(hoursOf)).toEqual([
    [0, 1, 3, 3],
    [0, 4, 4],
  ]);
  expect(curves.map(({ isRunning }) => isRunning)).toEqual([false, true]);
  expect(curves[1]!.points.at(-1)).toMatchObject({ at: NOW, terrainMs: 4 * 7_200_000 });
});

it('begins with the hours that a unit came with', () => {
  const base = { baseMovingS: seconds(36_000), baseTerrainMs: thousandths(36_000_000) };
  const [curve] = hoursCurves([period('start', '2026-02-01', null, base)], RIDES, NOW);
  expect(hoursOf(curve!)).toEqual([10, 12, 16, 16]);
});

it('counts from the first ride where the history is unknown', () => {
  const periods = [period('start', null, '2026-02-20', { isKnown: false }), period('s1', '2026-02-20', null)];
  expect(hoursOf(hoursCurves(periods, RIDES, NOW)[0]!)).toEqual([0, 1, 3, 3]);
});

it('has nothing to draw of a unit that was never fitted', () => {
  expect(hoursCurves([period('start', null, null)], [], NOW)).toEqual([]);
});
