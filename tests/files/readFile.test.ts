import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readContent } from '../../src/files/readFile.js';
import { MOST_SAMPLES } from '../../src/files/sampleColumns.js';
import { FitFile, rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';
import { readProblem, readRecordings } from './reading.js';

const T = Date.UTC(2024, 4, 1, 9);
const fit = rideFit({ samples: straightRide(T, 3) }).bytes();
const gpx = textBytes(gpxText([{ segments: [straightTrack(T, 3)] }]));

describe('readContent', () => {
  it('tells FIT and GPX by their content', () => {
    expect(readRecordings(fit)[0]!.format).toBe('fit');
    expect(readRecordings(gpx)[0]!.format).toBe('gpx');
    expect(readRecordings(Uint8Array.from([0x20, 0x0a, ...gpx]))[0]!.format).toBe('gpx');
  });

  it('says what a file is that is neither', () => {
    expect(readProblem(new Uint8Array())).toBe('set-aside empty');
    for (const text of ['hello', '<foo', '<kml/>', '<!DOCTYPE html><html/>', '{"a":1}', '\0\0\0\0']) {
      expect(readProblem(textBytes(text)), text).toBe('set-aside not-fit-or-gpx');
    }
    expect(readProblem(textBytes('<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'))).toBe('set-aside xml-entities');
    expect(readProblem(gzipSync(fit))).toBe('set-aside not-fit-or-gpx');
    expect(readProblem(zipFile([{ name: 'a.fit', bytes: fit }]))).toBe('set-aside not-fit-or-gpx');
  });

  it('refuses what is larger than any ride, before it reads', () => {
    expect(readContent(gpx, 'a.gpx', gpx.length)).toHaveProperty('recordings');
    expect(readContent(gpx, 'a.gpx', gpx.length - 1)).toMatchObject({
      outcome: 'set-aside',
      problem: { code: 'too-large' },
    });
  });

  it('refuses more points than any ride has, before they fill the memory', () => {
    // A point of a single byte: a record without fields.
    const bytes = new FitFile().message(20, []).bytes();
    const many = new Uint8Array(bytes.length + MOST_SAMPLES);
    many.set(bytes.subarray(0, -2));
    many.fill(0, bytes.length - 2);
    new DataView(many.buffer).setUint32(4, 0, true);
    expect(readProblem(many)).toBe('set-aside too-large');
  });

  it('names its source and what to do', () => {
    const content = readContent(textBytes('hello'), 'holiday.gpx');
    expect(content).toMatchObject({
      problem: { source: 'holiday.gpx', message: expect.stringContaining('Export') },
    });
  });
});
