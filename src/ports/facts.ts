import type { Fact, FactBodies, FactKind } from '../core/ledger/facts.js';
import type { Instant } from '../units.js';

export interface NewFact<K extends FactKind> {
  readonly kind: K;
  readonly body: FactBodies[K];
  readonly at: Instant;
  readonly by: string;
  readonly why?: string;
}

/** What is left of a fact’s words. */
export interface ErasedWords {
  readonly body: object;
  readonly why: string | null;
}

export interface FactTable {
  /** Adds a fact about a new entity, or about `entityId` where one is given. */
  add<K extends FactKind>(fact: NewFact<K> & { readonly entityId?: string }): Promise<Fact<K>>;
  /** Errors: `already-replaced` when somebody else replaced it first, `not-found`. */
  replace<K extends FactKind>(factId: string, fact: NewFact<K>): Promise<Fact<K>>;
  void(factId: string, by: string, at: Instant, why: string): Promise<Fact>;
  find(factId: string): Promise<Fact | undefined>;
  /** The fact in force about an entity: neither replaced nor void. */
  current<K extends FactKind>(kind: K, entityId: string): Promise<Fact<K> | undefined>;
  /**
   * Those in force, by what they are about (`subject`: a unit, a bike, a rider, a reading) or whom they touch (`object`;
   * null for those that touch nobody).
   */
  list<K extends FactKind>(
    kind: K,
    by?: { readonly subject?: string; readonly object?: string | null },
  ): Promise<readonly Fact<K>[]>;
  /** The bikes in force that belong to a fleet, whichever. */
  listFleetBikes(): Promise<readonly Fact<'bike'>[]>;
  /** The fittings in force that were to be a loan. */
  listLoans(): Promise<readonly Fact<'fitting'>[]>;
  listMany<K extends FactKind>(kind: K, subjects: readonly string[]): Promise<readonly Fact<K>[]>;
  /** The same of all that they touch. */
  listTouching<K extends FactKind>(kind: K, objects: readonly string[]): Promise<readonly Fact<K>[]>;
  /** Every version of a kind's facts that is not void, replaced ones too; of one entity where it is named. */
  versions<K extends FactKind>(kind: K, entityId?: string): Promise<readonly Fact<K>[]>;
  /** Every version of the facts that ever touched a subject, replaced and void ones too, in order of entry. */
  history(subject: string): Promise<readonly Fact[]>;
  /** Puts other words in the place of a fact’s own, in whichever version; what it is about and when stays. */
  erase(factId: string, words: ErasedWords, at: Instant): Promise<void>;
  /** Returns what is made of facts alone, and of what its name tells; it is made again only when there are other facts. */
  once<T>(name: string, make: () => Promise<T>): Promise<T>;
  count(): Promise<number>;
  /** Number of the last fact; 0 before any. */
  lastSeq(): Promise<number>;
}
