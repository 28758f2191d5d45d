import { describe, expect, it } from 'vitest';
import type { Recording } from '../../../../src/core/ground/samples/recording.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { journey, type RecordedHow, recordingOf, START_MS } from '../../../fixtures/journey.js';

const ride = (seconds: number, how: RecordedHow = {}): Recording =>
  recordingOf(journey([{ seconds, mps: 5 }]), { format: 'gpx', ...how });
const keep = (recording: Recording) =>
  keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
const noteOf = (kept: ReturnType<typeof keep>, code: string) =>
  kept.notes.find((note) => note.code === code)?.count ?? 0;

describe('kept samples', () => {
  it('measure each step, and none into a span', () => {
    const spans = [
      { from: 0, to: 4 },
      { from: 4, to: 8 },
    ];
    const { kept } = keep(ride(7, { spans }));
    expect(Array.from(kept.begins)).toEqual([1, 0, 0, 0, 1, 0, 0, 0]);
    expect(kept.hopM[4]).toBeNaN();
    expect(kept.hopM[3]).toBeCloseTo(5, 1);
  });

  it('drop (0, 0) and join what lies on either side', () => {
    const recording = ride(20);
    recording.samples.lat.fill(0, 5, 10);
    recording.samples.lon.fill(0, 5, 10);
    const kept = keep(recording);
    expect(noteOf(kept, 'position-impossible')).toBe(5);
    expect(kept.kept.count).toBe(16);
    expect(kept.kept.hopM[5]).toBeCloseTo(30, 0);
  });

  it('drop a jump that no bike makes, and keep the way', () => {
    const recording = ride(20);
    recording.samples.lat[8]! += 0.01;
    const kept = keep(recording);
    expect(noteOf(kept, 'position-jump')).toBe(1);
    const way = kept.kept.hopM.reduce((sum, hop) => sum + (Number.isNaN(hop) ? 0 : hop), 0);
    expect(way).toBeCloseTo(100, 0);
  });

  it('believe a receiver that found itself elsewhere, and measure no hop there', () => {
    const recording = ride(40);
    for (let i = 20; i <= 40; i++) recording.samples.lat[i]! += 0.05;
    const { kept } = keep(recording);
    expect(kept.count).toBe(41);
    expect(kept.hopM[20]).toBeNaN();
    expect(kept.hopM[21]).toBeCloseTo(5, 0);
  });

  it('believe a train that gathers speed', () => {
    const places = journey([{ seconds: 200, mps: (s) => Math.min(80, s) }]);
    expect(noteOf(keep(recordingOf(places, { format: 'gpx' })), 'position-jump')).toBe(0);
  });

  it('put positions missing for some seconds on a line, where other columns go on', () => {
    const recording = ride(20, { format: 'fit' });
    recording.samples.lat.fill(Number.NaN, 5, 10);
    recording.samples.lon.fill(Number.NaN, 5, 10);
    const { kept } = keep(recording);
    expect(kept.count).toBe(21);
    expect(kept.hopM[7]).toBeCloseTo(5, 1);
  });

  it('gather one moment that stands in several rows', () => {
    const recording = ride(4, { format: 'fit' });
    recording.samples.timeMs[2] = recording.samples.timeMs[1]!;
    recording.samples.distM[2] = Number.NaN;
    const { kept } = keep(recording);
    expect(kept.count).toBe(4);
    expect(kept.distM[1]).toBe(5);
  });

  it('leave out rows that say nothing, and carry the beginning of a span on', () => {
    const recording = ride(6, {
      spans: [
        { from: 0, to: 3 },
        { from: 3, to: 7 },
      ],
    });
    recording.samples.lat[3] = Number.NaN;
    const { kept } = keep(recording);
    expect(Array.from(kept.begins)).toEqual([1, 0, 0, 1, 0, 0]);
  });
});
