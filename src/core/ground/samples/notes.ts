import type { Note } from './recording.js';

/** Everything peculiar that a reader sees and handles. */
export type NoteCode =
  | 'time-missing'
  | 'time-backward'
  | 'time-unset'
  | 'time-far-off'
  | 'time-malformed'
  | 'time-without-zone'
  | 'position-malformed'
  | 'position-out-of-range'
  | 'elevation-malformed'
  | 'elevation-out-of-range'
  | 'speed-malformed'
  | 'speed-out-of-range'
  | 'distance-out-of-range'
  | 'speed-and-distance-packed'
  | 'spans-reordered'
  | 'tracks-joined'
  | 'prefix-undeclared'
  | 'summary-unreadable';

/** Counts what was seen and handled while one file is read. */
export class NoteCounter {
  readonly #counts: Map<string, number>;

  /** Starts from what was counted before. */
  constructor(before: readonly Note[] = []) {
    this.#counts = new Map(before.map(({ code, count }) => [code, count]));
  }

  add(code: NoteCode, count = 1): void {
    if (count > 0) this.#counts.set(code, (this.#counts.get(code) ?? 0) + count);
  }

  /** Returns what was counted, by code in the order of the alphabet. */
  list(): Note[] {
    return [...this.#counts]
      .map(([code, count]) => ({ code, count }))
      .sort((a, b) => (a.code < b.code ? -1 : 1));
  }
}
