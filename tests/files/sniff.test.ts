import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatOf } from '../../src/files/sniff.js';
import { rideFit } from '../fixtures/fitFile.js';
import { gpxText, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';

describe('formatOf', () => {
  it('tells formats by their first bytes', () => {
    const files = [
      new Uint8Array(),
      rideFit({ samples: [] }).bytes(),
      textBytes(gpxText([])),
      zipFile([{ name: 'a', bytes: textBytes('a') }]),
      zipFile([]),
      gzipSync('a'),
      textBytes('<!DOCTYPE gpx [<!ENTITY a "b">]><gpx/>'),
      textBytes('a,b\n1,2\n'),
    ];
    expect(files.map(formatOf)).toEqual(['empty', 'fit', 'gpx', 'zip', 'zip', 'gzip', 'entities', 'other']);
  });

  it('has an answer for any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 40 }), (bytes) => {
        expect(['fit', 'gpx', 'zip', 'gzip', 'entities', 'other']).toContain(formatOf(bytes));
      }),
    );
  });
});
