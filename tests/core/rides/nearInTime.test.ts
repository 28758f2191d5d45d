import { expect, test } from 'vitest';
import { nearSets, type PlacedReading } from '../../../src/core/rides/nearInTime.js';
import { HOUR_MS, instant } from '../../../src/units.js';

const place = (
  readingId: string,
  startHour: number | null,
  riderId: string | null = 'r1',
  bikeId: string | null = null,
): PlacedReading => ({
  readingId,
  riderId,
  bikeId,
  start: startHour === null ? null : instant(startHour * HOUR_MS),
  end: startHour === null ? null : instant((startHour + 1) * HOUR_MS),
});
const setsOf = (...places: PlacedReading[]): string[] =>
  nearSets(places)
    .map((set) => [...set].sort().join(' '))
    .sort();

test('two of one rider within the largest shift of a clock belong together, and so on from each to the next', () => {
  expect(setsOf(place('a', 0), place('b', 15), place('c', 30), place('d', 46))).toEqual(['a b c', 'd']);
});

test('the order does not matter, and riders are apart unless they share a bike', () => {
  const places = [
    place('a', 0, 'r1', 'b1'),
    place('b', 2, 'r2'),
    place('c', 3, null, 'b1'),
    place('d', 4, 'r2', 'b2'),
  ];
  expect(setsOf(...places)).toEqual(['a c', 'b d']);
  expect(setsOf(...places.toReversed())).toEqual(['a c', 'b d']);
});

test('a long recording reaches as far as it lasts', () => {
  const long = { ...place('long', 0), end: instant(40 * HOUR_MS) };
  expect(setsOf(long, place('a', 1), place('b', 39))).toEqual(['a b long']);
});

test('what has no time, and what is nobody’s, stands by itself', () => {
  expect(setsOf(place('a', null), place('b', null), place('c', 0, null), place('d', 0, null))).toEqual([
    'a',
    'b',
    'c',
    'd',
  ]);
});
