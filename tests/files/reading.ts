import type { Recording } from '../../src/core/ground/samples/recording.js';
import { readContent } from '../../src/files/readFile.js';

/** Returns the recordings in a file that holds some. */
export function readRecordings(bytes: Uint8Array): readonly Recording[] {
  const content = readContent(bytes, 'a test');
  if ('problem' in content) throw new Error(`${content.problem.code}: ${content.problem.message}`);
  return content.recordings;
}

/** Returns outcome and code of a file that holds none. */
export function readProblem(bytes: Uint8Array): string {
  const content = readContent(bytes, 'a test');
  if ('recordings' in content) throw new Error(`${content.recordings.length} recordings`);
  return `${content.outcome} ${content.problem.code}`;
}
