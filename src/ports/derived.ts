/** By which way of deriving the derived rows of a workshop were made. */
export interface DerivedMark {
  get(): Promise<number>;
  /** Whether the tables are a newer program's. */
  isNewer(): Promise<boolean>;
  set(way: number): Promise<void>;
}
