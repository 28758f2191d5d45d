import { RIDE_FORMATS, type RideFormat } from '../core/tokens.js';
import type { FileContent } from '../ports/reader.js';
import { ENTITIES_MESSAGE, LARGEST_FILE_BYTES, setAside, tooLargeMessage } from './fileContent.js';
import { MOST_SAMPLES, TooManySamples } from './sampleColumns.js';
import { formatOf, isRideFormat } from './sniff.js';

type Reader = (bytes: Uint8Array, source: string) => FileContent;
/** Who reads each format. */
export type Readers = Readonly<Record<RideFormat, Reader>>;

/** Returns what a ride file holds, by its content and never by its name. */
export function readWith(
  readers: Readers,
  bytes: Uint8Array,
  source: string,
  largest = LARGEST_FILE_BYTES,
): FileContent {
  if (bytes.length > largest) return setAside('too-large', tooLargeMessage(largest), source);
  try {
    return contentOf(readers, bytes, source);
  } catch (error) {
    if (error instanceof TooManySamples) return setAside('too-large', TOO_MANY, source);
    throw error;
  }
}

const TOO_MANY = `It holds more than ${MOST_SAMPLES / 1000} thousand points, which no ride does. Export the ride again.`;

function contentOf(readers: Readers, bytes: Uint8Array, source: string): FileContent {
  const format = formatOf(bytes);
  if (isRideFormat(format)) return readers[format](bytes, source);
  switch (format) {
    case 'entities':
      return setAside('xml-entities', ENTITIES_MESSAGE, source);
    case 'empty':
      return setAside('empty', 'The file is empty. Copy or export it again.', source);
    case 'zip':
    case 'gzip':
      return setAside(
        'not-fit-or-gpx',
        'An archive inside archives is not opened further. Unpack it first.',
        source,
      );
    case 'other':
      return setAside(
        'not-fit-or-gpx',
        'No ride file: neither FIT nor GPX nor TCX. Export the ride as one of these.',
        source,
      );
  }
}

const LOAD: Readonly<Record<RideFormat, () => Promise<Reader>>> = {
  fit: async () => (await import('./fit/readFit.js')).readFit,
  gpx: async () => (await import('./gpx/readGpx.js')).readGpx,
  tcx: async () => (await import('./tcx/readTcx.js')).readTcx,
};

const NOT_LOADED = (): never => {
  throw new Error('its first bytes name another format');
};

/** Returns what reads this content, with the one parser loaded that it needs. */
export async function readerFor(
  content: Uint8Array,
): Promise<(bytes: Uint8Array, source: string) => FileContent> {
  const format = formatOf(content);
  const readers = Object.fromEntries(
    await Promise.all(
      RIDE_FORMATS.map(async (one) => [one, one === format ? await LOAD[one]() : NOT_LOADED] as const),
    ),
  ) as Readers;
  return (bytes, source) => readWith(readers, bytes, source);
}
