import { recordingsBySession } from '../../core/ground/samples/bySession.js';
import { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Recording } from '../../core/ground/samples/recording.js';
import type { FileContent } from '../../ports/reader.js';
import { msOf } from '../../units.js';
import { noRide, setAside } from '../fileContent.js';
import { SampleColumns } from '../sampleColumns.js';
import { walkFrames } from './fitFrames.js';
import { type FitPart, splitFitParts } from './fitParts.js';
import { FIT_EPOCH_MS, FitRecordReader, RECORD_MESSAGE } from './fitRecords.js';
import { EVENT_MESSAGE, type FitSummary, readFitSummary, SUMMARY_MESSAGES } from './fitSummary.js';

/** Few records are shorter. */
const BYTES_A_RECORD = 20;

const NO_SUMMARY: FitSummary = {
  fileType: null,
  sessions: [],
  sport: null,
  subSport: null,
  timerEvents: [],
  sensors: [],
  timerS: null,
  recorder: { profileName: null, localOffsetMs: null, jumpCount: null, jumps: [] },
  serial: null,
};

interface PartContent {
  readonly recordings: readonly Recording[];
  readonly damage: Recording['damage'];
  readonly fileType: string | null;
}

/**
 * Returns the recordings in a FIT file: of each chained part, by session.
 * Errors: none; what keeps the file from being read is the problem in the answer.
 */
export function readFit(bytes: Uint8Array, source: string): FileContent {
  const { parts, garbageAfter } = splitFitParts(bytes);
  const contents = parts.map(readPart);
  const recordings = contents.flatMap((content) => content.recordings);
  const last = contents.at(-1);
  if (recordings.length > 0) {
    // Where nothing can be read of what comes last, the recording before it is what is incomplete.
    const lost = garbageAfter ? 'checksum' : last?.recordings.length === 0 ? last.damage : null;
    return { recordings: lost === null ? recordings : withDamage(recordings, lost) };
  }
  if (garbageAfter || contents.some((content) => content.damage !== null)) {
    return setAside(
      'unreadable',
      'The file is damaged and holds nothing that can be read. Copy or export it again.',
      source,
    );
  }
  const other = contents.find((content) => content.fileType !== null && content.fileType !== 'activity');
  if (other !== undefined) {
    return noRide(
      'not-an-activity',
      `A FIT file of another kind (${other.fileType}), not a recorded ride.`,
      source,
    );
  }
  return noRide('no-track', 'The file names an activity but holds no samples of it.', source);
}

function readPart(part: FitPart): PartContent {
  const notes = new NoteCounter();
  const columns = SampleColumns.for(part.bytes, BYTES_A_RECORD);
  const records = new FitRecordReader(part.bytes, columns, notes);
  const kept: Uint8Array[] = [];
  const eventTimesMs: number[] = [];
  const end = walkFrames(part.bytes, part.headerSize, {
    definition: (layout, from, to) => {
      if (SUMMARY_MESSAGES.has(layout.message)) kept.push(part.bytes.subarray(from, to));
    },
    data: (layout, from, to, time) => {
      if (layout.message === RECORD_MESSAGE) records.read(layout, from + 1, time);
      if (layout.message === EVENT_MESSAGE) eventTimesMs.push(FIT_EPOCH_MS + msOf(time));
      if (SUMMARY_MESSAGES.has(layout.message)) kept.push(part.bytes.subarray(from, to));
    },
  });
  const damage = end === 'inside' ? 'cut-off' : (part.damage ?? (end === 'lost' ? 'checksum' : null));
  const summary = readFitSummary(joined(part, kept), eventTimesMs);
  if (summary === null) notes.add('summary-unreadable');
  const { fileType, recorder, serial, ...said } = summary ?? NO_SUMMARY;
  const isActivity = fileType === null || fileType === 'activity';
  const ofAll = {
    format: 'fit' as const,
    damage,
    ...said,
    recorder: { ...recorder, motor: records.motor() },
    ...(serial !== null && { serial }),
  };
  const recordings = isActivity ? recordingsBySession(columns.samples(), ofAll, notes) : [];
  return { recordings, damage, fileType };
}

/** Records are read here, a column each; only the few other messages go through the decoder that knows the profile. */
function joined(part: FitPart, frames: readonly Uint8Array[]): Uint8Array {
  const size = frames.reduce((sum, frame) => sum + frame.length, 0);
  const out = new Uint8Array(part.headerSize + size);
  out.set(part.bytes.subarray(0, part.headerSize));
  new DataView(out.buffer).setUint32(4, size, true);
  let at = part.headerSize;
  for (const frame of frames) {
    out.set(frame, at);
    at += frame.length;
  }
  return out;
}

function withDamage(recordings: readonly Recording[], damage: Recording['damage']): Recording[] {
  return recordings.map((one, i) =>
    i === recordings.length - 1 ? { ...one, damage: one.damage ?? damage } : one,
  );
}
