import type { PlaceMarks } from '../core/ground/samples/placeMarks.js';
import type { KeptReading, ReadingSaid } from '../core/ground/samples/reading.js';
import type { RereadFact } from '../core/ledger/facts.js';
import type { Instant } from '../units.js';
import type { FileRow } from './files.js';

export interface ReadingRow {
  readonly id: string;
  readonly fileId: string;
  readonly part: number;
  /** As its file was read last. */
  readonly reading: ReadingSaid;
  /**
   * Where the last look at its file left it as it was: `lost`, for the file no longer holds such a ride by this reader;
   * `kept`, for the file is there no more or could not be read.
   */
  readonly leftAs: 'lost' | 'kept' | null;
}

export interface ReadingTable {
  /** The reading's marks are kept apart from it. */
  add(fileId: string, part: number, reading: KeptReading): Promise<ReadingRow>;
  listOfFile(fileId: string): Promise<readonly ReadingRow[]>;
  getMany(ids: readonly string[]): Promise<readonly ReadingRow[]>;
  /** The profiles of these readings as they are kept, by id. */
  listProfiles(ids: readonly string[]): Promise<ReadonlyMap<string, string>>;
  listIds(): Promise<readonly string[]>;
  /** At least those with a sensor, a recorder's mark or a profile's name: all that can teach whose or which. */
  listTeaching(): Promise<readonly string[]>;
  /** Where these readings were, of those that still have marks, by id. */
  listMarks(ids: readonly string[]): Promise<ReadonlyMap<string, PlaceMarks>>;
  putMarks(id: string, marks: PlaceMarks): Promise<void>;
  /** Leaves of the marks nothing but which recorder it was. */
  removePlaces(ids: readonly string[]): Promise<void>;
  removeMarks(ids: readonly string[]): Promise<void>;
}

/** What became of a reading when its file was read again. */
export type Reread =
  | { readonly outcome: 'same' | 'lost' | 'kept' }
  | { readonly outcome: 'read'; readonly reading: KeptReading };

/** The reading anew of files that an earlier reader read. */
export interface RereadTable {
  /** A file with readings of an earlier reader, and how it came first. */
  next(version: number): Promise<Pick<FileRow, 'id' | 'sha256'> | undefined>;
  /** Readings of an earlier reader. */
  count(version: number): Promise<number>;
  put(readingId: string, version: number, reread: Reread, at: Instant): Promise<void>;
  /** Lets these be read again by the same reader: their file is there again. */
  retry(readingIds: readonly string[]): Promise<void>;
  /** Of some readings those that stayed as they were, because their file is no longer kept. */
  listKept(readingIds: readonly string[]): Promise<readonly string[]>;
  /** Counts a file, and adds by how much units' hours changed to what is kept of the reading under way. */
  addUp(of: Omit<RereadFact, 'version'>): Promise<void>;
  /** Returns what was added up, and begins anew. */
  takeSum(): Promise<Omit<RereadFact, 'version'>>;
}
