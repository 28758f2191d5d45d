import { describe, expect, it } from 'vitest';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { reopened } from '../../../src/core/ground/unstarted.js';
import { journey, recordingOf } from '../../fixtures/journey.js';
import { readingOf, switchbacks, uneven } from '../../fixtures/readJourney.js';

/** Rides for 1000 s; the recorder was stopped after 400, and no start is written. */
function stopped(claims: Partial<Recording['claims']>, after = 600): Recording {
  const recording = recordingOf(journey([{ seconds: 400 + after, mps: uneven(5), turn: switchbacks(70) }]));
  return {
    ...recording,
    spans: [{ from: 0, to: 401 }],
    unstarted: [{ from: 401, to: recording.samples.count }],
    claims: { elapsedS: null, timerS: null, distanceM: null, ...claims },
  };
}
const metresAt = (recording: Recording, i: number): number => recording.samples.distM[i]!;

describe('riding after a stop whose start is missing', () => {
  it('counts where the recorder says that its timer ran so long', () => {
    const reading = readingOf(stopped({ timerS: 1000 }));
    expect([reading.movingS, reading.question]).toEqual([999, null]);
    expect(reading.notes).toContainEqual({ code: 'timer-start-missing', count: 1 });
  });

  it('counts where the recorder’s distance is that of all of it', () => {
    const plain = stopped({});
    const reading = readingOf(stopped({ distanceM: metresAt(plain, 1000) }));
    expect([reading.movingS, reading.question]).toEqual([999, null]);
  });

  it('is asked about where nothing says so, and does not count meanwhile', () => {
    const plain = stopped({});
    for (const claims of [{}, { timerS: 400 }, { distanceM: metresAt(plain, 400) }]) {
      const reading = readingOf(stopped(claims));
      expect([reading.movingS, reading.question]).toEqual([400, 'vehicle']);
      expect(reading.leftOut).toEqual([{ code: 'vehicle', s: 599 }]);
    }
  });

  it('is nothing to ask about where it is a few samples', () => {
    const recording = stopped({}, 40);
    expect(reopened(recording)).toEqual({ recording, doubtful: [] });
    expect(readingOf(recording)).toMatchObject({ movingS: 400, question: null });
  });
});
