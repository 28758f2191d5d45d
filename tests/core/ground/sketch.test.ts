import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { Plane } from '../../../src/core/ground/samples/ellipsoid.js';
import { sameTrack, sketchOf } from '../../../src/core/ground/sketch.js';
import { journey, type Leg, type Place } from '../../fixtures/journey.js';

const plane = (places: readonly Place[]): Plane => ({
  eastM: Float64Array.from(places, ({ eastM }) => eastM),
  northM: Float64Array.from(places, ({ northM }) => northM),
});
/** A closed loop of so many metres in this many corners, each rounded. */
const loop = (corners: number, metres: number, mps = 5, hand = 1): Place[] => {
  const side: Leg = {
    seconds: Math.round(metres / corners / mps),
    mps,
    turn: (s) => (s < 10 ? (hand * 36) / corners : 0),
  };
  return journey(Array.from({ length: corners }, () => side));
};
const wandering = (phase: number, mps = 5): Place[] =>
  journey([{ seconds: 2400, mps, turn: (s) => 2.5 * Math.sin(s / 90 + phase) + 1.5 * Math.sin(s / 37) }]);
const reversed = (places: readonly Place[]): Place[] => [...places].reverse();
const jittered = (places: readonly Place[], size: number): Place[] => {
  const random = seededRandom(`sketch ${size}`);
  const normal = () => size * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return places.map((place) => ({
    ...place,
    eastM: place.eastM + normal(),
    northM: place.northM + normal(),
  }));
};
const matches = (a: readonly Place[], b: readonly Place[]): boolean => {
  const [one, other] = [sketchOf(plane(a)), sketchOf(plane(b))];
  if (one === null || other === null) throw new Error('no sketch');
  return sameTrack(one, other);
};

const WAYS: readonly (readonly [string, Place[]])[] = [
  ['a triangle of 3 km', loop(3, 3000)],
  ['a round of 8 km', loop(90, 8000)],
  ['a way that wanders', wandering(0)],
  ['the same at walking pace', wandering(0, 1.5)],
];

describe.each(WAYS)('the sketch of %s', (_, places) => {
  it.each([3, 5, 8])('survives sampling every %i s', (n) => {
    expect(
      matches(
        places,
        places.filter((_, i) => i % n === 0),
      ),
    ).toBe(true);
  });
  it.each([3, 4, 5])('survives noise of %i m', (size) => {
    expect(matches(places, jittered(places, size))).toBe(true);
  });
  it('survives a pause, recorded or not', () => {
    const middle = Math.floor(places.length / 2);
    const halt = jittered(
      Array.from({ length: 900 }, () => places[middle]!),
      3,
    );
    expect(matches(places, [...places.slice(0, middle), ...halt, ...places.slice(middle)])).toBe(true);
    expect(matches(places, [...places.slice(0, middle), ...places.slice(middle + 8)])).toBe(true);
  });
  it('is another in the other direction', () => {
    expect(matches(places, reversed(places))).toBe(false);
  });
  it('is another than those of the other ways', () => {
    for (const [, other] of WAYS)
      if (other.length !== places.length) expect(matches(places, other)).toBe(false);
  });
  it('stays when the whole is turned and moved, so it holds no place', () => {
    const turned = places.map((place) => ({
      ...place,
      eastM: 90_000 + place.northM,
      northM: -40_000 - place.eastM,
    }));
    expect(matches(places, turned)).toBe(true);
  });
});

describe('sketches', () => {
  it('tell ways of equal length apart', () => {
    const ways = [
      loop(3, 6000),
      loop(4, 6000),
      loop(90, 6000),
      loop(3, 6000, 5, -1),
      wandering(1, 2.5),
      wandering(3, 2.5),
    ];
    ways.forEach((a, i) => {
      for (const b of ways.slice(i + 1)) expect(matches(a, b)).toBe(false);
    });
  });

  it('cannot tell the direction on a road ridden there and back', () => {
    const out = wandering(0).slice(0, 1200);
    const thereAndBack = [...out, ...reversed(out)];
    expect(matches(thereAndBack, reversed(thereAndBack))).toBe(true);
  });

  it('are none without positions, in one place or on a small pitch', () => {
    const none = new Float64Array(900).fill(Number.NaN);
    expect(sketchOf({ eastM: none, northM: none })).toBeNull();
    expect(sketchOf(plane(jittered(journey([{ seconds: 900, mps: 0 }]), 4)))).toBeNull();
    expect(sketchOf(plane(loop(4, 300)))).toBeNull();
  });

  it('of another make never match', () => {
    expect(sameTrack([1, 2, 3], [1, 2, 3])).toBe(false);
  });
});
