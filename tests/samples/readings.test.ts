import { describe, expect, it } from 'vitest';
import { makeScenario } from '../../samples/scenario.js';
import { seasonOf } from '../../samples/season.js';
import { type ReadingOutcome, readRecording } from '../../src/core/ground/readRecording.js';
import { DEFAULT_WEIGHTS, priorOf, severityOf, terrainOf } from '../../src/core/ledger/weight.js';
import type { BikeType } from '../../src/core/tokens.js';
import { readContent } from '../../src/files/readFile.js';
import { instant } from '../../src/units.js';

const TODAY = '2025-06-20';
const NOW = instant(Date.parse(`${TODAY}T08:00:00Z`));
const scenario = makeScenario(TODAY);
const typeOf = new Map(scenario.document.bikes.map((bike) => [bike.id, bike.type]));

const outcomesOf = (file: { path: string; bytes(): Uint8Array }): ReadingOutcome[] => {
  const content = readContent(file.bytes(), file.path);
  if ('problem' in content) return [content];
  return content.recordings.map((recording) => readRecording(recording, { now: NOW }));
};

const readingOf = (file: { path: string; bytes(): Uint8Array }) => {
  const outcomes = outcomesOf(file);
  expect(outcomes, file.path).toHaveLength(1);
  const [outcome] = outcomes;
  if (!outcome || 'problem' in outcome) throw new Error(`${file.path}: ${outcome?.problem.message}`);
  return outcome.readings[0]!;
};

const read = seasonOf(TODAY).map((ride) => {
  const reading = readingOf(ride);
  const prior = priorOf(reading.subSport, typeOf.get(ride.bike) as BikeType);
  const { weight } = terrainOf(reading.terrain, reading.movingS, { prior, weights: DEFAULT_WEIGHTS });
  return { ride, reading, weight, severity: severityOf(reading.terrain, prior) };
});

describe('rides of the season, read as any file is', () => {
  it('raise no question and no doubt', () => {
    for (const { ride, reading } of read) {
      expect([reading.question, reading.damage, reading.notes], ride.path).toEqual([null, null, []]);
    }
  });

  it('have the moving time that was truly ridden, within 1 %', () => {
    for (const { ride, reading } of read) {
      expect(Math.abs(reading.movingS / ride.ridden.movingS - 1), ride.path).toBeLessThan(0.01);
    }
  });

  it('have the distance that was truly gone, within 1 %, lifts and all', () => {
    for (const { ride, reading } of read) {
      if (reading.leftOut.length > 0) continue;
      expect(Math.abs(reading.distanceM / ride.ridden.distM.at(-1)! - 1), ride.path).toBeLessThan(0.01);
    }
  });

  // What ground weighs is common practice without a source; the figures are those that the demo is planned with.
  it.each([
    ['b2', 'road', 0.5, 0.6],
    ['b3', 'gravel', 0.58, 0.72],
    ['b4', 'trail', 0.9, 1.15],
    ['b6', 'half rough', 0.9, 1.25],
    ['b5', 'rough runs at the park', 1.6, 2.05],
  ])('weigh on bike %s (%s) between %f and %f', (bike, _, low, high) => {
    const weights = read.filter(({ ride }) => ride.bike === bike).map(({ weight }) => weight);
    expect(weights.length).toBeGreaterThan(3);
    expect(Math.min(...weights)).toBeGreaterThan(low);
    expect(Math.max(...weights)).toBeLessThan(high);
  });

  it('come to the terrain hours that the services are placed by, within 4 % a bike', () => {
    for (const bike of typeOf.keys()) {
      const own = read.filter(({ ride }) => ride.bike === bike);
      if (own.length === 0) continue;
      const found = own.reduce((sum, { reading, weight }) => sum + (reading.movingS * weight) / 3600, 0);
      const planned = own.reduce((sum, { ride }) => sum + ride.terrainHours, 0);
      expect(Math.abs(found / planned - 1), bike).toBeLessThan(0.04);
    }
  });

  it('have the landings that the recorder of one rider felt, and none recorded by others', () => {
    for (const { ride, reading } of read) {
      const { landings } = reading.terrain;
      if (ride.bike === 'b5') expect(landings?.count, ride.path).toBeGreaterThan(100);
      else if (ride.bike === 'b4') expect(landings, ride.path).toBeDefined();
      else expect(landings, ride.path).toBeUndefined();
    }
  });

  it('leave the lifts of a park day out, near all of them and nothing else', () => {
    const liftS = (13 * 1150) / 2.75;
    for (const { ride, reading } of read) {
      if (ride.bike !== 'b5') expect(reading.leftOut, ride.path).toEqual([]);
      else {
        expect(reading.leftOut.map((part) => part.code)).toEqual(['lift']);
        expect(Math.abs(reading.leftOut[0]!.s / liftS - 1), ride.path).toBeLessThan(0.03);
      }
    }
  });
});

describe('odd files', () => {
  const odd = new Map(scenario.rides.flatMap((file) => (file.shows ? [[file.shows, file] as const] : [])));
  const fileOf = (shows: string) => {
    const file = odd.get(shows);
    if (!file) throw new Error(`no file shows ${shows}`);
    return file;
  };

  it.each(['no-times', 'clock-unset', 'clock-future', 'sport-unclear', 'vehicle', 'climbs'])(
    'ask %s',
    (code) => {
      expect(readingOf(fileOf(code)).question).toBe(code);
    },
  );

  it.each(['cut-off', 'checksum'])('count though damaged: %s', (code) => {
    const reading = readingOf(fileOf(code));
    expect(reading.damage).toBe(code);
    expect(reading.movingS).toBeGreaterThan(1800);
  });

  it.each(['other-sport', 'not-an-activity', 'no-track'])('are no ride: %s', (code) => {
    expect(outcomesOf(fileOf(code))).toMatchObject([{ outcome: 'no-ride', problem: { code } }]);
  });

  it.each(['not-fit-or-gpx', 'empty', 'unreadable', 'xml-entities'])('are set aside: %s', (code) => {
    expect(outcomesOf(fileOf(code))).toMatchObject([{ outcome: 'set-aside', problem: { code } }]);
  });

  it('offer each drive of the van apart from what was ridden', () => {
    const reading = readingOf(fileOf('climbs'));
    const vanS = (3 * 6600) / 8;
    const climbS = reading
      .climbs!.flatMap(({ moving }) => moving)
      .reduce((s, [from, to]) => s + (to - from) / 1000, 0);
    // The split that a person can tick is the true one within a tenth.
    expect(Math.abs(climbS / vanS - 1)).toBeLessThan(0.1);
  });

  it('are indoors where no ground is', () => {
    expect(readingOf(fileOf('indoor')).indoor).toBe(true);
  });
});
