import { describe, expect, it } from 'vitest';
import { recordingsBySession } from '../../../../src/core/ground/samples/bySession.js';
import type { FitSession, FitSummary } from '../../../../src/files/fit/fitSummary.js';
import { NoteCounter } from '../../../../src/core/ground/samples/notes.js';
import { SampleColumns } from '../../../../src/files/sampleColumns.js';

const T = Date.UTC(2024, 4, 1, 9);
const session = (second: number, sport: string | null): FitSession => ({
  startMs: T + second * 1000,
  sport,
  subSport: null,
  elapsedS: second,
  timerS: null,
  distanceM: null,
});

function split(sessions: readonly FitSession[], summary: Partial<FitSummary> = {}) {
  const columns = new SampleColumns(new NoteCounter());
  for (let i = 0; i < 10; i += 1) columns.push(T + i * 1000, 0, 0, 0, i, 1);
  const whole = {
    fileType: 'activity',
    sport: null,
    subSport: null,
    timerEvents: [],
    sensors: [],
    timerS: 9,
    recorder: { profileName: null, localOffsetMs: null, jumpCount: null, jumps: [] },
    serial: null,
  };
  return recordingsBySession(columns.samples(), { ...whole, ...summary, sessions }, null, []);
}
const brief = (sessions: readonly FitSession[]) =>
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
