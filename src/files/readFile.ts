import type { FileContent } from '../ports/reader.js';
import { readFit } from './fit/readFit.js';
import { readGpx } from './gpx/readGpx.js';
import { readWith } from './readWith.js';
import { readTcx } from './tcx/readTcx.js';

/** Returns what a ride file holds, by its content and never by its name. */
export const readContent = (bytes: Uint8Array, source: string, largest?: number): FileContent =>
  readWith({ fit: readFit, gpx: readGpx, tcx: readTcx }, bytes, source, largest);
