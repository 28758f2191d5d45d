import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import {
  carriedSeconds,
  climbChange,
  climbsRidden,
  wasHelped,
  wordOfLikeDay,
} from '../../../src/core/rides/climbWord.js';
import type { Answer } from '../../../src/core/rides/ride.js';
import type { Leg } from '../../fixtures/journey.js';
import { readLegs, switchbacks, uneven } from '../../fixtures/readJourney.js';

const down: Leg = { seconds: 300, mps: uneven(6), upMps: -1.4, turn: switchbacks(40), turnAround: 180 };
const chair: Leg = { seconds: 600, mps: 3, upMps: 0.7, turnAround: 180 };
const day: readonly Leg[] = [down, chair, down, chair, down];
const part = (answer: Answer = {}, reading: Reading = readLegs(day)) => ({ reading, answer });
const secondsOf = (stretches: readonly (readonly [number, number])[]): number =>
  stretches.reduce((sum, [from, to]) => sum + to - from, 0) / 1000;

describe('which climbs count', () => {
  it('is as likely, while nobody says otherwise', () => {
    expect(climbsRidden(part(), false)).toEqual([false, false]);
    expect(climbChange(part(), false).added).toEqual([]);
    expect(carriedSeconds(part(), false)[0]!.s).toBeGreaterThan(1150);
  });

  it('is as a person says, by stretches that need not fit to the second', () => {
    const [first, second] = readLegs(day).climbs!;
    const said = {
      climbs: {
        ridden: [[first!.fromMs + 20_000, first!.toMs + 5000] as const],
        notRidden: [[second!.fromMs, second!.toMs] as const],
      },
    };
    expect(climbsRidden(part(said), false)).toEqual([true, false]);
    const { added, left, classS } = climbChange(part(said), false);
    expect(secondsOf(added)).toBe(secondsOf(first!.moving));
    expect(secondsOf(left)).toBe(secondsOf(second!.moving));
    const ground = readLegs(day).terrain.classS.reduce((a, b) => a + b, 0);
    const climbed = first!.classS.reduce((a, b) => a + b, 0);
    expect(classS.reduce((a, b) => a + b, 0)).toBeCloseTo(ground + climbed, 6);
  });

  it('keeps a word that was given while ways up were asked about as vehicles', () => {
    expect(climbsRidden(part({ ride: { vehicle: true } }), false)).toEqual([true, true]);
  });

  it('knows a motor from the file or from the bike', () => {
    expect(wasHelped(part())).toBe(false);
    expect(wasHelped(part(), { motor: true })).toBe(true);
    expect(wasHelped(part({}, readLegs(day, { subSport: 'e_bike_mountain' })))).toBe(true);
  });
});

describe('a word on a like day', () => {
  const short: Leg = { ...chair, seconds: 240 };
  const former = readLegs([down, chair, down, short, down]).climbs!;
  const at = (i: number) => [former[i]!.fromMs, former[i]!.toMs] as const;
  const said = { ridden: [at(1)], notRidden: [at(0)] };

  it('is offered for the same ways up, in whatever order and however often', () => {
    const again = readLegs([down, short, down, chair, down, chair, down], { jitterM: 2, eleJitterM: 0.5 });
    expect(wordOfLikeDay(again.climbs!, { climbs: former, said })).toEqual([true, false, false]);
  });

  it('is not offered for another mountain', () => {
    const other = readLegs([down, { ...chair, seconds: 800 }, down, { ...chair, mps: 4.5 }, down]).climbs!;
    expect(wordOfLikeDay(other, { climbs: former, said })).toBeNull();
  });

  it('leaves open what was said both ways of such climbs', () => {
    const both = readLegs([down, chair, down, chair, down, short, down]).climbs!;
    const stretch = (i: number) => [both[i]!.fromMs, both[i]!.toMs] as const;
    const mixed = { ridden: [stretch(0), stretch(2)], notRidden: [stretch(1)] };
    expect(wordOfLikeDay(former, { climbs: both, said: mixed })).toBeNull();
    expect(wordOfLikeDay([former[1]!], { climbs: both, said: mixed })).toEqual([true]);
  });
});
