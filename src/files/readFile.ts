import type { FileContent } from '../ports/reader.js';
import { setAside } from './fileContent.js';
import { readFit } from './readFit.js';
import { ENTITIES_MESSAGE, readGpx } from './readGpx.js';
import { MOST_SAMPLES, TooManySamples } from './sampleColumns.js';
import { formatOf } from './sniff.js';

/** A day of samples each second is a few million bytes, as the wordiest GPX 35 million. Units: bytes. */
export const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

/** Returns what a ride file holds, by its content and never by its name. */
export function readContent(bytes: Uint8Array, source: string, largest = LARGEST_FILE_BYTES): FileContent {
  if (bytes.length > largest) return setAside('too-large', tooLargeMessage(largest), source);
  try {
    return contentOf(bytes, source);
  } catch (error) {
    if (error instanceof TooManySamples) return setAside('too-large', TOO_MANY, source);
    throw error;
  }
}

const TOO_MANY = `It holds more than ${MOST_SAMPLES / 1000} thousand points, which no ride does. Export the ride again.`;

function contentOf(bytes: Uint8Array, source: string): FileContent {
  switch (formatOf(bytes)) {
    case 'fit':
      return readFit(bytes, source);
    case 'gpx':
      return readGpx(bytes, source);
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
        'Neither a FIT nor a GPX file. Export the ride as one of these.',
        source,
      );
  }
}

export const tooLargeMessage = (largest: number): string =>
  `Larger than ${Math.floor(largest / (1024 * 1024))} MB, which no ride file is.`;
