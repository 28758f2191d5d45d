import { randomBytes } from 'node:crypto';
import type { RawBuilder, Transaction } from 'kysely';
import type { Fact } from '../core/ledger/facts.js';
import type { ReadingRow } from '../ports/readings.js';
import type { Tables } from './tables.js';
import type { TxMemo } from './txMemo.js';

/** Random and short enough to be typed from a screen: 60 bits in letters and digits that are not mistaken for one another. */
export function newId(): string {
  const alphabet = '23456789abcdefghjkmnpqrstuvwxyz0';
  return [...randomBytes(12)].map((byte) => alphabet[byte & 31]).join('');
}

/** Returns a key that nobody can guess. */
export const newKey = (): string => randomBytes(32).toString('base64');

/** What each noun's queries are made from. */
export interface Scope {
  readonly db: Transaction<Tables>;
  readonly workshopId: string;
  /** Whose drop folder is meant. */
  readonly home: string;
  /** Who asks, among all that work on the store. */
  readonly worker: string;
  readonly isShared: boolean;
  readonly clockMs: RawBuilder<number>;
  readonly facts: TxMemo<Fact>;
  readonly readings: TxMemo<ReadingRow>;
}

/** SQLite refuses statements with more than some tens of thousands of parameters. */
export function* chunked<T>(items: readonly T[], size = 500): Generator<readonly T[]> {
  for (let i = 0; i < items.length; i += size) yield items.slice(i, i + size);
}
