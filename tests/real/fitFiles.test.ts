import { Decoder, Stream } from '@garmin/fitsdk';
import FitParser from 'fit-file-parser';
import { describe, expect } from 'vitest';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { isWhole } from '../../src/files/isWhole.js';
import { readContent } from '../../src/files/readFile.js';
import {
  itWithRecordings,
  type ManifestEntry,
  manifestEntries,
  recordingBytes,
} from '../fixtures/recordings.js';

const FIT_EPOCH_MS = 631_065_600_000;
const entries = manifestEntries().filter((entry) => entry.file.endsWith('.fit'));
const activities = entries.filter((entry) => !entry.tags.includes('not-an-activity'));
const noActivities = entries.filter((entry) => entry.tags.includes('not-an-activity'));
/** The official decoder cannot read compressed timestamps. */
const readByOracle = activities.filter((entry) => !entry.tags.includes('valid-but-js-sdk-cannot-decode'));

const read = new Map<string, readonly Recording[]>();

function recordingsOf({ file }: ManifestEntry): readonly Recording[] {
  const known = read.get(file);
  if (known !== undefined) return known;
  const content = readContent(recordingBytes(file), file);
  if ('problem' in content) throw new Error(`${file}: ${content.problem.code}`);
  read.set(file, content.recordings);
  return content.recordings;
}

const COLUMNS = ['timeMs', 'lat', 'lon', 'eleM', 'distM', 'speedMps'] as const;
type Columns = Readonly<Record<(typeof COLUMNS)[number], readonly number[]>>;

const columnsOf = (recordings: readonly Recording[]): Columns =>
  columns((c) => recordings.flatMap(({ samples }) => [...samples[c]]));
const columns = (make: (column: (typeof COLUMNS)[number]) => readonly number[]): Columns =>
  Object.fromEntries(COLUMNS.map((column) => [column, make(column)])) as unknown as Columns;

const numberOf = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN);

/** How the official decoder's fields give our columns. */
const ORACLE: Readonly<Record<(typeof COLUMNS)[number], (one: Record<string, unknown>) => number>> = {
  timeMs: (one) => FIT_EPOCH_MS + numberOf(one.timestamp) * 1000,
  lat: (one) => (numberOf(one.positionLat) * 180) / 2 ** 31,
  lon: (one) => (numberOf(one.positionLong) * 180) / 2 ** 31,
  eleM: (one) => numberOf(one.enhancedAltitude ?? one.altitude),
  distM: (one) => numberOf(one.distance),
  speedMps: (one) => numberOf(one.enhancedSpeed ?? one.speed),
};

function oracleColumns(bytes: Uint8Array): Columns {
  const { messages } = new Decoder(Stream.fromBuffer(Buffer.from(bytes))).read({
    convertDateTimesToDates: false,
    convertTypesToStrings: false,
    expandSubFields: false,
    mergeHeartRates: false,
  });
  const records = (messages.recordMesgs ?? []) as unknown as Record<string, unknown>[];
  return columns((column) => records.map(ORACLE[column]));
}

const same = (a: number, b: number): boolean => Object.is(a, b) || Math.abs(a - b) < 1e-9;

/** The first of our samples that is not, in order, among those of the oracle; undefined where all are. */
function firstStranger(ours: Columns, oracle: Columns): number | undefined {
  let at = 0;
  for (let i = 0; i < ours.timeMs.length; i += 1) {
    while (at < oracle.timeMs.length && !COLUMNS.every((c) => same(ours[c][i]!, oracle[c][at]!))) at += 1;
    if (at === oracle.timeMs.length) return i;
    at += 1;
  }
  return undefined;
}

const dropped = (recordings: readonly Recording[]): number =>
  recordings[0]!.notes
    .filter((note) => note.code.startsWith('time-'))
    .reduce((sum, note) => sum + note.count, 0);

describe('FIT recordings', () => {
  itWithRecordings('are read as the official decoder reads them, sample by sample', () => {
    expect(readByOracle.length).toBeGreaterThan(50);
    const incomplete: string[] = [];
    for (const entry of readByOracle) {
      const oracle = oracleColumns(recordingBytes(entry.file));
      const recordings = recordingsOf(entry);
      const ours = columnsOf(recordings);
      expect(firstStranger(ours, oracle), entry.file).toBeUndefined();
      expect(oracle.timeMs.length - ours.timeMs.length, entry.file).toBe(dropped(recordings));
      if (dropped(recordings) > 0) incomplete.push(entry.file);
    }
    // Time runs backward by one second, once and twice.
    expect(incomplete.sort()).toEqual(['not-rides/multisport-02.fit', 'rides/bike-02.fit']);
  });

  itWithRecordings('have the figures of the manifest', () => {
    for (const entry of readByOracle) {
      const recordings = recordingsOf(entry);
      const { timeMs, distM, eleM } = columnsOf(recordings);
      const { file } = entry;
      expect(timeMs.length + dropped(recordings), file).toBe(entry.records);
      expect(lastOf(distM), file).toBeCloseTo(entry.lastDistance ?? Number.NaN, 2);
      const elevations = eleM.filter((ele) => !Number.isNaN(ele));
      expect(elevations.length > 0, file).toBe(entry.altMin !== undefined);
      if (elevations.length > 0) {
        expect(
          elevations.reduce((a, b) => Math.min(a, b)),
          file,
        ).toBeCloseTo(entry.altMin!, 3);
        expect(
          elevations.reduce((a, b) => Math.max(a, b)),
          file,
        ).toBeCloseTo(entry.altMax!, 3);
      }
      const stamp = (ms: number) => (Number.isNaN(ms) ? undefined : new Date(ms).toISOString());
      expect(stamp(lastOf(timeMs)), file).toBe(entry.last ?? undefined);
      if (dropped(recordings) === 0) expect(stamp(timeMs[0]!), file).toBe(entry.first ?? undefined);
    }
  });

  itWithRecordings('have the sports of their sessions', () => {
    for (const entry of readByOracle.filter((one) => (one.sessions ?? []).length > 0)) {
      const said = entry.sessions!.map(({ sport, subSport }) => [snake(sport), snake(subSport)]);
      const isNamed = said.some(([sport]) => sport !== 'generic');
      const names = isNamed ? said : said.map(() => [null, null]);
      const ours = recordingsOf(entry).map(({ sport, subSport }) => [sport, subSport]);
      expect(ours, entry.file).toEqual(names);
    }
  });

  itWithRecordings('have a span more than pauses', () => {
    const odd: Record<string, number> = {};
    for (const entry of readByOracle) {
      const recordings = recordingsOf(entry);
      const spans = recordings.reduce((sum, one) => sum + one.spans.length, 0);
      const more = spans - recordings.length - entry.pauses!;
      if (more !== 0) odd[entry.file] = more;
    }
    expect(odd).toEqual(EXTRA_SPANS);
  });

  itWithRecordings('are recognised when they are no activity', () => {
    const answers = noActivities.map(({ file }) => {
      const content = readContent(recordingBytes(file), file);
      return [file, 'problem' in content ? `${content.outcome} ${content.problem.code}` : 'recordings'];
    });
    expect(answers.length).toBe(8);
    for (const [file, answer] of answers) {
      // This one is damaged from its 42nd byte on: nothing says what it was.
      const expected = file === 'damaged/damaged-02.fit' ? 'set-aside unreadable' : 'no-ride not-an-activity';
      expect(answer, file).toBe(expected);
    }
  });

  itWithRecordings('are marked where they are damaged, and only there', () => {
    const damages: Record<string, unknown> = {};
    for (const entry of activities) {
      const damage = recordingsOf(entry).at(-1)!.damage;
      expect(isWhole(recordingBytes(entry.file)), entry.file).toBe(damage === null);
      if (damage !== null) damages[entry.file] = damage;
    }
    expect(damages).toEqual({
      'damaged/damaged-01.fit': 'checksum',
      'damaged/damaged-03.fit': 'checksum',
      // A good part, then garbage, or a second part that was cut off.
      'damaged/damaged-04.fit': 'checksum',
      'damaged/damaged-05.fit': 'cut-off',
      'damaged/damaged-06.fit': 'cut-off',
      // Its header was patched to fit, but its last message has no end.
      'damaged/damaged-07.fit': 'cut-off',
    });
  });

  itWithRecordings('are read with compressed timestamps, as a second decoder reads them', () => {
    const entry = activities.find((one) => one.tags.includes('valid-but-js-sdk-cannot-decode'))!;
    const bytes = recordingBytes(entry.file);
    const times: number[] = [];
    new FitParser({ force: false, mode: 'list' }).parse(Buffer.from(bytes), (error, fit) => {
      expect(error).toBeUndefined();
      for (const record of fit?.records ?? []) times.push(new Date(record.timestamp ?? Number.NaN).getTime());
    });
    const [recording] = recordingsOf(entry);
    expect(times.length).toBe(755);
    expect([...recording!.samples.timeMs]).toEqual(times);
    // Its distance stands in three packed bytes only; the session's own sum is within a few metres of the last one.
    expect(Math.abs(lastOf([...recording!.samples.distM]) - recording!.claims.distanceM!)).toBeLessThan(20);
  });
});

/** Where spans and pauses do not match, and by how many. */
const EXTRA_SPANS: Readonly<Record<string, number>> = {
  // The pause lies between two sessions, which are recordings of their own.
  'not-rides/multisport-01.fit': -1,
  // Nothing was recorded between two of its pauses and the next, twice.
  'rides/road-06.fit': -2,
  // The recorder died for 92 s and started again without having stopped.
  'rides/road-08.fit': 1,
};

const lastOf = (column: readonly number[]): number =>
  column.findLast((value) => !Number.isNaN(value)) ?? Number.NaN;

const snake = (name: string | null): string | null =>
  name?.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`) ?? null;
