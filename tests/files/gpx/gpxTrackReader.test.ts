import { describe, expect, it } from 'vitest';
import { NoteCounter } from '../../../src/core/ground/samples/notes.js';
import { GpxTrackReader } from '../../../src/files/gpx/gpxTrackReader.js';
import { SampleColumns, TooManySamples } from '../../../src/files/sampleColumns.js';
import { gpxText, straightTrack } from '../../fixtures/gpxFile.js';

function read(chunks: Iterable<string>) {
  const columns = new SampleColumns();
  const reader = new GpxTrackReader(columns, new NoteCounter());
  const stopped = reader.readAll(chunks);
  return {
    tracks: reader.tracks,
    count: columns.count,
    complete: reader.complete,
    why: stopped?.why ?? null,
  };
}

const text = gpxText([
  { type: 'mtb', segments: [straightTrack(0, 3), straightTrack(9000, 2)] },
  { segments: [straightTrack(20_000, 4)] },
]);

describe('GpxTrackReader', () => {
  it('finds tracks, their types and segments', () => {
    expect(read([text])).toEqual({
      tracks: [
        {
          type: 'mtb',
          segments: [
            { from: 0, to: 3 },
            { from: 3, to: 5 },
          ],
        },
        { type: '', segments: [{ from: 5, to: 9 }] },
      ],
      count: 9,
      complete: true,
      why: null,
    });
  });

  it('reads the same however the text is cut into pieces', () => {
    expect(read(text)).toEqual(read([text]));
  });

  it('does not take elements that stand where they do not belong', () => {
    const odd =
      '<gpx><trkpt lat="1" lon="1"/><trk><trkpt lat="1" lon="1"/><x><trkseg><trkpt lat="1" lon="1"/></trkseg></x></trk></gpx>';
    expect(read([odd])).toMatchObject({ tracks: [{ segments: [] }], count: 0 });
    expect(read([`<a>${odd}</a>`])).toMatchObject({ tracks: [], count: 0 });
  });

  it('takes heart, cadence and power from extensions of any namespace, each with its own point', () => {
    const columns = new SampleColumns();
    const said =
      '<extensions><x:more xmlns:x="urn:more"><x:hr>141</x:hr><x:cad>82</x:cad></x:more><power>205</power></extensions>';
    const points = straightTrack(0, 3).map((point, i) => (i === 1 ? { ...point, more: said } : point));
    new GpxTrackReader(columns, new NoteCounter()).readAll(gpxText([{ segments: [points] }]));
    const { effort } = columns.samples();
    expect([...effort!.heartBpm]).toEqual([Number.NaN, 141, Number.NaN]);
    expect([...effort!.cadenceRpm]).toEqual([Number.NaN, 82, Number.NaN]);
    expect([...effort!.powerW]).toEqual([Number.NaN, 205, Number.NaN]);
  });

  it('says why it stopped', () => {
    expect(read([text.slice(0, -20)])).toMatchObject({ complete: false, why: 'broken' });
    expect(read(['<gpx>&x;'])).toMatchObject({ why: 'entities' });
    expect(read(['<gpx>', '<a>'.repeat(70)])).toMatchObject({ why: 'nested' });
    expect(read(['<gpx>', 'x'.repeat(600_000), 'x'.repeat(600_000)])).toMatchObject({ why: 'endless' });
  });

  it('takes a track with too many points as no damage of its text', () => {
    const reader = new GpxTrackReader(new SampleColumns(5), new NoteCounter());
    expect(() => reader.readAll([text])).toThrow(TooManySamples);
  });
});
