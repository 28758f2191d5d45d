import { describe, expect, it } from 'vitest';
import { recordingsBySession, type SessionsSaid } from '../../../../src/core/ground/samples/bySession.js';
import { NoteCounter } from '../../../../src/core/ground/samples/notes.js';
import type { SportSession } from '../../../../src/core/ground/samples/recording.js';
import { madeSamples } from './madeSamples.js';

const T = Date.UTC(2024, 4, 1, 9);
const session = (second: number, sport: string | null): SportSession => ({
  startMs: T + second * 1000,
  sport,
  subSport: null,
  elapsedS: second,
  timerS: null,
  distanceM: null,
});

function split(sessions: readonly SportSession[], summary: Partial<SessionsSaid> = {}) {
  const samples = madeSamples(Array.from({ length: 10 }, (_, i) => ({ timeMs: T + i * 1000, distM: i })));
  const whole: SessionsSaid = {
    format: 'fit',
    damage: null,
    sport: null,
    subSport: null,
    timerEvents: [],
    sensors: [],
    timerS: 9,
    sessions,
  };
  return recordingsBySession(samples, { ...whole, ...summary }, new NoteCounter());
}
const brief = (sessions: readonly SportSession[]) =>
  split(sessions).map((one) => [one.sport, one.samples.timeMs[0]! - T, one.samples.count]);

describe('recordingsBySession', () => {
  it('gives the samples before the first start to the first, and those after the last to the last', () => {
    expect(brief([session(3, 'running'), session(6, 'cycling')])).toEqual([
      ['running', 0, 6],
      ['cycling', 6000, 4],
    ]);
  });

  it('leaves out a session without samples and one whose start is unknown', () => {
    expect(brief([session(0, 'running'), session(4, 'cycling'), session(500, 'swimming')])).toEqual([
      ['running', 0, 4],
      ['cycling', 4000, 6],
    ]);
    expect(brief([session(0, 'cycling'), session(Number.NaN, 'running')])).toEqual([['cycling', 0, 10]]);
  });

  it('takes sport and timer from elsewhere in the file where the session says nothing', () => {
    const [recording] = split([session(0, null)], { sport: 'cycling', subSport: 'bmx' });
    expect(recording).toMatchObject({
      sport: 'cycling',
      subSport: 'bmx',
      claims: { elapsedS: 0, timerS: 9 },
    });
  });

  it('cuts spans where sessions meet', () => {
    const timerEvents = [
      { atMs: T + 2000, running: false },
      { atMs: T + 4000, running: true },
    ];
    const recordings = split([session(0, 'running'), session(6, 'cycling')], { timerEvents });
    expect(recordings.map((one) => one.spans)).toEqual([
      [
        { from: 0, to: 3 },
        { from: 4, to: 6 },
      ],
      [{ from: 0, to: 4 }],
    ]);
  });
});
