import type { Migration } from 'kysely';
import * as createLedger from './0001_create_ledger.js';

/** All migrations by name, in order; a store with one that is not here was made by a newer program. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0001_create_ledger': createLedger,
};
