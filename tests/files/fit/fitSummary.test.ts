import { describe, expect, it } from 'vitest';
import { splitFitParts } from '../../../src/files/fit/fitParts.js';
import { readFitSummary } from '../../../src/files/fit/fitSummary.js';
import { FitFile, fitTime } from '../../fixtures/fitFile.js';

const T = Date.UTC(2024, 4, 1, 9);
const summaryOf = (file: FitFile, eventTimes: readonly number[] = []) =>
  readFitSummary(splitFitParts(file.bytes()).parts[0]!.bytes, eventTimes);

describe('readFitSummary', () => {
  it('names what the profile names, and keeps a number that it does not', () => {
    const file = new FitFile()
      .message(0, [[0, 'enum', 4]])
      .message(18, [
        [2, 'uint32', fitTime(T)],
        [5, 'enum', 2],
        [6, 'enum', 121],
        [7, 'uint32', 61_500],
      ])
      .message(18, [[5, 'enum', 251]]);
    const summary = summaryOf(file)!;
    expect(summary.fileType).toBe('activity');
    expect(summary.sessions).toMatchObject([
      { startMs: T, sport: 'cycling', elapsedS: 61.5, timerS: null },
      { startMs: Number.NaN, sport: 'unknown_251', subSport: null },
    ]);
  });

  it('takes starts and stops of the timer, at the times that it is given', () => {
    const event = (kind: number, type: number) =>
      [
        [0, 'enum', kind],
        [1, 'enum', type],
      ] as const;
    const file = new FitFile();
    for (const [kind, type] of [
      [0, 0],
      [3, 1],
      [0, 3],
      [0, 4],
      [0, 9],
    ] as const)
      file.message(21, event(kind, type));
    expect(summaryOf(file, [1, 2, 3, 4, Number.NaN])!.timerEvents).toEqual([
      { atMs: 1, running: true },
      { atMs: 4, running: false },
    ]);
  });

  it('is null for what the decoder does not take', () => {
    expect(readFitSummary(new Uint8Array(4), [])).toBeNull();
    expect(readFitSummary(splitFitParts(new FitFile().raw(0x03, 1).bytes()).parts[0]!.bytes, [])).toBeNull();
  });
});
