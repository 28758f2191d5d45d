import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import { readContent } from '../../../src/files/readFile.js';
import { rideFit } from '../../fixtures/fitFile.js';
import { gpxText, textBytes } from '../../fixtures/gpxFile.js';
import { journey, type Leg, type Place, recordingOf, START_MS } from '../../fixtures/journey.js';
import { readingOf, switchbacks, uneven } from '../../fixtures/readJourney.js';

/** A ride with halts inside spans and three stops of the recorder, in one of which the bike went on. */
const LEGS: readonly Leg[] = [
  { seconds: 900, mps: uneven(5), upMps: (s) => 0.3 * Math.sin(s / 70), turn: switchbacks(80) },
  { seconds: 25, mps: 0 },
  { seconds: 700, mps: uneven(3), upMps: 0.3, turn: switchbacks(45) },
  { seconds: 300, mps: 0 },
  { seconds: 800, mps: uneven(7), upMps: -0.4, turn: switchbacks(60) },
  { seconds: 12, mps: 0 },
  { seconds: 600, mps: (s) => 1.2 + 0.5 * Math.sin(s / 20), turn: switchbacks(120) },
];
const PLACES = journey(LEGS);
/** Stretches with the timer running. Units: seconds. */
const RUNNING = [
  [0, 905],
  [921, 1640],
  [1920, 2500],
  [2560, 3337],
] as const;
const TRUE_S = RUNNING.reduce(
  (sum, [from, to]) => sum + PLACES.filter(({ s, mps }) => s > from && s <= to && mps >= 0.5).length,
  0,
);

/** A recorder that saves memory: a sample where the way turned by 20° or the speed changed, and at most 8 s apart. */
function smart(places: readonly Place[]): Place[] {
  const heading = (i: number) =>
    Math.atan2(places[i]!.eastM - places[i - 1]!.eastM, places[i]!.northM - places[i - 1]!.northM);
  let last = 0;
  return places.filter(({ s, mps }, i) => {
    const ends = i === 0 || i === places.length - 1;
    const before = places[last]!;
    const turned =
      !ends && last > 0 && Math.abs(Math.sin((heading(i) - heading(last)) / 2)) > Math.sin(Math.PI / 18);
    const changed = mps < 0.5 !== before.mps < 0.5 || Math.abs(mps - before.mps) > 1.5;
    const keeps = ends || turned || changed || s - before.s >= 8;
    if (keeps) last = i;
    return keeps;
  });
}
const SAMPLINGS: readonly (readonly [string, (places: readonly Place[]) => Place[]])[] = [
  ['each second', (places) => [...places]],
  ['smart recording', smart],
];

const spansOf = (sampled: (places: readonly Place[]) => Place[]): Place[][] =>
  RUNNING.map(([from, to]) => sampled(PLACES.filter(({ s }) => s >= from && s <= to)));
const degrees = (places: readonly Place[]) => {
  const { lat, lon } = recordingOf(places).samples;
  return places.map((place, i) => ({ ...place, lat: lat[i]!, lon: lon[i]! }));
};

function fitBytes(spans: readonly Place[][]): Uint8Array {
  const samples = spans.flatMap(degrees).map(({ s, lat, lon, eleM, distM, mps }) => ({
    timeMs: START_MS + s * 1000,
    ...{ lat, lon, eleM, distM, speedMps: mps },
  }));
  const events = RUNNING.flatMap(([from, to]) => [
    [START_MS + from * 1000, 0] as const,
    [START_MS + to * 1000, 4] as const,
  ]);
  return rideFit({ samples, events, sessions: [{ startMs: START_MS, sport: 2 }] }).bytes();
}

function gpxBytes(spans: readonly Place[][]): Uint8Array {
  const segments = spans.map((places) =>
    degrees(places).map(({ s, lat, lon, eleM }) => ({
      lat: lat.toFixed(6),
      lon: lon.toFixed(6),
      ele: eleM.toFixed(1),
      time: START_MS + s * 1000,
    })),
  );
  return textBytes(gpxText([{ type: 'cycling', segments }]));
}

function read(bytes: Uint8Array): Reading {
  const content = readContent(bytes, 'a ride');
  if (!('recordings' in content)) throw new Error(content.problem.message);
  expect(content.recordings).toHaveLength(1);
  return readingOf(content.recordings[0]!);
}

describe.each(SAMPLINGS)('one ride written in both formats, %s', (_, sampled) => {
  const fit = read(fitBytes(spansOf(sampled)));
  const gpx = read(gpxBytes(spansOf(sampled)));

  it('moves as long, within 1 %', () => {
    expect(Math.abs(gpx.movingS / fit.movingS - 1)).toBeLessThan(0.01);
    expect(Math.abs(fit.movingS / TRUE_S - 1)).toBeLessThan(0.01);
  });

  it('goes as far, within 1 %', () => {
    expect(Math.abs(gpx.distanceM / fit.distanceM - 1)).toBeLessThan(0.01);
  });

  it('has the same spans, sport and way', () => {
    expect([gpx.spans, gpx.sport, gpx.start]).toEqual([fit.spans, fit.sport, fit.start]);
    expect(gpx.question).toBeNull();
    expect(fit.question).toBeNull();
  });
});
