import { describe, expect, it } from 'vitest';
import { mayBeRide } from '../../src/files/mayBeRide.js';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';

const T = Date.UTC(2024, 4, 1, 9);
const photo = textBytes('no ride at all');

describe('mayBeRide', () => {
  it('knows rides, archives of them and empty files by content, whatever they are called', () => {
    const fit = rideFit({ samples: straightRide(T, 3) }).bytes();
    const gpx = textBytes(gpxText([{ segments: [straightTrack(T, 3)] }]));
    for (const bytes of [fit, gpx, zipFile([{ name: 'a.fit', bytes: fit }]), new Uint8Array()])
      expect(mayBeRide({ name: 'export.zip/20240501', bytes })).toBe(true);
  });

  it('takes a damaged file at its name, and nothing else', () => {
    for (const name of ['a.fit', 'export.zip/B.GPX', 'c.fit.gz'])
      expect(mayBeRide({ name, bytes: photo }), name).toBe(true);
    for (const name of ['a.jpg', 'export.zip/fit', 'rides.csv', 'a.txt'])
      expect(mayBeRide({ name, bytes: photo }), name).toBe(false);
  });
});
