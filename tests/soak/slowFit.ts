import { crc16 } from '../../src/files/fit/crc16.js';
import { FitFile, fitTime } from '../fixtures/fitFile.js';

/** Timestamp, latitude and longitude, each of four bytes. Source: FIT SDK, messages `record` (20) and `file_id` (0). */
const FIELDS = [253, 4, 0x86, 0, 4, 0x85, 1, 4, 0x85] as const;
const RECORD_BYTES = 13;
/** A number that the profile does not have, of bytes. */
const UNKNOWN_FIELD = [250, 0x0d] as const;

/**
 * Returns a sound FIT file of many points to and fro at one place, which packs well and takes seconds to decode; with so
 * many bytes beside each that nobody reads.
 */
export function slowFit(startMs: number, points: number, beside = 0): Uint8Array {
  const [number, type] = UNKNOWN_FIELD;
  const fields = beside === 0 ? FIELDS : [...FIELDS, number, beside, type];
  const definition = Buffer.from([0x41, 0, 0, 20, 0, fields.length / 3, ...fields]);
  const recordBytes = RECORD_BYTES + beside;
  const records = Buffer.alloc(points * recordBytes);
  for (let i = 0; i < points; i += 1) {
    const at = i * recordBytes;
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
