/** What comes in by a folder, a page or a mailbox. */
import type { PathTold } from '../core/fileTold.js';
import type { MailFields } from '../core/mailedIn.js';
import type { TakeOutcome } from '../core/tokens.js';
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
  find(path: string): Promise<InboxRow | undefined>;
  /** When the file was seen first that has waited longest, of those that are still tried and not faulty. */
  oldestUntaken(): Promise<Instant | null>;
  /** Those that could not be used, at most so many: the latest, in order of their paths. */
  listSetAside(most: number): Promise<readonly InboxRow[]>;
  /** Which of these paths are there. */
  listThere(paths: readonly string[]): Promise<readonly string[]>;
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

/** A mailbox on a mail server. Nothing in it is marked, and nothing deleted. */
export interface Postbox {
  /** Opens it for a piece of work, which ends with the signal. Errors: ServiceError `mailbox-failed`. */
  visit<T>(signal: AbortSignal, work: (open: OpenPostbox) => Promise<T>): Promise<T>;
}

export interface OpenPostbox {
  /** Another where the mailbox was made anew: what was said of its numbers before holds no longer. Source: RFC 9051 2.3.1.1. */
  readonly validity: string;
  /** The first mails after a number, in order. */
  list(after: number, most: number): Promise<readonly MailHead[]>;
  /** The content of a part, decoded, cut after so many bytes. */
  read(uid: number, part: string, mostBytes: number): AsyncIterable<Uint8Array>;
  /** Moves a mail that was taken, where the owner named a folder for it. */
  putAway(uid: number): Promise<void>;
}

/** A mail before its content. */
export interface MailHead {
  readonly uid: number;
  readonly bytes: number;
  readonly arrivedAt: Instant;
  readonly fields: MailFields;
  /** What may be files; those of mails inside it too. */
  readonly parts: readonly MailPart[];
}

export interface MailPart {
  /** Its number within the mail. */
  readonly part: string;
  readonly name: string;
}

/** What became of a file that came by mail. */
export interface MailedFile {
  readonly name: string;
  readonly outcome: TakeOutcome;
  readonly indoor: boolean;
  readonly code: string | null;
  readonly rides: readonly string[];
}

/** A mail of a rider. */
export interface Mailed {
  readonly id: string;
  readonly riderId: string;
  readonly openedAt: Instant;
  readonly doneAt: Instant | null;
  readonly files: readonly MailedFile[];
}

/** A rider’s own word on rides by mail. */
export interface MailedRider {
  /** Addresses of an earlier epoch are void. */
  readonly epoch: number;
  /** Null where each mail is answered. */
  readonly answersStoppedAt: Instant | null;
  /** Null where what was found at a service is mailed. */
  readonly foundStoppedAt: Instant | null;
}

export interface MailedTable {
  /** The number of the last mail that was dealt with; 0 in a mailbox that was made anew. */
  lastUid(validity: string): Promise<number>;
  /** Goes past a mail; `isLeft`: it was nobody’s, and is counted. */
  pass(validity: string, uid: number, isLeft: boolean): Promise<void>;
  /** Mails of a rider that could not be read. */
  /** Those of any rider that came since a time. */
  countUnreadSince(since: Instant): Promise<number>;
  countUnread(riderId: string): Promise<number>;
  /** Mails that were nobody’s. */
  countLeft(): Promise<number>;
  /** Returns the mail with a key, noted now where it was not before; `isAgain` where it was. */
  begin(key: string, riderId: string, now: Instant): Promise<Mailed & { readonly isAgain: boolean }>;
  /** `answer` names the mail that will tell of it. */
  finish(
    id: string,
    said: { readonly files: readonly MailedFile[]; readonly answer: string | null },
    now: Instant,
  ): Promise<void>;
  listOfAnswer(answer: string): Promise<readonly Mailed[]>;
  lastOf(riderId: string): Promise<Mailed | undefined>;
  /** The bytes that a rider sent are not kept; how many mails came since a moment. */
  countSince(riderId: string, since: Instant): Promise<number>;
  rider(riderId: string): Promise<MailedRider>;
  setAnswersStopped(riderId: string, at: Instant | null): Promise<void>;
  setFoundStopped(riderId: string, at: Instant | null): Promise<void>;
  /** Makes the rider’s address void: another is shown from now on. */
  revoke(riderId: string): Promise<void>;
  forget(riderId: string): Promise<void>;
}
