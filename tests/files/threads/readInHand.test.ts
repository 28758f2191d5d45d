import { expect, test } from 'vitest';
import { type FileInHand, readerInHand } from '../../../src/files/threads/readInHand.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';

const ride = (points: number): FileInHand => ({
  name: 'a.gpx',
  bytes: textBytes(gpxText([{ segments: [straightTrack(Date.UTC(2026, 4, 1), points)] }])),
});

test('a file is read, and its bytes are let go of', async () => {
  const file = ride(20);
  const content = (await readerInHand(file))();
  expect(content).toMatchObject({ recordings: [{ samples: { count: 20 } }] });
  expect(file.bytes).toHaveLength(0);
});

test('of a large file too, whose memory is cleared at once', async () => {
  const file = ride(50_000);
  expect(file.bytes.length).toBeGreaterThan(4 * 1024 * 1024);
  const content = (await readerInHand(file))();
  expect(content).toMatchObject({ recordings: [{ samples: { count: 50_000 } }] });
  expect(file.bytes).toHaveLength(0);
});
