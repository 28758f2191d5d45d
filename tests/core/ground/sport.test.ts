import { describe, expect, it } from 'vitest';
import { speedsDoubtBicycle, sportVerdict } from '../../../src/core/ground/sport.js';

describe('what a file says of its sport', () => {
  // Source of the names: FIT profile, sport and sub_sport.
  it.each([
    ['cycling', null, 'bicycle'],
    ['cycling', 'generic', 'bicycle'],
    ['cycling', 'mountain', 'bicycle'],
    ['cycling', 'track_cycling', 'bicycle'],
    ['e_biking', 'e_bike_mountain', 'bicycle'],
    ['cycling', 'indoor_cycling', 'indoor-bicycle'],
    ['cycling', 'spin', 'indoor-bicycle'],
    ['cycling', 'virtual_activity', 'indoor-bicycle'],
    ['cycling', 'esport', 'indoor-bicycle'],
    ['fitness_equipment', 'indoor_cycling', 'indoor-bicycle'],
    ['training', 'spin', 'indoor-bicycle'],
    ['fitness_equipment', 'treadmill', 'other'],
    ['training', null, 'other'],
    ['running', 'trail', 'other'],
    ['generic', 'generic', 'other'],
    ['motorcycling', null, 'other'],
    ['transition', null, 'other'],
    [null, null, 'unsaid'],
  ] as const)('%s with %s is %s', (sport, subSport, verdict) => {
    expect(sportVerdict(sport, subSport)).toBe(verdict);
  });
});

describe('speeds', () => {
  const doubted = (mps: (s: number) => number, seconds = 3600): boolean => {
    const metres = Array.from({ length: seconds }, (_, s) => mps(s));
    return speedsDoubtBicycle(
      metres,
      metres.map(() => 1),
    );
  };
  // Common practice, no source: walking 1.4 m/s, running 2.5 to 4 m/s.
  it.each([
    ['a walk', (s: number) => 1.4 + 0.3 * Math.sin(s / 100)],
    ['a run', (s: number) => 3.1 + 0.8 * Math.sin(s / 200)],
    ['a motorway', () => 31],
    ['a train', (s: number) => 20 + 18 * Math.sin(s / 300)],
    ['a scooter with a motor', () => 13.5],
  ])('of %s are doubted', (_, mps) => expect(doubted(mps)).toBe(true));

  it.each([
    ['a slow trail ride', (s: number) => 2.2 + 1.2 * Math.sin(s / 40) + (s % 900 < 90 ? 4 : 0)],
    ['a road ride', (s: number) => 8 + 3 * Math.sin(s / 300)],
    ['a ride with a fast descent', (s: number) => (s < 120 ? 22 : 7)],
  ])('of %s are not', (_, mps) => expect(doubted(mps)).toBe(false));

  it('of under five minutes say nothing', () => {
    expect(doubted(() => 1.4, 299)).toBe(false);
    expect(doubted(() => 1.4, 301)).toBe(true);
    expect(speedsDoubtBicycle([], [])).toBe(false);
  });
});
