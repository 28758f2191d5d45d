import { RIDE_FORMATS, type RideFormat } from '../core/tokens.js';
import { isFitHeader } from './fit/fitParts.js';
import { xmlStartOf } from './xml/xmlText.js';

export type Format = RideFormat | 'empty' | 'zip' | 'gzip' | 'entities' | 'other';

export const isRideFormat = (format: Format): format is RideFormat =>
  (RIDE_FORMATS as readonly Format[]).includes(format);

/** XML formats, by their root element. */
const ROOTS: ReadonlyMap<string, RideFormat> = new Map([
  ['gpx', 'gpx'],
  ['TrainingCenterDatabase', 'tcx'],
]);

/** Returns what a file is by its first bytes, whatever its name says. */
export function formatOf(bytes: Uint8Array): Format {
  if (bytes.length === 0) return 'empty';
  if (isFitHeader(bytes)) return 'fit';
  if (startsWith(bytes, 0x1f, 0x8b)) return 'gzip';
  if (startsWith(bytes, 0x50, 0x4b, 0x03, 0x04) || startsWith(bytes, 0x50, 0x4b, 0x05, 0x06)) return 'zip';
  const { root, entities } = xmlStartOf(bytes);
  if (entities) return 'entities';
  return ROOTS.get(root ?? '') ?? 'other';
}

const startsWith = (bytes: Uint8Array, ...first: number[]): boolean =>
  first.every((byte, i) => bytes[i] === byte);
