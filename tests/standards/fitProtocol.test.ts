import { CrcCalculator, Decoder, Encoder, Profile, Stream } from '@garmin/fitsdk';
import { describe, expect, it } from 'vitest';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { crc16 } from '../../src/files/fit/crc16.js';
import { rolledOver } from '../../src/files/fit/fitFrames.js';
import { isWholeFit, splitFitParts } from '../../src/files/fit/fitParts.js';
import { readContent } from '../../src/files/readFile.js';
import { type FitField, FitFile, rideFit, straightRide } from '../fixtures/fitFile.js';

const bytesOf = (hex: string) => Uint8Array.from(Buffer.from(hex.replaceAll(' ', ''), 'hex'));
/** Source: a file of 50 bytes and its checksum in the FIT SDK's tests. */
const SMALL_FILE = bytesOf(
  '0E208B08240000002E4649548EA3 400000000004000100010284040486080A07 0004010000CA9A3B61626364656667686900 5DF2',
);
const RAW_TIME = 1_000_000_000;

function only(file: FitFile): Recording {
  const content = readContent(file.bytes(), 'a test');
  if ('problem' in content) throw new Error(content.problem.message);
  return content.recordings[0]!;
}
const record = (...fields: FitField[]) =>
  only(new FitFile().message(0, [[0, 'enum', 4]]).message(20, [[253, 'uint32', RAW_TIME], ...fields]))
    .samples;

describe('checksum', () => {
  // Source: FIT SDK, tests of its CRC calculator (vectors A and B); CRC-16/ARC, check value (vector C).
  it('gives the published values', () => {
    expect(crc16(bytesOf('0E208B08240000002E464954'))).toBe(0xa38e);
    expect(crc16(SMALL_FILE.subarray(0, 50))).toBe(0xf25d);
    expect(crc16(new TextEncoder().encode('123456789'))).toBe(0xbb3d);
    expect(isWholeFit(SMALL_FILE)).toBe(true);
  });

  // Source: FIT SDK, its CRC calculator run beside ours.
  it('agrees with the official calculator on any bytes', () => {
    for (let length = 0; length < 300; length += 7) {
      const bytes = Uint8Array.from({ length }, (_, i) => (i * 197 + length * 31) & 255);
      expect(crc16(bytes)).toBe(CrcCalculator.calculateCRC(bytes, 0, length));
    }
  });
});

describe('header', () => {
  // Source: FIT SDK: a header of 12 bytes, or of 14 whose checksum may be 0, which is not looked at.
  it('may go without its own checksum', () => {
    const bytes = rideFit({ samples: straightRide(Date.UTC(2024, 4, 1), 3) }).bytes();
    bytes[12] = 0;
    bytes[13] = 0;
    const body = bytes.subarray(0, bytes.length - 2);
    new DataView(bytes.buffer).setUint16(bytes.length - 2, crc16(body), true);
    expect(splitFitParts(bytes).parts[0]!.damage).toBeNull();
  });
});

describe('values', () => {
  // Source: FIT SDK, utils.js: 631065600000 ms between the UNIX and the FIT epoch.
  it('counts time from the last day of 1989', () => {
    expect(new Date(record().timeMs[0]!).toISOString()).toBe('2021-09-08T01:46:40.000Z');
  });

  // Source: FIT SDK, profile, record(20): altitude uint16 scale 5 offset 500; 7644 stands in one of its sample files.
  it('scales altitude, distance and speed as the profile says', () => {
    expect(record([2, 'uint16', 7644]).eleM[0]).toBe(1028.8);
    expect(record([2, 'uint16', 2500]).eleM[0]).toBe(0);
    expect(record([2, 'uint16', 0xffff]).eleM[0]).toBeNaN();
    expect(record([78, 'uint32', 7644]).eleM[0]).toBe(1028.8);
    expect(record([5, 'uint32', 1_246_605]).distM[0]).toBe(12_466.05);
    expect(record([6, 'uint16', 5123]).speedMps[0]).toBe(5.123);
    expect(record([73, 'uint32', 5123]).speedMps[0]).toBe(5.123);
  });

  // Source: degrees = raw * 180 / 2^31 (FIT SDK); the two values from the tests of a FIT library in Go.
  it('takes positions in semicircles', () => {
    const { lat, lon } = record([0, 'sint32', -91_900_524], [1, 'sint32', 1_319_585_919]);
    expect(lat[0]).toBeCloseTo(-7.703012935817242, 13);
    expect(lon[0]).toBeCloseTo(110.6064139958471, 12);
    expect(record([0, 'sint32', 0x7fffffff], [1, 'sint32', 1]).lat[0]).toBeNaN();
  });

  // Source: the FIT protocol document, quoted as such in the tests of an independent decoder.
  it('rolls compressed times over', () => {
    const offsets = [0x1d, 0x02, 0x05, 0x01];
    const times: number[] = [];
    for (const offset of offsets) times.push(rolledOver(times.at(-1) ?? 0x3b, offset));
    expect(times).toEqual([0x3d, 0x42, 0x45, 0x61]);
  });
});

/** What the official decoder reads, a number a sample. */
function official(bytes: Uint8Array): Record<string, unknown>[] {
  const { messages, errors } = new Decoder(Stream.fromByteArray([...bytes])).read({
    convertDateTimesToDates: false,
  });
  expect(errors).toEqual([]);
  return (messages.recordMesgs ?? []) as unknown as Record<string, unknown>[];
}

describe('beside the official SDK', () => {
  it('reads what its encoder writes', () => {
    const encoder = new Encoder();
    // Its types know no fields.
    const write = (number: number, fields: object) => encoder.onMesg(number, fields as never);
    write(Profile.MesgNum.FILE_ID, {
      type: 'activity',
      timeCreated: new Date(Date.UTC(2024, 4, 1)),
    });
    for (let i = 0; i < 50; i += 1) {
      write(Profile.MesgNum.RECORD, {
        timestamp: new Date(Date.UTC(2024, 4, 1, 9, 0, i)),
        positionLat: 100_000_000 + i * 1000,
        positionLong: -900_000_000 - i * 1000,
        enhancedAltitude: 100 + i * 0.2,
        distance: i * 5.25,
        enhancedSpeed: 5.25,
      });
    }
    write(Profile.MesgNum.SESSION, {
      startTime: new Date(Date.UTC(2024, 4, 1, 9)),
      timestamp: new Date(Date.UTC(2024, 4, 1, 9, 0, 50)),
      sport: 'eBiking',
      subSport: 'eBikeMountain',
      totalElapsedTime: 50.5,
      totalTimerTime: 49.25,
      totalDistance: 257.25,
    });
    const content = readContent(encoder.close(), 'a test');
    if ('problem' in content) throw new Error(content.problem.message);
    const [recording] = content.recordings;
    expect(recording).toMatchObject({ sport: 'e_biking', subSport: 'e_bike_mountain', damage: null });
    expect(recording!.claims).toEqual({ elapsedS: 50.5, timerS: 49.25, distanceM: 257.25 });
    expect(recording!.samples.count).toBe(50);
    expect(recording!.samples.timeMs[49]).toBe(Date.UTC(2024, 4, 1, 9, 0, 49));
    expect(recording!.samples.eleM[49]).toBeCloseTo(109.8, 9);
    expect(recording!.samples.distM[49]).toBe(257.25);
    expect(recording!.samples.lon[49]).toBeCloseTo((-900_049_000 * 180) / 2 ** 31, 12);
  });

  it('unpacks speed and distance in three bytes, past where the distance rolls over', () => {
    const packed = (speed: number, distance: number): FitField => [
      8,
      'byte',
      [speed & 255, (speed >> 8) | ((distance & 15) << 4), distance >> 4],
    ];
    const file = new FitFile().message(0, [[0, 'enum', 4]]);
    for (let i = 0; i < 40; i += 1) {
      const fields: FitField[] = [[253, 'uint32', RAW_TIME + i], packed(1000 + i, (i * 331) & 0xfff)];
      if (i === 0) file.message(20, fields, { local: 1 });
      else file.again(fields, { local: 1 });
    }
    const { distM, speedMps } = only(file).samples;
    const rows = official(file.bytes());
    expect(rows).toHaveLength(40);
    expect(rows.map((row) => row.distance)).toEqual([...distM]);
    expect(rows.map((row) => row.speed)).toEqual([...speedMps]);
    expect(distM[39]).toBe((39 * 331) / 16);
  });

  it('reads a field in the type it was written in, as it does', () => {
    const file = new FitFile().message(0, [[0, 'enum', 4]]).message(
      20,
      [
        [253, 'uint32', RAW_TIME],
        [2, 'uint32', 7644],
      ],
      { bigEndian: true },
    );
    expect(official(file.bytes())[0]!.altitude).toBe(1028.8);
    expect(only(file).samples.eleM[0]).toBe(1028.8);
  });
});
