import type { PathTold } from '../core/fileTold.js';
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
  tell(folder: string, told: FolderTold): Promise<Problem | null>;
}

/** What is told in a folder. Shape: paths relative to it. */
export interface FolderTold {
  readonly language: string;
  readonly paths: readonly PathTold[];
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
export interface InboxRow extends PathTold {
  readonly bytes: number;
  readonly modifiedMs: number;
  /** Another whenever the content, or what the folder means, may be another. */
  readonly stamp: string;
  readonly seenAt: Instant;
}

export interface InboxTable {
  list(): Promise<readonly InboxRow[]>;
  put(row: InboxRow): Promise<void>;
  remove(paths: readonly string[]): Promise<void>;
}
/** A file that is being sent, on disk. */
export interface SentPart {
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
  begin(): Promise<SentPart>;
}
