/** What rides look like. What names of profiles stand for: common practice, no source. */
import { expect, it } from 'vitest';
import { likelyBike, type RidesAlike } from '../../../src/core/rides/likelyBike.js';
import { instant } from '../../../src/units.js';
import { at, bikeOf, knowledge } from '../../fixtures/readings.js';

const START = at('2026-05-10T09:00:00Z');
const rides = (rest: Partial<RidesAlike> = {}): RidesAlike => ({
  ...{ profile: null, subSport: null, severities: [], starts: [START] },
  ...rest,
});
const bikes = (...all: Parameters<typeof knowledge>[0] & object) => knowledge(all).listBikesOf('r1');
const green = { bike: { ...bikeOf('b1'), name: 'Green Hopper' } };
const red = { bike: { ...bikeOf('b2', 'gravity'), name: 'Red' } };

it('goes by the name of a bike in the profile, then by the kind of riding, then by the ground', () => {
  const both = bikes(green, red);
  expect(likelyBike(rides({ profile: 'Hopper', subSport: 'downhill' }), both)).toBe('b1');
  expect(likelyBike(rides({ profile: 'DOWNHILL MTB', subSport: 'mountain' }), both)).toBe('b2');
  expect(likelyBike(rides({ profile: 'MOUNTAIN' }), both)).toBe('b1');
  expect(likelyBike(rides({ subSport: 'enduro' }), both)).toBe('b2');
  expect(likelyBike(rides({ severities: [1.5, 1.3, 1.6] }), both)).toBe('b2');
  expect(likelyBike(rides({ severities: [0.9, 3, 0.8] }), both)).toBe('b1');
});

it('says nothing where two are as likely, and only what had suspension then comes in question', () => {
  const twins = bikes(green, { bike: bikeOf('b3') });
  expect(likelyBike(rides({ profile: 'MOUNTAIN', severities: [1] }), twins)).toBeNull();
  expect(likelyBike(rides(), bikes(green, red))).toBeNull();
  const later = { ...red, fitted: [{ from: instant(START + 1), to: null }] };
  expect(likelyBike(rides({ profile: 'DOWNHILL' }), bikes(green, later))).toBe('b1');
  expect(likelyBike(rides(), bikes())).toBeNull();
});
