import type { Recording } from '../../core/ground/samples/recording.js';
import { crc16 } from './crc16.js';

const CHECKSUM_BYTES = 2;

/** One complete FIT file; a file may hold several, one after the other. */
export interface FitPart {
  /** Header and data, without the checksum; where the file was cut off, all that is left. */
  readonly bytes: Uint8Array;
  readonly headerSize: number;
  readonly damage: Recording['damage'];
}

/** Returns whether a FIT header stands here. Source: FIT SDK, decoder (".FIT" in bytes 8 to 11). */
export function isFitHeader(bytes: Uint8Array, at = 0): boolean {
  const size = bytes[at];
  return (
    (size === 12 || size === 14) &&
    at + size <= bytes.length &&
    bytes[at + 8] === 0x2e &&
    bytes[at + 9] === 0x46 &&
    bytes[at + 10] === 0x49 &&
    bytes[at + 11] === 0x54
  );
}

/** Returns the parts of a FIT file in order, and whether something that is no part follows them. */
export function splitFitParts(bytes: Uint8Array): { parts: FitPart[]; garbageAfter: boolean } {
  const parts: FitPart[] = [];
  let at = 0;
  while (at < bytes.length && isFitHeader(bytes, at)) {
    const part = partAt(bytes, at);
    parts.push(part);
    // A cut-off part has taken all that is left.
    at = part.damage === 'cut-off' ? bytes.length : at + part.bytes.length + CHECKSUM_BYTES;
  }
  return { parts, garbageAfter: at < bytes.length };
}

/** Returns whether every part is there to its end with its checksum right, and nothing follows. */
export function isWholeFit(bytes: Uint8Array): boolean {
  const { parts, garbageAfter } = splitFitParts(bytes);
  return parts.length > 0 && !garbageAfter && parts.every((part) => part.damage === null);
}

function partAt(bytes: Uint8Array, at: number): FitPart {
  const view = new DataView(bytes.buffer, bytes.byteOffset + at, bytes.length - at);
  const headerSize = view.getUint8(0);
  const dataSize = view.getUint32(4, true);
  const end = headerSize + dataSize;
  // A recorder writes the size last: 0 means that it was stopped before it could.
  if (dataSize === 0 || end + CHECKSUM_BYTES > view.byteLength) {
    const there = dataSize === 0 ? view.byteLength : Math.min(end, view.byteLength);
    return { bytes: bytes.subarray(at, at + there), headerSize, damage: 'cut-off' };
  }
  const body = bytes.subarray(at, at + end);
  const right = crc16(body) === view.getUint16(end, true);
  return { bytes: body, headerSize, damage: right ? null : 'checksum' };
}
