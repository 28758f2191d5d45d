import type { Fact } from '../../core/ledger/facts.js';
import { sizeOfRows, TxMemo } from './txMemo.js';

/** A fact in force, and the place in the order of entry that it has from the first that it corrects. */
export interface FactInForce {
  readonly fact: Fact;
  readonly first: number;
}

/** A fact takes half a kilobyte. */
const MOST_FACTS = 2000;
const MOST_MADE = 300;

/** Facts as they were read. */
class Facts {
  readonly memo = new TxMemo<readonly FactInForce[]>(MOST_FACTS, sizeOfRows);
  /** Those about recordings, which are as many as these. */
  readonly ofRecordings = new TxMemo<readonly FactInForce[]>(MOST_FACTS, sizeOfRows);
  /** What was made of them, by name. */
  readonly made = new TxMemo<{ readonly of: unknown }>(MOST_MADE);
  /** The last of all; null where it was not asked for. */
  lastSeq: number | null = null;
}

/**
 * Facts that were read in earlier transactions. They hold as long as nobody else wrote to the database, which only one in
 * a file can say. What is written here drops them.
 */
export class KeptFacts {
  #facts = new Facts();
  #change: number | null = null;

  /** Returns what is known at a change of the database; nothing where it cannot say. */
  at(change: number | null): Facts {
    if (change === null) return new Facts();
    if (change !== this.#change) this.drop();
    this.#change = change;
    return this.#facts;
  }

  drop(): void {
    this.#facts = new Facts();
  }
}

/** The facts of one transaction: those kept, until it writes one itself. */
export class TxFacts {
  #facts: Facts;
  readonly #kept: KeptFacts | null;

  constructor(change: number | null = null, kept: KeptFacts | null = null) {
    this.#kept = kept;
    this.#facts = kept?.at(change) ?? new Facts();
  }

  get known(): Facts {
    return this.#facts;
  }

  /** What it writes may be taken back with it, so that others never read it from here. */
  forget(): void {
    this.#kept?.drop();
    this.#facts = new Facts();
  }
}
