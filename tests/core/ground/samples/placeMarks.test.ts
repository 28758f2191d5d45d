import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  neverMet,
  type PlaceMarks,
  placeMarksOf,
  sharedMinutes,
} from '../../../../src/core/ground/samples/placeMarks.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { journey, recordingOf, START_MS } from '../../../fixtures/journey.js';

const mark = (text: string): string => createHash('sha256').update(text).digest('base64');
const other = (text: string): string => mark(`other ${text}`);
const places = journey([{ seconds: 1800, mps: 8 }]);

function marksOf(startMs = START_MS, key = mark, eastM = 0): PlaceMarks {
  const moved = places.map((place) => ({ ...place, eastM: place.eastM + eastM }));
  const recording = recordingOf(moved, { startMs });
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: Infinity }));
  return placeMarksOf(kept, '4711', key);
}

describe('marks of places', () => {
  it('are four characters a minute, and say neither position nor serial number', () => {
    const marks = marksOf();
    expect(marks.cells).toHaveLength(4 * 31);
    expect(marks.fromMinute).toBe(START_MS / 60_000);
    expect(JSON.stringify(marks)).not.toContain('4711');
    expect(new Set(marks.cells.match(/.{4}/g)).size).toBeGreaterThan(10);
  });

  it('tell the same way at the same time, and under another clock once it is moved', () => {
    expect(sharedMinutes(marksOf(), marksOf(), 0)).toEqual({ minutes: 31, together: 31 });
    const later = marksOf(START_MS + 3_600_000);
    expect(sharedMinutes(marksOf(), later, 0)).toBeNull();
    expect(sharedMinutes(marksOf(), later, -3_600_000)).toEqual({ minutes: 31, together: 31 });
  });

  it('tell two places at one time', () => {
    const far = marksOf(START_MS, mark, 155_000);
    expect(sharedMinutes(marksOf(), far, 0)).toEqual({ minutes: 31, together: 0 });
    expect([neverMet(marksOf(), far), neverMet(marksOf(), marksOf())]).toEqual([true, false]);
  });

  it('under two keys cannot be compared', () => {
    expect(sharedMinutes(marksOf(), marksOf(START_MS, other), 0)).toBeNull();
    expect(neverMet(marksOf(), marksOf(START_MS, other))).toBeNull();
    expect(marksOf(START_MS, other).cells).not.toBe(marksOf().cells);
  });
});
