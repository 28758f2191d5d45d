/** The bench does what it says, on little; its times are nobody's business here. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readContent } from '../../../src/files/readFile.js';
import { decodeFile } from '../../../src/flow/take/decodeFile.js';
import { rideFit, straightRide } from '../../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { scratchFolder } from '../../fixtures/program.js';
import { aimsOf, aimsTable, standOf } from './aims.js';
import { bareGpx } from './bareGpx.js';
import { checkFigures } from './checking.js';
import { commandFigures } from './commands.js';
import { type Figure, figureTable, isFault } from './figure.js';
import { addToHistory, lastRatios, readHistory } from './history.js';
import { growthFigures, ledgerCost } from './ledger.js';
import { NOW } from './ledgers.js';
import { movedFit, movedGpx } from './movedRide.js';
import { pageFigures, pageGrowth } from './pages.js';
import { sharesOf } from './profile.js';
import { storingFigures } from './storing.js';

const areMeasured = (figures: readonly Figure[]): void => {
  for (const { what, ours, other } of figures) {
    expect(ours, what).toBeGreaterThan(0);
    expect(other, what).toBeGreaterThan(0);
  }
};

test('the filled ledger is sound: the check that is timed finds no difference in it', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const cost = await ledgerCost(path, 12, { ridesABike: 5, runs: 1 });
  expect(cost).toMatchObject({ units: 12, rides: 60 });
  const figures = growthFigures([cost, { ...cost, rides: 600, units: 120 }]);
  areMeasured(figures);
  expect(figures.map(({ most }) => most)).toEqual([
    ...[1.5, 1.5, 1.2, 3, 1],
    ...[undefined, undefined, undefined, undefined, undefined],
  ]);
  const pages = await pageFigures(path, cost.units, 1);
  areMeasured(pages);
  expect(pages.length).toBeGreaterThan(8);
  const ledger = { path, units: cost.units };
  const grown = await pageGrowth(ledger, ledger, 1);
  areMeasured(grown);
  expect(grown.filter(({ most }) => most === 3).map(({ what }) => what)).toEqual(
    [
      ...['Today', 'Due', 'a unit', 'Bench', 'Tray', 'a fleet', 'Units', 'Riders', 'Mails'],
      ...['find a number', 'find what many share', 'a rider’s page', 'a service page', 'a unit’s card'],
      'a rider’s own page',
    ].map((page) => `${page}, 12 units`),
  );
});

test('the rows of rides are put into a ledger like the one before by bare statements', async () => {
  const figures = await storingFigures(scratchFolder(), 1);
  areMeasured(figures);
  expect(figures).toHaveLength(2);
});

test('a check is held against reading the rows of rides, and finds them sound', async () => {
  const figures = await checkFigures(scratchFolder(), { runs: 1, size: { units: 4, ridesABike: 3 } });
  areMeasured(figures);
  expect(aimsOf(figures)).toEqual([
    { name: 'check rides / reading their rows', value: expect.any(Number), aim: 3 },
  ]);
});

test('an aim is reached, nearly reached within a fifth, or not', () => {
  const stands = [2, 2.4, 2.5].map((value) => standOf({ name: 'a', value, aim: 2 }));
  expect(stands).toEqual(['reached', 'nearly', 'not reached']);
  expect(aimsTable([{ name: 'a / b', value: 2.5, aim: 2 }])).toMatch(/a \/ b +2\.50 +≤ 2 +not reached/);
});

test('a ride at another time and place says the same of itself', () => {
  const move = { ms: 32_000 * 1000, lat: 0, lon: 1.25 };
  const startMs = Date.UTC(2025, 4, 1, 7);
  const fit = rideFit({ samples: straightRide(startMs, 1801, 5), sessions: [{ startMs, sport: 2 }] }).bytes();
  const gpx = textBytes(gpxText([{ type: 'cycling', segments: [straightTrack(startMs, 1801)] }]));
  const said = (bytes: Uint8Array, name: string) => {
    const { readings } = decodeFile(readContent, { bytes, name }, NOW);
    return readings.map(({ start, movingS, spans, samples }) => ({ start, movingS, spans, samples }));
  };
  const movedText = Buffer.from(movedGpx(Buffer.from(gpx).toString('utf8'), move));
  for (const [before, after, name] of [
    [fit, movedFit(fit, move), 'a.fit'],
    [gpx, movedText, 'a.gpx'],
  ] as const) {
    const [was] = said(before, name);
    expect(was!.start).toBe(startMs);
    expect(said(after, name)).toEqual([{ ...was, start: startMs + move.ms }]);
    expect(Buffer.from(before).equals(Buffer.from(after))).toBe(false);
  }
});

test('a look at a small file is held against Node alone', () => {
  const figures = commandFigures(scratchFolder(), 1);
  areMeasured(figures);
  expect(figures.map(({ most }) => most)).toEqual([4]);
});

test('a figure over its limit is a fault, and so is one that is no number', () => {
  const figure: Figure = { what: 'a', ours: 4, against: 'b', other: 2, unit: 'ms' };
  expect(isFault(figure)).toBe(false);
  expect(isFault({ ...figure, most: 1.5 })).toBe(true);
  expect(isFault({ ...figure, ours: 0, other: 0 })).toBe(true);
  expect(figureTable([{ ...figure, most: 1.5 }], { 'a / b': 3 })).toMatch(/× 2\.00 +OVER 1\.5 +3\.00/);
});

test('the last eight runs are kept, and a figure is shown beside the last run that had it', () => {
  const path = join(scratchFolder(), 'history.json');
  for (let run = 1; run <= 9; run += 1)
    addToHistory(path, { on: `2026-06-0${run}`, commit: 'c', node: 'v20', cores: 2 }, [
      { what: 'a', ours: run, against: 'b', other: 1, unit: 'ms' },
    ]);
  expect(readHistory(path).map(({ ratios }) => ratios['a / b'])).toEqual([2, 3, 4, 5, 6, 7, 8, 9]);
  const of = { on: '', commit: '', node: '', cores: 2 };
  const runs = [{ a: 1, b: 2 }, { a: 3 }].map((ratios) => ({ ...of, ratios }));
  expect(lastRatios(runs)).toEqual({ a: 3, b: 2 });
});

test('the search for numbers finds the points that the reader finds', () => {
  const bytes = textBytes(gpxText([{ segments: [straightTrack(Date.UTC(2026, 4, 1), 50)] }]));
  const content = readContent(bytes, 'a.gpx');
  const read = 'recordings' in content ? content.recordings[0]!.samples.count : 0;
  expect([bareGpx(bytes), read]).toEqual([50, 50]);
});

test('the shares of a profile are of the whole', async () => {
  const shares = await sharesOf(() => {
    const until = performance.now() + 50;
    while (performance.now() < until);
  });
  expect(shares.reduce((sum, [, share]) => sum + share, 0)).toBeCloseTo(1, 6);
});
