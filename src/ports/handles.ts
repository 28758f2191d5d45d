export type HandleKind = 'rider' | 'bike' | 'unit' | 'fleet' | 'race';

/** What was named anew is still found by its earlier handles, until something else is given one of them. */
export interface HandleTable {
  find(kind: HandleKind, handle: string): Promise<string | undefined>;
  /** Earlier handles count too. */
  areMoreThan(kind: HandleKind, most: number): Promise<boolean>;
  /** Handle by id, of those named: of several the one given last. */
  listOf(kind: HandleKind, ids: readonly string[]): Promise<ReadonlyMap<string, string>>;
  /** Handle by id: of several the one given last. */
  all(kind: HandleKind): Promise<ReadonlyMap<string, string>>;
  /** Id by handle, earlier ones too. */
  names(kind: HandleKind): Promise<ReadonlyMap<string, string>>;
  /** Gives a handle, also one that something else had; `factSeq` is the number of the fact that says so. */
  give(kind: HandleKind, handle: string, entityId: string, factSeq: number): Promise<void>;
  /** Puts one handle in the place of all that it ever had. */
  forget(kind: HandleKind, entityId: string, handle: string): Promise<void>;
}

export const FOUND_KINDS = ['rider', 'unit', 'bike'] as const;
export type FoundKind = (typeof FOUND_KINDS)[number];

export interface FoundThing {
  readonly kind: FoundKind;
  readonly id: string;
}

/** By which words riders, units and bikes are found. It follows from names, facts and contacts as they stand. */
export interface FindTable {
  /** Those that every part is found in, at the start of a word or, from three signs on, within one. */
  find(parts: readonly string[], most: number): Promise<readonly FoundThing[]>;
  /** Makes all of them anew. */
  rebuild(): Promise<void>;
  /** What is stored otherwise than names, facts and contacts say. */
  differences(): Promise<readonly string[]>;
}
