import { describe, expect, it } from 'vitest';
import type { NoteCode } from '../../../src/core/ground/samples/notes.js';
import { type GpxPoint, gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { readProblem, readRecordings } from '../reading.js';

const T = Date.UTC(2024, 4, 1, 9);
const HOUR = 3_600_000;
const read = (text: string) => readRecordings(textBytes(text));
const one = (points: readonly GpxPoint[], type?: string) =>
  read(gpxText([{ segments: [points], ...(type === undefined ? {} : { type }) }]))[0]!;
const notes = (points: readonly GpxPoint[]) => one(points).notes;
const note = (code: NoteCode, count: number) => [{ code, count }];
const good = straightTrack(T, 2);

describe('readGpx', () => {
  it('reads points, sport and a span for each segment', () => {
    const segments = [straightTrack(T, 5), straightTrack(T + 60_000, 3), []];
    const [recording] = read(gpxText([{ type: 'mtb', segments }]));
    expect(recording).toMatchObject({
      format: 'gpx',
      sport: 'cycling',
      subSport: 'mountain',
      damage: null,
      notes: [],
    });
    expect(recording!.spans).toEqual([
      { from: 0, to: 5 },
      { from: 5, to: 8 },
    ]);
    const { samples } = recording!;
    expect([samples.timeMs[1], samples.lat[1], samples.lon[1], samples.eleM[1]]).toEqual([
      T + 1000,
      10.000045,
      20,
      100,
    ]);
    expect([samples.distM[1], samples.speedMps[1]]).toEqual([Number.NaN, Number.NaN]);
  });

  it('takes elevation, time and speed only where they are the track point’s own', () => {
    const more =
      '<extensions><ele>999</ele><x><time>2000-01-01T00:00:00Z</time><trkpt lat="1" lon="1"/></x></extensions>';
    const foreign = '<x:ele xmlns:x="http://example.org/x">998</x:ele>';
    const { samples } = one([{ lat: 10, lon: 20, ele: 5, time: T, more: more + foreign }]);
    expect([samples.count, samples.eleM[0], samples.timeMs[0]]).toEqual([1, 5, T]);
    const elsewhere = gpxText([{ segments: [good] }]).replace(
      '<trk>',
      '<wpt lat="1" lon="2"><ele>7</ele></wpt><trk>',
    );
    expect(read(elsewhere)[0]!.samples.count).toBe(2);
  });

  it('takes missing elevation as missing and never as 0', () => {
    expect([...one([{ lat: 1, lon: 2, time: T }]).samples.eleM]).toEqual([Number.NaN]);
  });

  it('keeps the speed of GPX 1.0', () => {
    const points = [{ lat: 1, lon: 2, time: T, more: '<course>90</course><speed>4.5</speed>' }];
    expect(read(gpxText([{ segments: [points] }], { version: '1.0' }))[0]!.samples.speedMps[0]).toBe(4.5);
  });

  it('drops points that stand nowhere on earth, and counts them', () => {
    expect(notes([...good, { lat: 91, lon: 0, time: T }])).toEqual(note('position-out-of-range', 1));
    expect(notes([...good, { lat: '1,5', lon: 0 }, { lat: '', lon: 0 }])).toEqual(
      note('position-malformed', 2),
    );
  });

  it('keeps a point whose elevation or time is malformed, without it', () => {
    expect(notes([...good, { lat: 1, lon: 2, ele: 'high', time: T + 9000 }])).toEqual(
      note('elevation-malformed', 1),
    );
    expect(notes([...good, { lat: 1, lon: 2, time: 'noon' }])).toEqual([
      ...note('time-malformed', 1),
      ...note('time-missing', 1),
    ]);
  });

  it('reads a time without a zone as UTC and says so', () => {
    const recording = one([{ lat: 1, lon: 2, time: '2024-05-01T09:00:00' }]);
    expect(recording.samples.timeMs[0]).toBe(T);
    expect(recording.notes).toEqual(note('time-without-zone', 1));
  });

  it('puts segments in time order', () => {
    const segments = [straightTrack(T + HOUR, 3), straightTrack(T, 2)];
    const [recording] = read(gpxText([{ segments }]));
    expect(recording!.samples.timeMs[0]).toBe(T);
    expect(recording!.spans).toEqual([
      { from: 0, to: 2 },
      { from: 2, to: 5 },
    ]);
    expect(recording!.notes).toEqual(note('spans-reordered', 1));
  });

  it('joins tracks that follow within an hour, and no others', () => {
    const track = (startMs: number, type = 'cycling') => ({ type, segments: [straightTrack(startMs, 3)] });
    const counts = (...tracks: ReturnType<typeof track>[]) =>
      read(gpxText(tracks)).map((r) => r.samples.count);
    expect(counts(track(T), track(T + 60_000), track(T + 120_000))).toEqual([9]);
    expect(counts(track(T), track(T + 2 * HOUR))).toEqual([3, 3]);
    expect(counts(track(T), track(T + 60_000, 'running'))).toEqual([3, 3]);
    expect(counts(track(T + 60_000), track(T))).toEqual([3, 3]);
  });

  it('hands on a track without times, for somebody to be asked', () => {
    const recording = one([
      { lat: 1, lon: 2 },
      { lat: 1.1, lon: 2 },
    ]);
    expect([...recording.samples.timeMs]).toEqual([Number.NaN, Number.NaN]);
    expect(recording.spans).toEqual([{ from: 0, to: 2 }]);
  });

  it('reads a file whose exporter forgot to declare a prefix, and says so', () => {
    const text = gpxText([{ segments: [[{ lat: 1, lon: 2, time: T, more: '<ext:ele>9</ext:ele>' }]] }]);
    const [recording] = read(text);
    expect(recording!.samples.eleM[0]).toBeNaN();
    expect(recording!.notes).toEqual(note('prefix-undeclared', 1));
  });

  it('reads a prefixed file, and one without any namespace', () => {
    const text = gpxText([{ segments: [good] }]);
    const prefixed = text.replaceAll(/<(\/?)(?=[a-z])/g, '<$1g:').replace('xmlns=', 'xmlns:g=');
    expect(read(prefixed)[0]!.samples.eleM[0]).toBe(100);
    expect(read(text.replace(/xmlns="[^"]*"/, ''))[0]!.samples.count).toBe(2);
  });
});

describe('readGpx of damaged and hostile files', () => {
  const text = gpxText([{ type: 'cycling', segments: [straightTrack(T, 10)] }]);

  it('keeps every whole point of a file that was cut off', () => {
    const cut = text.slice(0, text.indexOf('</trkpt>', text.length / 2) - 3);
    const [recording] = read(cut);
    expect(recording!.damage).toBe('cut-off');
    expect(recording!.samples.count).toBe(cut.split('</trkpt>').length - 1);
    expect(recording!.spans).toEqual([{ from: 0, to: recording!.samples.count }]);
  });

  it('sets aside what was cut off before two points could be read', () => {
    expect(readProblem(textBytes(text.slice(0, text.indexOf('<trkpt') + 20)))).toBe('set-aside unreadable');
    expect(readProblem(textBytes(text.slice(0, text.indexOf('</trkpt>') + 8)))).toBe('set-aside unreadable');
  });

  it('answers at every length, and only the whole file as sound', () => {
    for (let length = 120; length < text.length - 1; length += 1) {
      const answer = answerTo(textBytes(text.slice(0, length)));
      expect(['cut-off', 'set-aside unreadable'], `length ${length}`).toContain(answer);
    }
    expect(answerTo(textBytes(text))).toBe('sound');
  });

  it('marks garbage after the end', () => {
    expect(read(`${text}\0\0\0`)[0]!.damage).toBe('checksum');
    expect(read(`${text}<!-- a remark -->\n`)[0]!.damage).toBeNull();
  });

  it('refuses entities, defined or only used', () => {
    const bomb = `<!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>`;
    expect(readProblem(textBytes(text.replace('<gpx', `${bomb}<gpx`)))).toBe('set-aside xml-entities');
    expect(readProblem(textBytes(text.replace('<type>', '<name>&boom;</name><type>')))).toBe(
      'set-aside xml-entities',
    );
    expect(read(text.replace('<type>', '<name>a &amp; b &#233;</name><type>'))[0]!.samples.count).toBe(10);
  });

  it('refuses deep nesting and endless values', () => {
    const deep = (levels: number) =>
      text.replace('<type>', `${'<a>'.repeat(levels)}${'</a>'.repeat(levels)}<type>`);
    expect(read(deep(62))[0]!.samples.count).toBe(10);
    expect(readProblem(textBytes(deep(63)))).toBe('set-aside unreadable');
    expect(readProblem(textBytes(deep(200_000)))).toBe('set-aside unreadable');
    const long = 'x'.repeat(3_000_000);
    for (const hostile of [`<name>${long}</name>`, `<name a="${long}"/>`, `<!--${long}-->`, `<${long}/>`]) {
      expect(readProblem(textBytes(text.replace('<type>', `${hostile}<type>`)))).toBe('set-aside unreadable');
    }
  });

  it('tells what holds no track', () => {
    const empty = gpxText([]);
    expect(readProblem(textBytes(empty))).toBe('no-ride no-track');
    const route = empty.replace('</gpx>', '<rte><rtept lat="1" lon="2"/></rte><wpt lat="1" lon="2"/></gpx>');
    expect(readProblem(textBytes(route))).toBe('no-ride no-track');
    expect(readProblem(textBytes(gpxText([{ segments: [[{ lat: 99, lon: 0 }]] }])))).toBe(
      'set-aside unreadable',
    );
  });

  it('refuses an encoding that cannot be decoded', () => {
    expect(readProblem(textBytes(text.replace('UTF-8', 'made-up-8')))).toBe('set-aside not-fit-or-gpx');
  });
});

function answerTo(bytes: Uint8Array): string {
  try {
    return readRecordings(bytes)[0]!.damage ?? 'sound';
  } catch {
    return readProblem(bytes);
  }
}
