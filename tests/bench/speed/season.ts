/**
 * A season in one zip: real rides at other times and places by a fixed seed, taken by the built program.
 * STANCHION_BENCH_SEASON asks for fewer than 5000 rides.
 */

import { once } from 'node:events';
import { createWriteStream, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { crc32, deflateRawSync } from 'node:zlib';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { readContent } from '../../../src/files/readFile.js';
import { decodeFile } from '../../../src/flow/take/decodeFile.js';
import { DAY_MS } from '../../../src/units.js';
import type { Figure } from './figure.js';
import { NOW } from './ledgers.js';
import { measureTake, newLedger } from './measure.js';
import { movedFit, movedGpx } from './movedRide.js';

const FILES = Number(process.env.STANCHION_BENCH_SEASON ?? 5000);
const SEED = 'season';
const LAST = Date.UTC(2025, 5, 1, 7);
/** A compressed timestamp is told by its last five bits. */
const STEP_MS = 32_000;
const MOST_DEGREES = 3;
/** A third of what a ride took once. Units: milliseconds of the processor. */
const AIMS = { fit: 16 / 3, gpx: 85 / 3 } as const;
const LEAST_BUSY = 0.85;
const MOST_MB = 250;

type Format = keyof typeof AIMS;

interface RealRide {
  readonly bytes: Uint8Array;
  readonly start: number;
}

/** Returns the figures of both formats; none without a folder of recordings. */
export async function seasonFigures(folder: string): Promise<Figure[]> {
  const recordings = process.env.STANCHION_RECORDINGS;
  if (recordings === undefined) return [];
  const figures: Figure[] = [];
  for (const format of ['fit', 'gpx'] as const) {
    const path = join(mkdtempSync(join(folder, 'season-')), 'season.zip');
    await writeSeason(path, format, realRides(recordings, format));
    const one = await measureTake(await newLedger(folder), path, 'season.zip');
    rmSync(path);
    if (one.told !== FILES) throw new Error(`${one.told} of ${FILES} rides were told of`);
    if (one.counted < 0.9 * FILES) throw new Error(`${one.counted} counted: ${one.codes.join()}`);
    const what = `a season of ${FILES} rides, ${format}`;
    figures.push(
      {
        what: `${what}: processor a ride`,
        ...{ ours: (one.cpuS * 1000) / FILES, against: 'aim', other: AIMS[format], unit: 'ms', aim: 1 },
      },
      {
        what: `${what}: cores idle`,
        ...{ ours: 1 - one.busy, against: 'aim' },
        ...{ other: 1 - LEAST_BUSY, unit: 's', aim: 1 },
      },
      { what: `${what}: memory`, ours: one.peakMb, against: 'aim', other: MOST_MB, unit: 'MB', aim: 1 },
    );
  }
  return figures;
}

/** Rides on a bike about which nothing is asked. */
function realRides(recordings: string, format: Format): RealRide[] {
  return ['rides', 'tracks'].flatMap((folder) =>
    readdirSync(join(recordings, folder))
      .filter((name) => extname(name) === `.${format}` && statSync(join(recordings, folder, name)).size < 1e6)
      .flatMap((name) => {
        const bytes = readFileSync(join(recordings, folder, name));
        const { readings } = decodeFile(readContent, { bytes, name }, NOW);
        const [reading] = readings;
        const isPlain = readings.length === 1 && reading!.question === null && !reading!.indoor;
        return isPlain && reading!.start !== null ? [{ bytes, start: reading!.start }] : [];
      }),
  );
}

/** Writes a zip, a ride a day backwards. */
async function writeSeason(path: string, format: Format, rides: readonly RealRide[]): Promise<void> {
  const random = seededRandom(SEED);
  const out = createWriteStream(path);
  const directory: Buffer[] = [];
  let offset = 0;
  for (let i = 0; i < FILES; i += 1) {
    const { bytes, start } = rides[i % rides.length]!;
    const move = {
      ms: Math.round((LAST - i * DAY_MS - start) / STEP_MS) * STEP_MS,
      lat: (random() - 0.5) * MOST_DEGREES,
      lon: (random() - 0.5) * MOST_DEGREES,
    };
    const moved = format === 'fit' ? movedFit(bytes, move) : gpxOf(bytes, move);
    const { local, central } = zipEntry(`${i}.${format}`, moved, offset);
    directory.push(central);
    offset += local.length;
    if (!out.write(local)) await once(out, 'drain');
  }
  const size = directory.reduce((sum, one) => sum + one.length, 0);
  const counts = [le(0, 2), le(0, 2), le(FILES, 2), le(FILES, 2)];
  out.end(Buffer.concat([...directory, le(0x06054b50, 4), ...counts, le(size, 4), le(offset, 4), le(0, 2)]));
  await once(out, 'close');
}

const gpxOf = (bytes: Uint8Array, move: Parameters<typeof movedGpx>[1]): Uint8Array =>
  Buffer.from(movedGpx(Buffer.from(bytes).toString('utf8'), move));

/** Source: the ZIP file format, local file header and central directory header. */
function zipEntry(name: string, bytes: Uint8Array, offset: number): { local: Buffer; central: Buffer } {
  const packed = deflateRawSync(bytes, { level: 1 });
  const common = [
    le(0, 2),
    le(8, 2),
    le(0, 4),
    le(crc32(bytes), 4),
    le(packed.length, 4),
    le(bytes.length, 4),
  ];
  const named = Buffer.concat([...common, le(name.length, 2), le(0, 2)]);
  return {
    local: Buffer.concat([le(0x04034b50, 4), le(20, 2), named, Buffer.from(name), packed]),
    central: Buffer.concat([
      ...[le(0x02014b50, 4), le(0x0314, 2), le(20, 2), named, le(0, 2), le(0, 2), le(0, 2)],
      ...[le(0o100644 * 65536, 4), le(offset, 4), Buffer.from(name)],
    ]),
  };
}

function le(value: number, bytes: 2 | 4): Buffer {
  const buffer = Buffer.alloc(bytes);
  buffer.writeUIntLE(value, 0, bytes);
  return buffer;
}
