/** Real files of the third format, with the figures of an independent XML reader in the folder's manifest. */
import { describe, expect } from 'vitest';
import { readRecording } from '../../src/core/ground/readRecording.js';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { isWhole } from '../../src/files/isWhole.js';
import { readContent } from '../../src/files/readFile.js';
import { instant } from '../../src/units.js';
import { itWithRecordings, manifestEntries, recordingBytes } from '../fixtures/recordings.js';

/** What that reader says of a file. Units: metres, seconds. */
interface Figures {
  readonly file: string;
  readonly sports: readonly string[];
  readonly points: number;
  readonly withPosition: number;
  readonly withAltitude: number;
  readonly withDistance: number;
  readonly first: string;
  readonly last: string;
  readonly lastDistance: number;
  readonly lapSeconds: readonly number[];
  readonly error: string | null;
}
const figures = (manifestEntries() as unknown as readonly Figures[]).filter(({ file }) =>
  file.endsWith('.tcx'),
);
const rides = figures.filter(({ error, sports }) => error === null && sports.length > 0);

const SPARSE = 'tcx/ride-06.tcx';

const recordingsOf = (file: string): readonly Recording[] => {
  const content = readContent(recordingBytes(file), file);
  if ('problem' in content) throw new Error(`${file}: ${content.problem.code}`);
  return content.recordings;
};
const column = (recordings: readonly Recording[], name: 'timeMs' | 'lat' | 'eleM' | 'distM'): number[] =>
  recordings.flatMap(({ samples }) => [...samples[name]]).filter((value) => !Number.isNaN(value));

describe('TCX recordings', () => {
  itWithRecordings('have the figures of an independent XML reader', () => {
    expect(rides.length).toBe(8);
    for (const one of rides) {
      const read = recordingsOf(one.file);
      // A point without position and distance says nothing, and is left out.
      const left = one.points - read.reduce((sum, { samples }) => sum + samples.count, 0);
      expect([0, 1, 7], one.file).toContain(left);
      expect(column(read, 'lat').length, one.file).toBe(one.withPosition);
      expect(one.withAltitude - column(read, 'eleM').length, one.file).toBeLessThanOrEqual(left);
      expect(column(read, 'distM').length, one.file).toBe(one.withDistance);
      const times = column(read, 'timeMs');
      // To the second: a first point that says nothing else is left out.
      expect(Math.abs(times[0]! - Date.parse(one.first)), one.file).toBeLessThan(15_000);
      expect(Math.abs(times.at(-1)! - Date.parse(one.last)), one.file).toBeLessThan(15_000);
      expect(column(read, 'distM').at(-1), one.file).toBeCloseTo(one.lastDistance, 0);
    }
  });

  itWithRecordings('are rides with hours that their laps allow, or say why not', () => {
    for (const { file, sports, lapSeconds } of rides) {
      const [recording] = recordingsOf(file);
      const read = readRecording(recording!, { now: instant(Date.parse('2026-11-28')) });
      if (sports[0] === 'Running') {
        expect('problem' in read && read.problem.code, file).toBe('other-sport');
        continue;
      }
      // Of its 48 points 47 carry one time: it says where it went, not for how long, and is told so.
      if (file === SPARSE) {
        expect('problem' in read && read.problem.code, file).toBe('unreadable');
        continue;
      }
      if ('problem' in read) throw new Error(`${file}: ${read.problem.code}`);
      const moving = read.readings.reduce((sum, { movingS }) => sum + movingS, 0);
      expect(moving, file).toBeGreaterThan(0);
      expect(moving, file).toBeLessThanOrEqual(lapSeconds.reduce((sum, s) => sum + s, 0) * 1.25);
    }
  });

  itWithRecordings('a course is no ride, and a broken one is said to be broken', () => {
    const told = (file: string) => {
      const content = readContent(recordingBytes(file), file);
      return 'problem' in content ? content.problem.code : content.recordings[0]!.samples.count;
    };
    expect(told('tcx/not-ride-03.tcx')).toBe('no-track');
    // Of four points one has a position that is none.
    expect(told('tcx/damaged-01.tcx')).toBe(3);
    const [broken] = recordingsOf('tcx/damaged-01.tcx');
    // The second that is left is no ride, and is not counted as one.
    expect(readRecording(broken!, { now: instant(Date.parse('2026-11-28')) })).toMatchObject({
      outcome: 'no-ride',
      problem: { code: 'no-moving' },
    });
    for (const { file } of figures) expect(isWhole(recordingBytes(file)), file).toBe(true);
  });
});
