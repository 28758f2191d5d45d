import { describe, expect, it } from 'vitest';
import type { Reading, Terrain } from '../../../src/core/ground/samples/reading.js';
import { joinRecordings, recordedOf } from '../../../src/core/rides/joinRecordings.js';
import type { Part } from '../../../src/core/rides/ride.js';
import { at, partOf, readingOf } from '../../fixtures/readings.js';

const TEN = '2025-06-01T10:00:00Z';
const HALF_PAST = '2025-06-01T10:30:00Z';

const terrain = (quality: number | null, classS = [3600]): Terrain => ({
  classS,
  quality,
  witnessWeight: 0,
  witness: 0,
  gradientChange: null,
  noiseM: null,
});
const part = (start: string | null, minutes: number, rest: Partial<Reading> = {}, more: Partial<Part> = {}) =>
  partOf(readingOf(start, minutes, rest), more);
const join = (...parts: readonly Part[]) => joinRecordings(parts.map(recordedOf));

describe('the recordings of a ride', () => {
  it('count the union of their moving time, on the ground that is known best', () => {
    const known = part(TEN, 60, { terrain: terrain(0.9) });
    const poor = part(HALF_PAST, 60, { terrain: terrain(0.3) });
    const { members, best, movingS, terrain: ground } = join(poor, known);
    expect(members).toHaveLength(2);
    expect(best.part).toBe(known);
    expect(ground).toEqual(terrain(0.9));
    expect(movingS).toBe(90 * 60);
  });

  it('take elevation of any quality before none, then the longer', () => {
    const none = part(TEN, 90);
    const some = part(TEN, 60, { terrain: terrain(0) });
    const longer = part(TEN, 70, { terrain: terrain(0) });
    expect(join(none, some).best.part).toBe(some);
    expect(join(some, longer).best.part).toBe(longer);
  });

  it('of equal elevation take one that names the kind of ride, whichever came first', () => {
    const named = part(TEN, 60, { subSport: 'road' });
    const longer = part(TEN, 70);
    expect(join(named, longer).best.part).toBe(named);
    expect(join(longer, named).best.part).toBe(named);
    const other = part(TEN, 60, { subSport: 'mountain' });
    expect(join(named, other).best.part).toBe(join(other, named).best.part);
  });

  it('leave out a damaged one that a sound one covers, and only such', () => {
    const sound = part(TEN, 60);
    const covered = part(TEN, 40, { damage: 'cut-off', terrain: terrain(0.9) });
    const alone = part(HALF_PAST, 60, { damage: 'cut-off' });
    expect(join(covered, sound).members.map((one) => one.part)).toEqual([sound]);
    expect(join(alone, sound).members).toHaveLength(2);
    expect(join(covered).members).toHaveLength(1);
  });
});

describe('a doubtful vehicle', () => {
  const doubtful = { moving: [[0, 600_000]] as const, classS: [0, 600] };
  const ridden = { moving: [[600_000, 3_600_000]] as const, terrain: terrain(0.9, [3000, 0]), doubtful };

  it('counts once a person says that it was ridden, with its ground', () => {
    expect(join(part(TEN, 60, ridden))).toMatchObject({ movingS: 3000, terrain: { classS: [3000, 0] } });
    const said = part(TEN, 60, ridden, { answer: { ride: { vehicle: true } } });
    expect(join(said)).toMatchObject({ movingS: 3600, terrain: { classS: [3000, 600] } });
  });

  it('takes its time from a twin that saw no vehicle, until a person has spoken', () => {
    const twin = part(TEN, 60, { terrain: terrain(0.5) });
    expect(join(part(TEN, 60, ridden), twin).movingS).toBe(3000);
  });
});

it('a recording without times lies where a person said, for as long as they said', () => {
  const on = at('2025-06-01T08:00:00Z');
  const { startMs, endMs } = recordedOf(part(null, 0, {}, { answer: { on, minutes: 75 } }));
  expect([startMs, endMs - startMs]).toEqual([on, 75 * 60_000]);
  expect(join(part(null, 0, {}, { answer: { on, minutes: 75 } })).movingS).toBe(75 * 60);
});

it('a recording with a wrong clock keeps its length, and starts when a person said', () => {
  const on = at('2025-06-01T08:00:00Z');
  const wrong = part('1989-12-31T00:04:00Z', 60, { question: 'clock-unset' }, { answer: { on } });
  expect(recordedOf(wrong)).toMatchObject({ startMs: on, endMs: on + 3_600_000 });
});

describe('landings', () => {
  const felt = (count: number, hangS: number): Terrain => ({
    ...terrain(0.5),
    landings: { count, hangS, longestS: hangS },
  });

  it('of two recorders on one ride are not counted twice, and those of two halves are added up', () => {
    const wrist = part(TEN, 60, { terrain: felt(4, 1.2) });
    const bar = part(TEN, 60, { terrain: felt(9, 3) });
    const silent = part(TEN, 60, { terrain: terrain(0.9) });
    const later = part('2025-06-01T11:00:00Z', 30, { terrain: felt(2, 0.5) });
    const all = [wrist, bar, silent, later];
    expect(join(...all).terrain.landings).toEqual({ count: 11, hangS: 3.5, longestS: 3 });
    expect(join(...all.reverse()).terrain.landings).toEqual({ count: 11, hangS: 3.5, longestS: 3 });
    expect(join(silent).terrain.landings).toBeUndefined();
  });
});
