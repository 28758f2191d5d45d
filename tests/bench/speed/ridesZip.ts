import { gzipSync } from 'node:zlib';
import { rideFit, straightRide } from '../../fixtures/fitFile.js';
import { zipFile } from '../../fixtures/zipFile.js';

const DAY_MS = 86_400_000;
const LAST = Date.UTC(2025, 5, 1, 7);

/** Returns a zip of so many invented rides, half an hour and more each, one a day backwards; every tenth is packed itself. */
export function ridesZip(files: number): Uint8Array {
  const entries = Array.from({ length: files }, (_, i) => {
    const startMs = LAST - i * DAY_MS;
    const fit = rideFit({
      samples: straightRide(startMs, 1801 + (i % 7) * 60, 4 + (i % 5) * 0.5),
      sessions: [{ startMs, sport: 2 }],
    }).bytes();
    return i % 10 === 0
      ? { name: `export/${i}.fit.gz`, bytes: gzipSync(fit) }
      : { name: `export/${i}.fit`, bytes: fit };
  });
  return zipFile(entries);
}
