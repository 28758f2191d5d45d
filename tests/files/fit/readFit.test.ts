import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FitFile, recordFields, rideFit, straightRide } from '../../fixtures/fitFile.js';
import { readProblem, readRecordings } from '../reading.js';

const T = Date.UTC(2024, 4, 1, 9);
const CYCLING = 2;
const session = { startMs: T, sport: CYCLING, subSport: 8 };
const ride = (count = 20) => rideFit({ samples: straightRide(T, count), sessions: [session] });
const joined = (...parts: Uint8Array[]) => Uint8Array.from(parts.flatMap((part) => [...part]));
const summary = (bytes: Uint8Array) =>
  readRecordings(bytes).map(({ sport, subSport, samples, damage }) => [
    sport,
    subSport,
    samples.count,
    damage,
  ]);

describe('readFit', () => {
  it('reads samples, sport and one span', () => {
    const [recording, ...others] = readRecordings(ride().bytes());
    expect(others).toEqual([]);
    expect(recording).toMatchObject({
      format: 'fit',
      sport: 'cycling',
      subSport: 'mountain',
      damage: null,
      notes: [],
    });
    expect(recording!.spans).toEqual([{ from: 0, to: 20 }]);
    expect(recording!.samples.timeMs[19]).toBe(T + 19_000);
    expect(recording!.samples.distM[19]).toBe(95);
    expect(recording!.samples.lat[0]).toBeCloseTo(10, 6);
  });

  it('ends a span at a stop of any kind', () => {
    for (const stop of [1, 4, 8, 9]) {
      const events = [
        [T, 0],
        [T + 5000, stop],
        [T + 10_000, 0],
        [T + 19_000, 4],
      ] as const;
      const [recording] = readRecordings(rideFit({ samples: straightRide(T, 20), events }).bytes());
      expect(recording!.spans, `event type ${stop}`).toEqual([
        { from: 0, to: 6 },
        { from: 10, to: 20 },
      ]);
    }
  });

  it('splits sessions where the next one starts, whatever their ends say', () => {
    const sessions = [
      { startMs: T, sport: 1 },
      { startMs: T + 8000, sport: CYCLING, subSport: 7 },
      { startMs: T + 15_000, sport: 1 },
    ];
    const bytes = rideFit({ samples: straightRide(T, 20), sessions: sessions.toReversed() }).bytes();
    expect(summary(bytes)).toEqual([
      ['running', 'generic', 8, null],
      ['cycling', 'road', 7, null],
      ['running', 'generic', 5, null],
    ]);
    expect(readRecordings(bytes)[1]!.spans).toEqual([{ from: 0, to: 7 }]);
  });

  it('takes a generic sport for none said, but for a session beside others whose sport is named', () => {
    const said = (...sports: number[]) =>
      summary(
        rideFit({
          samples: straightRide(T, 20),
          sessions: sports.map((sport, i) => ({ startMs: T + i * 8000, sport })),
        }).bytes(),
      ).map(([sport]) => sport);
    const GENERIC = 0;
    expect(said(GENERIC)).toEqual([null]);
    expect(said(GENERIC, GENERIC)).toEqual([null, null]);
    expect(said(CYCLING, GENERIC)).toEqual(['cycling', 'generic']);
  });

  it('counts a session that is written twice once', () => {
    expect(summary(rideFit({ samples: straightRide(T, 5), sessions: [session, session] }).bytes())).toEqual([
      ['cycling', 'mountain', 5, null],
    ]);
  });

  it('takes the sport message where there is no session', () => {
    const more = (file: FitFile) =>
      file.message(12, [
        [0, 'enum', CYCLING],
        [1, 'enum', 46],
      ]);
    expect(summary(rideFit({ samples: straightRide(T, 5), more }).bytes())).toEqual([
      ['cycling', 'gravel_cycling', 5, null],
    ]);
    expect(summary(rideFit({ samples: straightRide(T, 5) }).bytes())).toEqual([[null, null, 5, null]]);
  });

  it('reads each chained part', () => {
    const later = rideFit({ samples: straightRide(T + 3_600_000, 7), sessions: [session] });
    expect(summary(joined(ride().bytes(), later.bytes()))).toEqual([
      ['cycling', 'mountain', 20, null],
      ['cycling', 'mountain', 7, null],
    ]);
  });

  it('keeps a good part before garbage and says that something is missing', () => {
    expect(summary(joined(ride().bytes(), Uint8Array.of(9, 9, 9)))).toEqual([
      ['cycling', 'mountain', 20, 'checksum'],
    ]);
    const cut = ride().bytes().subarray(0, 20);
    expect(summary(joined(ride().bytes(), cut))).toEqual([['cycling', 'mountain', 20, 'cut-off']]);
  });

  it('reads a file with a wrong checksum and marks it', () => {
    const bytes = ride().bytes();
    bytes[bytes.length - 1]! ^= 1;
    expect(summary(bytes)).toEqual([['cycling', 'mountain', 20, 'checksum']]);
  });

  it('keeps every whole record of a file that was cut off anywhere', () => {
    const bytes = rideFit({ samples: straightRide(T, 20) }).bytes();
    const record = 1 + 20;
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 17 }),
        fc.integer({ min: 0, max: record - 1 }),
        (lost, partial) => {
          const length = bytes.length - 2 - lost * record - partial;
          const [recording] = readRecordings(bytes.subarray(0, length));
          expect(recording!.damage).toBe('cut-off');
          expect(recording!.samples.count).toBe(20 - lost - (partial > 0 ? 1 : 0));
          expect([...recording!.samples.distM]).toEqual(
            straightRide(T, recording!.samples.count).map((s) => s.distM),
          );
        },
      ),
      { examples: [[0, 0]], numRuns: 60 },
    );
  });

  it('reads a file whose recorder never wrote the data size', () => {
    expect(summary(ride().bytes({ dataSize: 0 }))).toEqual([['cycling', 'mountain', 20, 'cut-off']]);
  });

  it('answers any flipped bit, and never as a sound file', () => {
    const bytes = ride(4).bytes();
    for (let bit = 0; bit < bytes.length * 8; bit += 1) {
      const flipped = Uint8Array.from(bytes);
      flipped[bit >> 3]! ^= 1 << (bit & 7);
      const damages = outcomes(flipped);
      expect(damages.includes('sound'), `bit ${bit}`).toBe(false);
    }
  });

  it('drops records from before the clock was set, without a time, or running backward', () => {
    const [a, b, c] = straightRide(T, 3);
    const samples = [{ timeMs: Date.UTC(1990, 0, 1) }, a!, c!, b!];
    const file = rideFit({ samples }).again(recordFields({ timeMs: 631_065_600_000 + 0xffffffff * 1000 }), {
      local: 1,
    });
    const [recording] = readRecordings(file.bytes());
    expect([...recording!.samples.timeMs]).toEqual([a!.timeMs, b!.timeMs]);
    expect(recording!.notes).toEqual([
      { code: 'time-backward', count: 1 },
      { code: 'time-missing', count: 1 },
      { code: 'time-unset', count: 1 },
    ]);
  });

  it('hands on a recording without any time, for somebody to be asked', () => {
    const file = new FitFile().message(0, [[0, 'enum', 4]]).message(20, [[5, 'uint32', 371_000]]);
    const [recording] = readRecordings(file.bytes());
    expect([...recording!.samples.timeMs]).toEqual([Number.NaN]);
    expect(recording!.spans).toEqual([{ from: 0, to: 1 }]);
  });

  it('reads times of compressed headers, in events too', () => {
    const start = 631_065_600_000 + 1_000_000_000 * 1000;
    const file = new FitFile()
      .message(0, [[0, 'enum', 4]])
      .message(20, [
        [253, 'uint32', 1_000_000_000],
        [6, 'uint16', 5000],
      ])
      .message(20, [[6, 'uint16', 5000]], { local: 1, compressed: 1 })
      .message(
        21,
        [
          [0, 'enum', 0],
          [1, 'enum', 4],
        ],
        { local: 2, compressed: 1 },
      )
      .again([[6, 'uint16', 5000]], { local: 1, compressed: 5 });
    const [recording] = readRecordings(file.bytes());
    expect([...recording!.samples.timeMs]).toEqual([start, start + 1000, start + 5000]);
    expect(recording!.spans).toEqual([{ from: 0, to: 2 }]);
  });

  it('names sensors and what the recorder claims', () => {
    const more = (file: FitFile) =>
      file
        .message(23, [
          [0, 'uint8', 0],
          [3, 'uint32z', 1],
          [25, 'enum', 5],
        ])
        .message(23, [
          [0, 'uint8', 1],
          [25, 'enum', 1],
          [1, 'uint8', 123],
          [21, 'uint16z', 4711],
        ])
        .message(34, [[0, 'uint32', 18_500]]);
    const [recording] = readRecordings(rideFit({ samples: straightRide(T, 3), more }).bytes());
    expect(recording!.sensors).toEqual([{ id: 'speed:4711', boundTo: 'bike' }]);
    expect(recording!.claims).toEqual({ elapsedS: null, timerS: 18.5, distanceM: null });
  });

  it('tells files that are no ride', () => {
    expect(readProblem(rideFit({ samples: straightRide(T, 3), fileType: 6 }).bytes())).toBe(
      'no-ride not-an-activity',
    );
    expect(readProblem(rideFit({ samples: [], fileType: 2 }).bytes())).toBe('no-ride not-an-activity');
    expect(readProblem(rideFit({ samples: [] }).bytes())).toBe('no-ride no-track');
    expect(readProblem(ride().bytes().subarray(0, 30))).toBe('set-aside unreadable');
  });
});

function outcomes(bytes: Uint8Array): string[] {
  try {
    return readRecordings(bytes).map((recording) => recording.damage ?? 'sound');
  } catch (error) {
    return [String(error)];
  }
}
