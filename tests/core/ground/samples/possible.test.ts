import { describe, expect, it } from 'vitest';
import { NoteCounter } from '../../../../src/core/ground/samples/notes.js';
import { dropImpossible, isOnEarth, mayBeThere } from '../../../../src/core/ground/samples/possible.js';
import type { Samples } from '../../../../src/core/ground/samples/recording.js';
import { madeSamples } from './madeSamples.js';

const judged = (rows: Parameters<typeof madeSamples>[0]): { samples: Samples; notes: unknown } => {
  const notes = new NoteCounter();
  const samples = madeSamples(rows);
  dropImpossible(samples, notes);
  return { samples, notes: notes.list() };
};

describe('what is possible', () => {
  it('takes an elevation where no bicycle can be as missing, and counts it', () => {
    const { samples, notes } = judged([-500, 12_607, -430, 5500, Number.NaN].map((eleM) => ({ eleM })));
    expect([...samples.eleM]).toEqual([Number.NaN, Number.NaN, -430, 5500, Number.NaN]);
    expect(notes).toEqual([{ code: 'elevation-out-of-range', count: 2 }]);
  });

  it('takes a speed or distance below zero or beyond all measure as missing, and counts it', () => {
    const values = [-1, 0, 12, 1e36, Number.NaN];
    const { samples, notes } = judged(values.map((value) => ({ distM: value, speedMps: value })));
    expect([...samples.distM]).toEqual([Number.NaN, 0, 12, Number.NaN, Number.NaN]);
    expect([...samples.speedMps]).toEqual([...samples.distM]);
    expect(notes).toEqual([
      { code: 'distance-out-of-range', count: 2 },
      { code: 'speed-out-of-range', count: 2 },
    ]);
  });

  it('takes half a place, and one nowhere on earth, as none', () => {
    const { samples, notes } = judged([
      { lat: 91, lon: 0 },
      { lat: 45, lon: 181 },
      { lat: Number.NaN, lon: 7 },
      { lat: 45, lon: 7 },
    ]);
    expect([...samples.lat]).toEqual([Number.NaN, Number.NaN, Number.NaN, 45]);
    expect([...samples.lon]).toEqual([Number.NaN, Number.NaN, Number.NaN, 7]);
    expect(notes).toEqual([{ code: 'position-out-of-range', count: 2 }]);
  });

  // Source: gpx.xsd 1.1, latitudeType (-90 to 90) and longitudeType (-180 to 180, the latter exclusive).
  it('knows the bounds of the earth as the schema of GPX states them', () => {
    expect([isOnEarth(90, -180), isOnEarth(-90, 179.9), isOnEarth(0, 180), isOnEarth(90.1, 0)]).toEqual([
      true,
      true,
      false,
      false,
    ]);
  });

  it('believes nobody at (0, 0), where recorders are before they know where they are', () => {
    expect([mayBeThere(0, 0), mayBeThere(0, 1), mayBeThere(Number.NaN, 1)]).toEqual([false, true, false]);
  });
});
