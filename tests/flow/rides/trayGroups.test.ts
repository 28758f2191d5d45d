import { expect, it } from 'vitest';
import { type AsksForBike, groupsOf, ridesBetween } from '../../../src/flow/rides/trayGroups.js';
import { day, instant } from '../../../src/units.js';

const row = (file: string, over: Partial<AsksForBike> = {}): AsksForBike => ({
  ...{ id: file, file, rider: 'r1', start: instant(0) },
  ...over,
});

it('rides of one folder and one rider are a group; one alone is none', () => {
  const groups = groupsOf(
    [row('a/1.fit'), row('a/2.fit'), row('a/3.fit', { rider: null }), row('b/1.fit')],
    'Europe/Lisbon',
  );
  expect(groups).toEqual([
    {
      folder: 'a',
      rider: 'r1',
      rides: [
        { id: 'a/1.fit', day: '1970-01-01' },
        { id: 'a/2.fit', day: '1970-01-01' },
      ],
    },
  ]);
});

it('days cut a group, both included, and a ride without a day is in no part of it', () => {
  const rides = [0, 1, 2].map((i) => ({ id: String(i), start: instant(i * 86_400_000 + 43_200_000) }));
  const all = [...rides, { id: 'none', start: null }];
  const of = (from: string | null, to: string | null) =>
    ridesBetween(all, { from: from === null ? null : day(from), to: to === null ? null : day(to) }, 'UTC');
  expect(of(null, null)).toEqual(['0', '1', '2', 'none']);
  expect(of('1970-01-02', null)).toEqual(['1', '2']);
  expect(of(null, '1970-01-02')).toEqual(['0', '1']);
  expect(of('1970-01-02', '1970-01-02')).toEqual(['1']);
});
