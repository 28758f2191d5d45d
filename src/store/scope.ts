import { randomBytes } from 'node:crypto';
import type { RawBuilder, Transaction } from 'kysely';
import type { PlaceMarks } from '../core/ground/samples/placeMarks.js';
import type { Arrival } from '../ports/files.js';
import type { ReadingRow } from '../ports/readings.js';
import type { RidePart } from '../ports/rides.js';
import type { Direct } from './engine.js';
import type { TxFacts } from './known/keptFacts.js';
import { sizeOfRows, TxMemo } from './known/txMemo.js';
import type { Tables } from './tables.js';

/** Random and short enough to be typed from a screen: 60 bits in letters and digits that are not mistaken for one another. */
export function newId(): string {
  const alphabet = '23456789abcdefghjkmnpqrstuvwxyz0';
  if (chance.length < ID_BYTES) chance = randomBytes(ID_BYTES * 100);
  let id = '';
  for (let i = 0; i < ID_BYTES; i += 1) id += alphabet[chance[i]! & 31];
  chance = chance.subarray(ID_BYTES);
  return id;
}

const ID_BYTES = 12;
/** Bytes at random that no id was made of: asking for a few takes as long as for many. */
let chance = randomBytes(0);

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
  /** Asks at once; null where the database is elsewhere. */
  readonly direct: Direct | null;
  readonly clockMs: RawBuilder<number>;
  readonly facts: TxFacts;
  readonly known: TxKnown;
}

/** What a transaction read or wrote of recordings and rides. A late ride's neighbours are few. */
export interface TxKnown {
  readonly readings: TxMemo<ReadingRow>;
  /** By reading; null where they are gone. */
  readonly marks: TxMemo<PlaceMarks | null>;
  /** By file, in order. */
  readonly arrivals: TxMemo<readonly ArrivalRow[]>;
  /** By reading; null where it is in no ride. */
  readonly parts: TxMemo<RidePart | null>;
  /** By ride, as text: whoever asks for one gets one of its own. */
  readonly rides: TxMemo<string | null>;
  /** Questions about where recordings went. */
  readonly placed: TxMemo<readonly unknown[]>;
}

export interface ArrivalRow extends Arrival {
  readonly id: string;
}

export const nothingKnown = (): TxKnown => ({
  readings: new TxMemo(256),
  marks: new TxMemo(256),
  arrivals: new TxMemo(256),
  parts: new TxMemo(1000),
  rides: new TxMemo(256),
  placed: new TxMemo(2000, sizeOfRows),
});

/** Forgets all, where rows were written that nobody looked into. */
export function forgetKnown({ facts, known }: Pick<Scope, 'facts' | 'known'>): void {
  facts.forget();
  for (const memo of Object.values(known)) memo.forget();
}

/** SQLite refuses statements with more than some tens of thousands of parameters. */
export function* chunked<T>(items: readonly T[], size = 500): Generator<readonly T[]> {
  for (let i = 0; i < items.length; i += size) yield items.slice(i, i + size);
}
