import { gzipSync } from 'node:zlib';
import type { Chance } from '../../samples/seeded.js';
import { type ZipEntry, zipFile } from '../fixtures/zipFile.js';
import { bent, joined, oneIn, pick, times, upTo } from './dice.js';
import { fitInput } from './fitInput.js';
import { gpxInput } from './gpxInput.js';

const NAMES = [
  'ride.fit',
  'a/b.gpx',
  '../up.fit',
  '/root.fit',
  'C:\\x.fit',
  'a\\b',
  '.hidden',
  '__MACOSX/x',
  'folder/',
  '',
  '\u0000',
  'x'.repeat(300),
  'b\u202etif',
  'a//b',
  './c',
  'inner.zip',
  'ride.gpx.gz',
  'con',
  '🚲.fit',
];
const MODES = [0o100644, 0o100644, 0, 0o120777, 0o020666, 0o040755];

/** Returns an archive that is nearly one: a zip or a gzip, some of them inside another, and wrong somewhere. */
export function zipInput(chance: Chance, depth = 0): Uint8Array {
  const bytes = oneIn(chance, 3)
    ? joined(
        gzipSync(content(chance, depth)),
        oneIn(chance, 6) ? gzipSync(content(chance, depth)) : new Uint8Array(),
      )
    : zipFile(times(pick(chance, [0, 1, 1, 2, 5, 12]), () => entry(chance, depth)));
  return oneIn(chance, 2) ? bent(chance, bytes) : bytes;
}

function content(chance: Chance, depth: number): Uint8Array {
  if (depth < 4 && oneIn(chance, 5)) return zipInput(chance, depth + 1);
  if (oneIn(chance, 200)) return new Uint8Array(upTo(chance, 4_000_000));
  return oneIn(chance, 2) ? fitInput(chance) : gpxInput(chance);
}

const entry = (chance: Chance, depth: number): ZipEntry => ({
  name: pick(chance, NAMES),
  bytes: content(chance, depth),
  mode: pick(chance, MODES),
  ...(oneIn(chance, 8) ? { declaredSize: pick(chance, [0, 1, 1000, 0xfffffffe, 0xffffffff]) } : {}),
  ...(oneIn(chance, 10) ? { flags: pick(chance, [1, 8, 0x40, 0x2000]) } : {}),
});
