import type { AccountTable } from './accounts.js';
import type { ClockWordTable } from './clock.js';
import type { ContactTable } from './contacts.js';
import type { CopyTable } from './copies.js';
import type { DerivedMark } from './derived.js';
import type { FactTable } from './facts.js';
import type { FileTable } from './files.js';
import type { FindTable, HandleTable } from './handles.js';
import type { InboxTable, MailedTable } from './inbox.js';
import type { LeadTable } from './leads.js';
import type { HeartbeatTable } from './loops.js';
import type { MailTable } from './mails.js';
import type { NoticeTable } from './notices.js';
import type { ReadingTable, RereadTable } from './readings.js';
import type { RideTable } from './rides.js';
import type { StandingTable } from './standings.js';

export interface Store {
  /** Under which places and numbers of recorders are marked; the store's own, carried wherever it goes. */
  readonly placeKey: string;
  /** The version of the program that wrote to it before this one; null where none is known. */
  readonly writtenBy: string | null;
  /** One transaction that takes the write lock at once. Nothing else is awaited inside it. */
  write<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  read<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  /** What the database itself says of its soundness. */
  integrity(): Promise<{
    readonly integrityFaults: readonly string[];
    readonly foreignKeyFaults: readonly string[];
  }>;
  close(): Promise<void>;
}

/** Everything one workshop's transaction can do; each query is limited to that workshop. */
export interface Tx {
  readonly workshopId: string;
  readonly facts: FactTable;
  readonly handles: HandleTable;
  readonly contacts: ContactTable;
  readonly findWords: FindTable;
  readonly files: FileTable;
  readonly readings: ReadingTable;
  readonly rides: RideTable;
  readonly standings: StandingTable;
  readonly notices: NoticeTable;
  readonly mails: MailTable;
  readonly mailed: MailedTable;
  readonly leads: LeadTable;
  readonly accounts: AccountTable;
  readonly inbox: InboxTable;
  readonly heartbeats: HeartbeatTable;
  readonly clockWord: ClockWordTable;
  readonly copies: CopyTable;
  readonly derived: DerivedMark;
  readonly rereads: RereadTable;
}
