import { describe, expect, it } from 'vitest';
import { absencesOf, fleetOf, goneOn } from '../../../src/core/ledger/whereabouts.js';
import { day, instant } from '../../../src/units.js';

const ZONE = 'Europe/Lisbon';
const at = (text: string) => instant(Date.parse(text));
const fitting = (bikeId: string, from: string, to: string | null = null) => ({
  id: bikeId,
  unitId: 'u',
  bikeId,
  from: at(from),
  to: to === null ? null : at(to),
});
const bikes = new Map([
  ['race', { fleetId: 't1' }],
  ['own', { fleetId: null }],
]);

describe('the fleet of a unit', () => {
  it('is that of the bike that it is on or was on last, so that a spare in its box stays its fleet’s', () => {
    const fittings = [fitting('own', '2025-01-01T00:00:00Z', '2025-02-01T00:00:00Z')];
    const then = at('2025-06-01T12:00:00Z');
    expect(fleetOf({ memberships: [], fittings: [], bikes }, then, ZONE)).toBe(null);
    expect(fleetOf({ memberships: [], fittings, bikes }, then, ZONE)).toBe(null);
    const raced = [...fittings, fitting('race', '2025-03-01T00:00:00Z', '2025-04-01T00:00:00Z')];
    expect(fleetOf({ memberships: [], fittings: raced, bikes }, then, ZONE)).toBe('t1');
    expect(fleetOf({ memberships: [], fittings: raced, bikes }, at('2025-02-15T12:00:00Z'), ZONE)).toBe(null);
  });

  it('is the one that was said, from its day on, whatever bike it is on and in whatever order it came', () => {
    const memberships = [
      { fleetId: 't2', from: day('2025-05-01') },
      { fleetId: null, from: null },
      { fleetId: 't1', from: day('2025-03-01') },
    ];
    const of = { memberships, fittings: [fitting('race', '2025-01-01T00:00:00Z')], bikes };
    expect(fleetOf(of, at('2025-02-28T23:59:59Z'), ZONE)).toBe(null);
    expect(fleetOf(of, at('2025-03-01T00:00:00Z'), ZONE)).toBe('t1');
    expect(fleetOf(of, at('2025-05-01T12:00:00Z'), ZONE)).toBe('t2');
  });
});

describe('a unit that left', () => {
  const departures = [
    { how: 'stolen', on: day('2025-05-01') },
    { how: 'sold', on: day('2025-07-01') },
    { how: 'back', on: day('2025-06-01') },
  ] as const;

  it('is gone from its day on until it is back, in whatever order it was said', () => {
    const on = (text: string) => goneOn(departures, day(text))?.how ?? null;
    expect(['2025-04-30', '2025-05-01', '2025-06-01', '2025-07-01', '2030-01-01'].map(on)).toEqual([
      null,
      'stolen',
      null,
      'sold',
      'sold',
    ]);
  });

  it('has been away in those times', () => {
    expect(absencesOf(departures)).toEqual([
      { how: 'stolen', on: '2025-05-01', back: '2025-06-01' },
      { how: 'sold', on: '2025-07-01', back: null },
    ]);
  });
});
