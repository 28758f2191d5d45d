/**
 * Days with exactly the figures of real lift days, as their recordings gave them: how long a lift took, how fast, how
 * high and how straight, with queues and halts; a slow lift; a road uplift of two stages with a heart that rests.
 */
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../../src/core/ground/samples/reading.js';
import { journey, type Leg, type Place, type RecordedHow, START_MS } from '../../../fixtures/journey.js';
import { readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

interface DayLeg extends Leg {
  /** Whether nobody rode then: on a lift, in a vehicle, in its queue. */
  readonly carried?: true;
}

interface LiftDay {
  readonly name: string;
  readonly laps: number;
  /** What the recordings say of one way up. Units: metres, m/s. */
  readonly upM: readonly [low: number, high: number];
  readonly mps: readonly [low: number, high: number];
  readonly straight: readonly [low: number, high: number];
  readonly up: readonly DayLeg[];
}

/** A rope bends so much about its line that chord over path is .995. Units: degrees, seconds. */
const BEND = 8.1;
const rope = (seconds: number, mps: Leg['mps'], upMps: Leg['mps']): DayLeg => ({
  ...{ seconds, mps, upMps, turnAround: 180, carried: true },
  turn: (s) => BEND * ((2 * Math.PI) / 200) * Math.cos((2 * Math.PI * s) / 200),
});
/** From one way to another after so many seconds, for so long. */
const slows = (fast: number, slow: number, from: number, seconds: number) => (s: number) =>
  s >= from && s < from + seconds ? slow : fast;
/** A step forward now and then. */
const crowd = (seconds: number): DayLeg => ({
  ...{ seconds, carried: true, mps: (s) => (s % 30 < 4 ? 0.5 : 0), turn: (s) => (s % 30 === 0 ? 25 : 0) },
});

const LIFT_M: LiftDay['upM'] = [530, 635];
const DAYS: readonly LiftDay[] = [
  {
    ...{
      name: 'a lift of 610 s at 4.6 m/s',
      laps: 5,
      upM: LIFT_M,
      mps: [4.3, 4.6],
      straight: [0.993, 0.997],
    },
    up: [rope(610, 4.6, 0.91)],
  },
  {
    ...{
      name: 'a lift of 644 s at 4.3 m/s',
      laps: 7,
      upM: LIFT_M,
      mps: [4.3, 4.6],
      straight: [0.993, 0.997],
    },
    up: [rope(644, 4.3, 0.88)],
  },
  {
    ...{ name: 'the lift with a slow stretch', laps: 6, upM: LIFT_M, mps: [2.1, 4], straight: [0.94, 0.997] },
    up: [rope(850, slows(4.4, 1.8, 300, 380), slows(0.9, 0.37, 300, 380))],
  },
  {
    ...{
      name: 'the lift with a halt on its way',
      laps: 5,
      upM: LIFT_M,
      mps: [2.1, 4],
      straight: [0.94, 0.997],
    },
    up: [rope(1100, slows(4.4, 0, 250, 480), slows(0.9, 0, 250, 480))],
  },
  {
    ...{
      name: 'the lift with a queue before it',
      laps: 6,
      upM: LIFT_M,
      mps: [2.1, 4],
      straight: [0.94, 0.999],
    },
    up: [crowd(590), rope(640, 4.4, 0.9)],
  },
  {
    ...{
      name: 'the lift with a stand at its top',
      laps: 6,
      upM: LIFT_M,
      mps: [2.1, 4],
      straight: [0.94, 0.999],
    },
    up: [rope(640, 4.4, 0.9), { ...crowd(500), turnAround: 40 }],
  },
  {
    ...{
      name: 'a slow lift, 340 m in 874 s',
      laps: 5,
      upM: [335, 345],
      mps: [1.8, 2.6],
      straight: [0.99, 1],
    },
    up: [rope(874, 2.4, 340 / 874)],
  },
  {
    ...{
      name: 'a slow lift, 340 m in 1 120 s',
      laps: 5,
      upM: [335, 345],
      mps: [1.8, 2.6],
      straight: [0.99, 1],
    },
    up: [rope(1120, 1.9, 340 / 1120)],
  },
];

const down = (metres: number): Leg => ({
  ...{ seconds: Math.round(metres / 1.5), mps: uneven(6), upMps: -1.5, turnAround: 180 },
  turn: (s) => 9 * Math.sin(s / 6),
});

const HOWS: readonly (readonly [string, RecordedHow])[] = [
  ['a device', {}],
  ['a device whose receiver jitters', { jitterM: 3, eleJitterM: 0.5 }],
  ['positions alone', { format: 'gpx', jitterM: 1.5, eleJitterM: 1 }],
];

const metresUp = (legs: readonly Leg[]): number => {
  const places = journey(legs);
  return places.at(-1)!.eleM - places[0]!.eleM;
};

/** Returns the legs of a day, each lap up and down again. */
const legsOf = ({ laps, up }: Pick<LiftDay, 'laps' | 'up'>, ridden: Partial<Leg> = {}): DayLeg[] =>
  Array.from({ length: laps }, () => [...up, { ...down(metresUp(up)), ...ridden }]).flat();

const riddenSeconds = (legs: readonly DayLeg[]): number =>
  legs.reduce((sum, { seconds, carried }) => sum + (carried ? 0 : seconds), 0);

/** What counts if somebody who was there ticks each climb in whose middle they rode. */
function tickedS({ movingS, climbs = [], start }: Reading, legs: readonly DayLeg[]): number {
  const rode = legs.flatMap(({ seconds, carried }) => Array.from({ length: seconds }, () => !carried));
  return climbs.reduce<number>((sum, { fromMs, toMs, moving, isIn }) => {
    const wasRidden = rode[Math.round((start! - START_MS + (fromMs + toMs) / 2) / 1000)] === true;
    const s = moving.reduce((all, [a, b]) => all + (b - a) / 1000, 0);
    return wasRidden === isIn ? sum : sum + (wasRidden ? s : -s);
  }, movingS);
}

/** Within 5 % and nothing asked, or asked with the true split within 10 %. */
const outcomeOf = (legs: readonly DayLeg[], how: RecordedHow): 'settled' | 'asked' | 'wrong' => {
  const reading = readLegs(legs, how);
  const truth = riddenSeconds(legs);
  if (reading.question === 'climbs')
    return Math.abs(tickedS(reading, legs) / truth - 1) <= 0.1 ? 'asked' : 'wrong';
  return reading.question === null && Math.abs(reading.movingS / truth - 1) <= 0.05 ? 'settled' : 'wrong';
};

describe.each(DAYS)('$name', ({ laps, up, ...figures }) => {
  it('has the figures of the recordings', () => {
    const way = journey(up);
    const [first, last] = [way[0]!, way.at(-1)!];
    const chordOf = (a: Place, b: Place): number => Math.hypot(b.eastM - a.eastM, b.northM - a.northM);
    const ropeway = way.filter(({ mps }) => mps >= 1);
    const path = ropeway.reduce((sum, { mps }) => sum + mps, 0);
    const ratio = chordOf(ropeway[0]!, ropeway.at(-1)!) / path;
    const inside = (value: number, [low, high]: readonly [number, number]): void => {
      expect(value).toBeGreaterThanOrEqual(low);
      expect(value).toBeLessThanOrEqual(high);
    };
    inside(last.eleM - first.eleM, figures.upM);
    inside(last.distM / last.s, figures.mps);
    inside(ratio, figures.straight);
  });

  it.each(HOWS)('is settled without a question, from %s', (_, how) => {
    expect(outcomeOf(legsOf({ laps, up }), how)).toBe('settled');
  });
});

describe('a day of road uplifts in two stages', () => {
  const rests = { cadence: 0, carried: true } as const;
  const works = {
    heart: (s: number) => 148 + 18 * Math.sin(s / 60),
    cadence: (s: number) => (s % 40 < 8 ? 60 : 0),
  };
  /** 7 to 9 m/s and .6 to .8 m/s up by road, then 2.5 to 5.4 m/s and .25 to .4 m/s up on a track. */
  const drives = ([road, roadUp, track, trackUp]: readonly [number, number, number, number]): DayLeg[] => [
    { ...rests, seconds: 150, mps: 0, heart: 92 },
    {
      ...rests,
      seconds: 330,
      mps: uneven(road),
      upMps: roadUp,
      turn: switchbacks(45),
      heart: 84,
      turnAround: 180,
    },
    { ...rests, seconds: 290, mps: uneven(track), upMps: trackUp, turn: switchbacks(50), heart: 78 },
    { ...rests, seconds: 90, mps: 0, heart: 80 },
  ];
  const STAGES = [
    [7, 0.6, 2.5, 0.25],
    [8, 0.7, 4, 0.32],
    [9, 0.8, 5.4, 0.4],
  ] as const;

  it.each(STAGES)('at %d and %d m/s, then %d and %d, is settled by a heart that rests', (...stages) => {
    const legs = legsOf({ laps: 6, up: drives(stages) }, works);
    for (const [, how] of HOWS) expect(outcomeOf(legs, how)).toBe('settled');
  });

  it.each(STAGES)(
    'at %d and %d m/s, then %d and %d, is settled or asked where no heart tells',
    (...stages) => {
      const legs = legsOf({ laps: 6, up: drives(stages) }).map(({ heart: _, cadence: __, ...leg }) => leg);
      for (const [, how] of HOWS) expect(outcomeOf(legs, how)).not.toBe('wrong');
    },
  );
});

describe('a shuttle at a rider’s pace, of which nothing recorded says who did the work', () => {
  const climb = (upMps: number, mps: number): Leg => ({
    ...{ seconds: Math.round(200 / upMps), mps: uneven(mps), upMps, turn: switchbacks(50) },
  });

  it.each([
    [0.15, 2.4],
    [0.25, 2.5],
    [0.3, 3.5],
    [0.4, 5.4],
  ])('of 200 m a lap at %d m/s upward is asked about, all or nothing', (upMps, mps) => {
    const legs = legsOf({
      laps: 6,
      up: [
        { seconds: 120, mps: 0, carried: true },
        { ...climb(upMps, mps), carried: true },
      ],
    });
    for (const [, how] of HOWS) expect(outcomeOf(legs, how)).toBe('asked');
  });

  it('is settled as ridden where a heart works all the way up', () => {
    const heart = { heart: (s: number) => 150 + 15 * Math.sin(s / 50) };
    const rest = { seconds: 120, mps: 0, heart: 95 };
    const legs = legsOf({ laps: 6, up: [rest, { ...climb(0.26, 2.6), ...heart }] }, heart);
    const reading = readLegs(legs);
    expect(reading.question).toBeNull();
    expect(Math.abs(reading.movingS / (riddenSeconds(legs) - 6 * 120) - 1)).toBeLessThan(0.05);
  });

  it('is not asked about on three laps, which many ride', () => {
    const reading = readLegs(legsOf({ laps: 3, up: [climb(0.25, 2.5)] }));
    expect(reading.question).toBeNull();
  });
});
