import { describe, expect, it } from 'vitest';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { readContent } from '../../src/files/readFile.js';
import { dateTimeOf, decimalOf } from '../../src/files/xml/xmlValues.js';
import { type GpxPoint, gpxText, textBytes } from '../fixtures/gpxFile.js';

const T = Date.UTC(2024, 4, 1, 9);

function only(text: string): Recording {
  const content = readContent(textBytes(text), 'a test');
  if ('problem' in content) throw new Error(content.problem.message);
  return content.recordings[0]!;
}
const pointsOf = (...points: GpxPoint[]) =>
  only(gpxText([{ segments: [[{ lat: 0, lon: 0 }, ...points]] }])).samples;

describe('GPX 1.1', () => {
  // Source: gpx.xsd, latitudeType: minInclusive -90, maxInclusive 90; longitudeType: minInclusive -180, maxExclusive 180.
  it('has the range of latitude and longitude that the schema gives', () => {
    expect(pointsOf({ lat: '90.0', lon: 0 }, { lat: '-90.0', lon: 0 }).count).toBe(3);
    expect(pointsOf({ lat: 0, lon: '-180.0' }, { lat: 0, lon: '179.9999999' }).count).toBe(3);
    expect(pointsOf({ lat: 0, lon: '180.0' }).count).toBe(1);
    expect(pointsOf({ lat: '90.0000001', lon: 0 }, { lat: 0, lon: '-180.1' }).count).toBe(1);
  });

  // Source: gpx.xsd, ele and latitudeType are xsd:decimal. That it forbids exponents is from memory (XML Schema part 2).
  it('takes decimals only', () => {
    expect(['1e3', '1E3', 'INF', 'NaN'].map(decimalOf)).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
    expect(['-1.23', '12678967.543233', '+100000.00', '210'].map(decimalOf)).toEqual([
      -1.23, 12_678_967.543233, 100_000, 210,
    ]);
  });

  // Source: gpx.xsd, wptType: every child is optional.
  it('allows a point without elevation and time', () => {
    const samples = pointsOf({ lat: 1, lon: 1 });
    expect([samples.eleM[1], samples.timeMs[1]]).toEqual([Number.NaN, Number.NaN]);
  });

  // Source: gpx.xsd, wptType time: "not local time! Conforms to ISO 8601 ... Fractional seconds are allowed".
  it('allows fractions of a second', () => {
    expect(dateTimeOf('2024-05-01T09:00:00.25Z').ms).toBe(T + 250);
  });

  // Source: gpx.xsd, trksegType: a new segment for each continuous span of track data.
  it('keeps segments apart', () => {
    const segments = [[{ lat: 1, lon: 1, time: T }], [{ lat: 2, lon: 1, time: T + 1000 }]];
    expect(only(gpxText([{ segments }])).spans).toEqual([
      { from: 0, to: 1 },
      { from: 1, to: 2 },
    ]);
  });

  // Source: gpx.xsd, extensionsType: any element of another namespace.
  it('takes nothing from extensions', () => {
    const more = '<extensions><a:ele xmlns:a="urn:a">5</a:ele><ele>6</ele></extensions>';
    expect(pointsOf({ lat: 1, lon: 1, more }).eleM[1]).toBeNaN();
  });
});

describe('GPX 1.0', () => {
  // Source: an excerpt of the GPX 1.0 schema: course and speed (m/s) follow time.
  it('gives a speed, which GPX 1.1 does not', () => {
    const segments = [[{ lat: 1, lon: 1, time: T, more: '<course>1</course><speed>7.25</speed>' }]];
    expect(only(gpxText([{ segments }], { version: '1.0' })).samples.speedMps[0]).toBe(7.25);
  });
});
