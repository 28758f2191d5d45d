import type { FileWay } from '../core/tokens.js';
import type { Instant } from '../units.js';

/** A file as it was taken: what it was, once and for all. */
export interface FileRow {
  readonly id: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly riderId: string | null;
  readonly outcome: 'ride' | 'no-ride' | 'set-aside';
  readonly code: string | null;
  readonly reason: string | null;
}

/** One handing-over of a file: where it lay and what that says. */
export interface Arrival {
  readonly fileId: string;
  readonly name: string;
  readonly riderId: string | null;
  readonly bikeId: string | null;
  /** `subfolder` without a bike: a folder that is named like no bike we know. */
  readonly rule: 'chosen' | 'subfolder' | null;
  /** Null where an earlier program took it. */
  readonly way: FileWay | null;
  readonly at: Instant;
  /** The last fact when it came: what was known then. */
  readonly afterFact: number;
}

/** A file as it was handed over last, for whoever wants to see what came in. */
export interface CameIn {
  readonly fileId: string;
  readonly at: Instant;
  readonly name: string;
  readonly riderId: string | null;
  /** That it was handed over for. */
  readonly bikeId: string | null;
  readonly outcome: FileRow['outcome'];
  readonly code: string | null;
}

export interface FileTable {
  /** The latest handings-over since a moment, newest first. */
  listCameIn(since: Instant, most: number): Promise<readonly CameIn[]>;
  /** Handings-over since a moment by what the file was. */
  countCameIn(since: Instant): Promise<Readonly<Partial<Record<FileRow['outcome'], number>>>>;
  /** Each rider's copy of the same content. */
  list(sha256: string): Promise<readonly FileRow[]>;
  add(file: Omit<FileRow, 'id'>): Promise<FileRow>;
  addArrival(arrival: Arrival): Promise<void>;
  listArrivals(fileIds: readonly string[]): Promise<readonly Arrival[]>;
  /** Contents that nobody handed over at that moment or later. */
  listHashesBefore(at: Instant): Promise<readonly string[]>;
  /** Those that a rider handed over, and those of nobody in particular that turned out to be the rider’s. */
  listOfRider(riderId: string): Promise<readonly FileRow[]>;
  /** Puts one name in the place of all that a rider's files had. */
  renameArrivals(riderId: string, name: string): Promise<void>;
}
