import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { isWhole, isWholeFile } from '../../src/files/isWhole.js';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';

const T = Date.UTC(2024, 4, 1, 9);
const fit = rideFit({ samples: straightRide(T, 5) }).bytes();
const text = gpxText([{ segments: [straightTrack(T, 5)] }]).trimEnd();
const WHOLE: Readonly<Record<string, Uint8Array>> = {
  fit,
  'chained fit': Uint8Array.from([...fit, ...fit]),
  gpx: textBytes(text),
  'gpx in two bytes a character': Uint8Array.from(Buffer.from(`\ufeff${text}`, 'utf16le')),
  zip: zipFile([{ name: 'a.fit', bytes: fit }]),
  gzip: gzipSync(fit),
};

describe('isWhole', () => {
  it.each(Object.entries(WHOLE))('sees a %s as whole only with its last byte', (_name, bytes) => {
    expect(isWhole(bytes)).toBe(true);
    for (let length = bytes.length - 1; length > bytes.length - 40; length -= 1) {
      expect(isWhole(bytes.subarray(0, length)), `length ${length}`).toBe(false);
    }
    // Room kept for a file that is still being copied reads as zeros.
    const room = new Uint8Array(bytes.length);
    room.set(bytes.subarray(0, bytes.length - 10));
    expect(isWhole(room)).toBe(false);
  });

  it('allows white space and remarks after a GPX, and knows no end of anything else', () => {
    expect(isWhole(textBytes(`${text}\r\n`))).toBe(true);
    expect(isWhole(textBytes(`${text}\n<!-- one --><!-- two -->\n`))).toBe(true);
    expect(isWhole(textBytes(`${text}\n-->`))).toBe(false);
    expect([new Uint8Array(), textBytes('hello'), textBytes('<html></html>')].map(isWhole)).toEqual([
      false,
      false,
      false,
    ]);
  });

  it('says the same of files on disk', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'whole-'));
    try {
      for (const [name, bytes] of Object.entries(WHOLE)) {
        writeFileSync(join(folder, name), bytes);
        expect(await isWholeFile(join(folder, name)), name).toBe(true);
        writeFileSync(join(folder, name), bytes.subarray(0, bytes.length - 3));
        expect(await isWholeFile(join(folder, name)), name).toBe(false);
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
