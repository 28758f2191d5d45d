import type { Kysely, RawBuilder, Transaction } from 'kysely';
import type { Store } from '../ports/store.js';
import type { Tables } from './tables.js';

/** Returns the rows of a statement. */
export type Direct = (text: string, values: readonly unknown[]) => readonly unknown[];

/** What each kind of database does in a way of its own. */
export interface Engine {
  /** Asks within the transaction under way at once, where the database is in this process. */
  readonly direct: { readonly writing: Direct; readonly reading: Direct } | null;
  /** Where the tables are made and changed. */
  readonly writing: Kysely<Tables>;
  /** Runs a transaction in which one writer at a time is in the workshop; waits for the one before it. */
  write<T>(workshopId: string, work: (db: Transaction<Tables>) => Promise<T>): Promise<T>;
  /** A number that is another once anybody else wrote to the store; null where it cannot be told. */
  change(db: Transaction<Tables>): Promise<number | null>;
  /** Runs a transaction that sees one moment's state and changes nothing. */
  read<T>(work: (db: Transaction<Tables>) => Promise<T>): Promise<T>;
  /** Whether other machines work on the same store. */
  readonly isShared: boolean;
  /** The database's own clock, the same for all who use it. Units: milliseconds of Unix time. */
  readonly clockMs: RawBuilder<number>;
  integrity(): ReturnType<Store['integrity']>;
  close(): Promise<void>;
}
