/** What of a rider lies outside the store, and who was forgotten. */
export interface Forgetting {
  /** Writes down an id that says nothing, so that a backup from before that is restored forgets it again. */
  note(riderId: string): Promise<void>;
  list(): Promise<readonly string[]>;
  /** Removes originals and photographs by hash and mails by message id; what is not there is no fault. Errors: `disk-failed`. */
  remove(of: {
    readonly originals: readonly string[];
    readonly photos: readonly string[];
    readonly messageIds: readonly string[];
  }): Promise<void>;
  /** Whether a rider of that handle has a drop folder; it is the rider's own, and nothing in it is deleted here. */
  hasFolder(handle: string): boolean;
}
