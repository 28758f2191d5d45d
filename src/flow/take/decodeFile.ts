import { type ReadHow, readRecording } from '../../core/ground/readRecording.js';
import type { Mark } from '../../core/ground/samples/placeMarks.js';
import { keptReading } from '../../core/ground/samples/reading.js';
import { ServiceError } from '../../errors.js';
import type { Decoded, FileContent } from '../../ports/reader.js';
import { type Problem, problem } from '../../problems.js';
import type { Instant } from '../../units.js';

/** Returns what a file says; of several recordings those that are no rides drop out. */
export function decodeFile(
  read: (bytes: Uint8Array, source: string) => FileContent,
  { bytes, name }: { readonly bytes: Uint8Array; readonly name: string },
  now: Instant,
  mark?: Mark,
): Decoded {
  try {
    return decodedFrom(read(bytes, name), name, { now, ...(mark && { mark }) });
  } catch (error) {
    if (error instanceof ServiceError) throw error;
    return { readings: [], outcome: 'set-aside', problem: problem('unreadable', faultMessage(error), name) };
  }
}

/** No file may stop the others, whatever it does to the decoder. */
const faultMessage = (error: unknown): string =>
  'It could not be read, by a fault of this program. Export the ride again, or enter its hours by hand. ' +
  `(For whoever mends it: ${error instanceof Error ? `${error.name}, ${error.message}` : String(error)}.)`;

/** Years of riding are fewer; what holds more is no ride file, and would keep all others waiting. */
const MOST_RIDES = 2000;

const tooMany = (name: string): Problem =>
  problem('too-large', `It holds more than ${MOST_RIDES} rides. Export them in several files.`, name);

function decodedFrom(content: FileContent, name: string, how: ReadHow): Decoded {
  if ('problem' in content) return { readings: [], outcome: content.outcome, problem: content.problem };
  const read = content.recordings.map((recording) => readRecording(recording, how));
  const readings = read.flatMap((one) => ('problem' in one ? [] : one.readings.map(keptReading)));
  if (readings.length > MOST_RIDES) return { readings: [], outcome: 'set-aside', problem: tooMany(name) };
  if (readings.length > 0) return { readings, outcome: 'ride', problem: null };
  for (const one of read)
    if ('problem' in one)
      return { readings, outcome: one.outcome, problem: { ...one.problem, source: name } };
  const nothing = problem('no-track', 'There is no recorded track in this file.', name);
  return { readings, outcome: 'no-ride', problem: nothing };
}
