import GpxParser from 'gpxparser';
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

const entries = manifestEntries().filter((entry) => entry.file.endsWith('.gpx'));
const tracks = entries.filter((entry) => (entry.nPts ?? 0) > 0);

function recordingsOf(entry: ManifestEntry): readonly Recording[] {
  const content = readContent(recordingBytes(entry.file), entry.file);
  if ('problem' in content) throw new Error(`${entry.file}: ${content.problem.code}`);
  return content.recordings;
}

const column = (recordings: readonly Recording[], name: 'timeMs' | 'lat' | 'lon' | 'eleM'): number[] =>
  recordings.flatMap(({ samples }) => [...samples[name]]);
const known = (values: readonly number[]): number => values.filter((value) => !Number.isNaN(value)).length;
const dropped = (recordings: readonly Recording[]): number =>
  recordings
    .flatMap((recording) => recording.notes)
    .filter((note) => note.code === 'time-backward')
    .reduce((sum, note) => sum + note.count, 0);

interface OraclePoint {
  readonly lat: number;
  readonly lon: number;
  readonly ele: number | null;
  readonly time: Date | null;
}

/** Its types say it is a module; it is the class itself. It fills the globals of the process, which this file has to itself. */
const Oracle = GpxParser as unknown as new () => {
  parse(text: string): void;
  readonly tracks: readonly { readonly points: OraclePoint[] }[];
};

function oraclePoints(entry: ManifestEntry): OraclePoint[] {
  const parser = new Oracle();
  parser.parse(new TextDecoder().decode(recordingBytes(entry.file)));
  return parser.tracks.flatMap((track) => track.points);
}

const finite = (value: number | null | undefined): number | null => (Number.isFinite(value) ? value! : null);

describe('GPX recordings', () => {
  itWithRecordings('have the figures that two XML parsers agreed on', () => {
    expect(tracks.length).toBeGreaterThan(35);
    const incomplete: string[] = [];
    for (const entry of tracks) {
      const recordings = recordingsOf(entry);
      const { file } = entry;
      const lost = dropped(recordings);
      const times = column(recordings, 'timeMs');
      expect(times.length + lost, file).toBe(entry.nPts);
      expect(known(times) + lost, file).toBe(entry.withTime);
      if (lost === 0) expect(known(column(recordings, 'eleM')), file).toBe(entry.withEle);
      else incomplete.push(file);
      const spans = recordings.flatMap((one) => one.spans.map((span) => span.to - span.from));
      const segments = (entry.segments ?? []).map((segment) => segment.n).filter((n) => n > 0);
      if (lost === 0) expect(spans, file).toEqual(segments);
    }
    // An invented file: its ten points jump between two hours.
    expect(incomplete).toEqual(['tracks/track-18.gpx']);
  });

  itWithRecordings('begin and end when the manifest says', () => {
    for (const entry of tracks.filter((one) => typeof one.first === 'string')) {
      const times = column(recordingsOf(entry), 'timeMs').filter((time) => !Number.isNaN(time));
      const stamps = [times[0]!, times.at(-1)!].map((ms) => new Date(ms).toISOString());
      expect(stamps, entry.file).toEqual([entry.first, entry.last]);
    }
  });

  itWithRecordings('are read as an independent reader reads them, point by point', () => {
    const differing: Record<string, number> = {};
    for (const entry of tracks) {
      const recordings = recordingsOf(entry);
      // The oracle takes a time without a zone as the machine's own.
      if (dropped(recordings) > 0 || entry.tags.includes('time-without-zone')) continue;
      const oracle = oraclePoints(entry);
      const { file } = entry;
      expect(column(recordings, 'lat'), file).toEqual(oracle.map((point) => point.lat));
      expect(column(recordings, 'lon'), file).toEqual(oracle.map((point) => point.lon));
      const ele = column(recordings, 'eleM').map(finite);
      const others = oracle.map((point) => finite(point.ele));
      const times = column(recordings, 'timeMs').map(finite);
      const theirs = oracle.map((point) => finite(point.time?.getTime()));
      const unlike =
        ele.filter((one, i) => one !== others[i]).length + times.filter((one, i) => one !== theirs[i]).length;
      if (unlike > 0) differing[file] = unlike;
    }
    expect(differing).toEqual({});
  });

  itWithRecordings('are recognised when they hold no track', () => {
    const empty = entries.filter((entry) => entry.nPts === 0);
    expect(empty.length).toBe(8);
    // Those with a track, those without, and the two in the folder of damaged files.
    expect(entries.length).toBe(tracks.length + empty.length + 2);
    for (const { file } of empty) {
      const content = readContent(recordingBytes(file), file);
      expect('problem' in content && `${content.outcome} ${content.problem.code}`, file).toBe(
        'no-ride no-track',
      );
    }
  });

  itWithRecordings('are whole, but for the one that is broken', () => {
    for (const { file } of entries)
      expect(isWhole(recordingBytes(file)), file).toBe(file !== 'damaged/damaged-01.gpx');
    const broken = readContent(recordingBytes('damaged/damaged-01.gpx'), 'broken.gpx');
    expect(broken).toMatchObject({ outcome: 'set-aside', problem: { code: 'not-fit-or-gpx' } });
  });

  itWithRecordings('are read where an exporter forgot to declare a prefix', () => {
    const [recording] = recordingsOf(entries.find((entry) => entry.file === 'damaged/damaged-02.gpx')!);
    expect(recording).toMatchObject({ sport: 'cycling', damage: null, samples: { count: 80 } });
    expect(recording!.notes).toContainEqual({ code: 'prefix-undeclared', count: 1 });
  });
});
