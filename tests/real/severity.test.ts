import { beforeAll, describe, expect } from 'vitest';
import { explainWeight } from '../../src/core/ledger/explain.js';
import { ridesIn } from '../bench/evidence/folderRides.js';
import { inSteps, noisy, type Perturbation, sampledEvery } from '../bench/evidence/perturbations.js';
import { LABELLED, readingOf, recordingOf, throughGpx, weighed } from '../bench/evidence/rideSet.js';
import { isMatched, labelledPieces, separationOf } from '../bench/evidence/severityEvidence.js';
import { itWithRecordings } from '../fixtures/recordings.js';

const NEUTRAL = 1;
const folder = process.env.STANCHION_RECORDINGS ?? '';
const ROADS = LABELLED.map(({ file }) => file).filter((file) => file.startsWith('road-'));
const ONE_RIDER = ROADS.filter((file) => /road-0[1-5]/.test(file));

const changed = (file: string, perturb: Perturbation = (one) => one) =>
  readingOf(perturb(recordingOf(folder, file)));
const weightOf = (file: string, perturb?: Perturbation): number => weighed(changed(file, perturb)).weight;

describe('severity of real rides, elevation good', () => {
  let neutral: ReadonlyMap<string, { readonly severity: number; readonly weight: number }>;
  beforeAll(() => {
    if (folder === '') return;
    neutral = new Map(LABELLED.map(({ file }) => [file, weighed(changed(file), NEUTRAL)]));
  });

  itWithRecordings('keeps the scale that was found when the constants were first chosen', () => {
    // Source: the measured table that came with the first estimator: the weight at a prior of 1.
    const found: readonly (readonly [string, number])[] = [
      ['mountain-01.fit', 1.07],
      ['mountain-02.fit', 0.8],
      ['bike-10.gpx', 1.4],
      ['gravel-01.fit', 0.61],
      ['road-06.fit', 0.56],
      ['road-07.fit', 0.52],
    ];
    const apart = found.map(([file, weight]) => Math.log(neutral.get(file)!.weight / weight));
    expect(Math.abs(apart.reduce((sum, one) => sum + one, 0) / apart.length)).toBeLessThan(0.03);
    for (const [i, one] of apart.entries()) expect(Math.abs(one), found[i]![0]).toBeLessThan(0.15);
  });

  itWithRecordings('weighs five road rides of one rider within 15 %', () => {
    const weights = ONE_RIDER.map((file) => neutral.get(file)!.weight);
    expect(Math.max(...weights) / Math.min(...weights)).toBeLessThan(1.15);
  });

  itWithRecordings('stands above every road ride for rides off the road', () => {
    const road = Math.max(...ROADS.map((file) => neutral.get(file)!.weight));
    for (const file of ['mountain-01.fit', 'mountain-02.fit', 'bike-10.gpx'])
      expect(neutral.get(file)!.weight, file).toBeGreaterThan(road);
  });
});

describe('pieces of 20 minutes, their kind unknown', () => {
  itWithRecordings('stand apart: area under the curve .90, median weights 1.5', () => {
    const { rough, smooth, area, ratio } = separationOf(labelledPieces(folder));
    expect([rough.rides, rough.riders, smooth.rides]).toEqual([3, 3, 9]);
    expect(rough.pieces).toBeGreaterThanOrEqual(10);
    expect(smooth.pieces).toBeGreaterThanOrEqual(30);
    expect(area).toBeGreaterThanOrEqual(0.9);
    expect(ratio).toBeGreaterThanOrEqual(1.5);
  });

  itWithRecordings('stand apart at like speed too', () => {
    // 7 against 6 pieces: enough to show a gross fault, no more; slowness alone ranks them no worse.
    const { area } = separationOf(labelledPieces(folder).filter(isMatched));
    expect(area).toBeGreaterThan(0.65);
  });
});

describe('a road ride with a noisy altimeter', () => {
  itWithRecordings('has its noise named, to within a quarter of what was put in', () => {
    for (const file of ROADS)
      for (const spreadM of [1, 2]) {
        const { terrain } = changed(file, noisy(spreadM, 0, `named ${spreadM} ${file}`));
        const parts = explainWeight(terrain, { severity: 1 }, { wet: false, leftOut: [] });
        const told = parts.find(({ values }) => 'centimetres' in values)?.values.centimetres;
        expect(told! / (100 * spreadM), `${file} ${spreadM}`).toBeGreaterThan(0.75);
        expect(told! / (100 * spreadM), `${file} ${spreadM}`).toBeLessThan(1.15);
      }
  });

  itWithRecordings('stays a road ride and is known to be poor', () => {
    for (const file of ROADS.filter((road) => road !== 'road-08.fit'))
      for (const [name, perturb] of [
        ['white', noisy(1, 0, `white ${file}`)],
        ['60 s', noisy(2, 60, `slow ${file}`)],
      ] as const) {
        const reading = changed(file, perturb);
        expect(reading.terrain.quality, `${file} ${name}`).toBeLessThan(0.4);
        expect(weighed(reading).weight, `${file} ${name}`).toBeLessThanOrEqual(0.8);
        // Both witnesses alone hold it there; road-08.fit has but one.
        expect(weighed(reading, NEUTRAL).weight, `${file} ${name}, kind unknown`).toBeLessThanOrEqual(0.8);
      }
  });

  itWithRecordings('is a road ride by its kind where only one witness speaks', () => {
    for (const perturb of [noisy(1, 0, 'white road-08.fit'), noisy(2, 60, 'slow road-08.fit')]) {
      const reading = changed('road-08.fit', perturb);
      expect(reading.terrain.witnessWeight).toBe(0.5);
      expect(reading.terrain.quality).toBeLessThan(0.4);
      expect(weighed(reading).weight).toBeLessThanOrEqual(0.8);
    }
  });

  itWithRecordings('is known to be poor with 2 m of 20 s memory, which once passed for ground', () => {
    for (const file of ['road-01.fit', 'road-07.fit']) {
      const reading = changed(file, noisy(2, 20, file));
      expect(reading.terrain.quality, file).toBeLessThan(0.4);
      expect(weighed(reading).weight / weightOf(file), file).toBeLessThan(1.37);
    }
  });
});

describe('the weight of a ride recorded otherwise', () => {
  const files = [
    'mountain-01.fit',
    'mountain-02.fit',
    'bike-10.gpx',
    'gravel-01.fit',
    'road-01.fit',
    'road-06.fit',
  ];

  itWithRecordings('moves at most 10 % when sampled every 5 s', () => {
    for (const file of files)
      expect(Math.abs(weightOf(file, sampledEvery(5)) / weightOf(file) - 1), file).toBeLessThanOrEqual(0.1);
  });

  itWithRecordings('moves at most 15 % in steps of 1 m', () => {
    for (const file of files)
      expect(Math.abs(weightOf(file, inSteps(1)) / weightOf(file) - 1), file).toBeLessThanOrEqual(0.15);
  });

  itWithRecordings('moves at most 10 % when written as GPX', () => {
    for (const file of ['mountain-01.fit', 'gravel-01.fit', 'road-01.fit'])
      expect(Math.abs(weightOf(file, throughGpx) / weightOf(file) - 1), file).toBeLessThanOrEqual(0.1);
  });
});

describe('landings of real rides', () => {
  const feltOn = (file: string) => readingOf(recordingOf(folder, file)).terrain.landings;

  itWithRecordings('are as an independent decoder reads them', () => {
    // Source: the FIT SDK's own decoder on these files, messages `jump` and the session's `jump_count`.
    const landed = feltOn('mountain-01.fit')!;
    expect(landed.count).toBe(11);
    expect(Math.abs(landed.hangS - 5)).toBeLessThan(0.1);
    for (const n of [1, 2, 3, 4, 5]) expect(feltOn(`road-0${n}.fit`)!.count).toBeLessThanOrEqual(1);
    expect(feltOn('mountain-02.fit')).toBeUndefined();
  });

  itWithRecordings(
    'say of no ride that its weight is too low: from 8 an hour on it weighs at least 0.8',
    () => {
      const often = ridesIn(folder).filter(
        ({ reading: { terrain, movingS } }) => ((terrain.landings?.count ?? 0) * 3600) / movingS >= 8,
      );
      expect(often.length).toBeGreaterThan(0);
      for (const { file, reading } of often) {
        expect(weighed(reading).weight, file).toBeGreaterThanOrEqual(0.8);
        expect(weighed(reading, NEUTRAL).weight, file).toBeGreaterThanOrEqual(0.8);
      }
    },
  );
});
