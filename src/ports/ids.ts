/** Randomness: an id that nobody can guess. */
export interface Ids {
  uuid(): string;
}
