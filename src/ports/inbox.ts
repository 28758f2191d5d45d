import type { ToldOutcome } from '../core/tokens.js';
import type { Problem } from '../problems.js';
import type { Instant } from '../units.js';

/** The drop folder: `<rider>/[<bike>/]file`. Nothing in it is ever moved or deleted. */
export interface Inbox {
  /**
   * Returns every file below it, a full scan; `problems` name what is no plain file. A folder that is gone (`missing`:
   * unmounted, renamed) or holds nothing at all says nothing of the files that lay in it.
   */
  scan(): Promise<
    { readonly files: readonly InboxFile[]; readonly problems: readonly Problem[] } | 'missing' | 'empty'
  >;
  /** Writes what became of each file into the rider's folder; returns why it could not. */
  tell(folder: string, text: string): Promise<Problem | null>;
}

/** What riders are told of the files in their folder, in one language. */
export interface FolderWords {
  readonly title: string;
  readonly said: Readonly<Record<ToldOutcome, string>>;
  /** Returns why, to follow what was said; null where there is nothing to add. */
  readonly why: (code: string | null, reason: string | null) => string | null;
  /** Of a file that is not taken yet. */
  readonly waits: (reason: string | null) => string;
  /** Of an archive that is being read. */
  readonly soFar: (count: number) => string;
  /** How many more there are than are named. */
  readonly more: (count: number) => string;
}

export interface InboxFile {
  /** Relative to the drop folder, with slashes. */
  readonly path: string;
  /** On disk. */
  readonly at: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** When anything about it last changed, its time of modification set back included. */
  readonly changedMs: number;
}

/** What became of a path in the drop folder, for as long as the file there stays the same. */
export interface InboxRow {
  readonly path: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** Another whenever the content, or what the folder means, may be another. */
  readonly stamp: string;
  readonly seenAt: Instant;
  readonly settled: boolean;
  readonly outcome: string | null;
  readonly code: string | null;
  readonly reason: string | null;
}

export interface InboxTable {
  list(): Promise<readonly InboxRow[]>;
  put(row: InboxRow): Promise<void>;
  remove(paths: readonly string[]): Promise<void>;
}
/** A file that is being sent, on disk. */
export interface Part {
  readonly path: string;
  /** Returns whether there was room for it. Errors: ServiceError `disk-failed`. */
  add(bytes: Uint8Array): Promise<boolean>;
  /** Ends the writing. Errors: ServiceError `disk-failed`. */
  close(): Promise<void>;
  /** Leaves nothing of it. */
  remove(): Promise<void>;
}

/** Where files lie while they are sent and read. All of them together take no more than a set room. */
export interface Parts {
  /** Errors: ServiceError `disk-failed`. */
  begin(): Promise<Part>;
}
