import { crc16 } from '../../src/files/fit/crc16.js';
import { FitFile, fitTime } from '../fixtures/fitFile.js';

/** Timestamp, latitude and longitude, each of four bytes. Source: FIT SDK, messages `record` (20) and `file_id` (0). */
const FIELDS = [253, 4, 0x86, 0, 4, 0x85, 1, 4, 0x85] as const;
const RECORD_BYTES = 13;

/** Returns a sound FIT file of many points to and fro at one place, which packs well and takes seconds to decode. */
export function slowFit(startMs: number, points: number): Uint8Array {
  const definition = Buffer.from([0x41, 0, 0, 20, 0, FIELDS.length / 3, ...FIELDS]);
  const records = Buffer.alloc(points * RECORD_BYTES);
  for (let i = 0; i < points; i += 1) {
    const at = i * RECORD_BYTES;
    records[at] = 1;
    records.writeUInt32LE(fitTime(startMs) + i, at + 1);
    records.writeInt32LE(480_000_000 + (i % 7) * 300, at + 5);
    records.writeInt32LE(-350_000_000 + (i % 5) * 300, at + 9);
  }
  const whole = Buffer.from(new FitFile().message(0, [[0, 'enum', 4]]).bytes());
  const data = Buffer.concat([whole.subarray(14, -2), definition, records]);
  const head = Buffer.from(whole.subarray(0, 14));
  head.writeUInt32LE(data.length, 4);
  head.writeUInt16LE(crc16(head.subarray(0, 12)), 12);
  const all = Buffer.concat([head, data]);
  const end = Buffer.alloc(2);
  end.writeUInt16LE(crc16(all));
  return Buffer.concat([all, end]);
}
