/** By which way of deriving the derived rows of a workshop were made. */
export interface DerivedMark {
  get(): Promise<number>;
  set(way: number): Promise<void>;
}
