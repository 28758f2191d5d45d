import type { Note } from './recording.js';

/** Everything peculiar that a reader sees, or the core, and handles. */
export type NoteCode =
  | 'time-missing'
  | 'time-backward'
  | 'time-unset'
  | 'time-far-off'
  | 'time-malformed'
  | 'time-without-zone'
  | 'clock-wrong'
  | 'position-malformed'
  | 'position-out-of-range'
  | 'position-impossible'
  | 'position-jump'
  | 'elevation-malformed'
  | 'elevation-out-of-range'
  | 'elevation-impossible'
  | 'elevation-flat'
  | 'speed-malformed'
  | 'speed-out-of-range'
  | 'speed-unsound'
  | 'speed-unit'
  | 'distance-out-of-range'
  | 'distance-backwards'
  | 'distance-unsound'
  | 'distance-unit'
  | 'distance-jump'
  | 'speed-and-distance-packed'
  | 'spans-reordered'
  | 'tracks-joined'
  | 'timer-start-missing'
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

/** Returns a note of each that was seen at all. */
export const notesOf = (counts: { readonly [K in NoteCode]?: number }): Note[] =>
  Object.entries(counts).flatMap(([code, count]) => (count > 0 ? [{ code, count }] : []));

/** Returns each code once, where it was first noted: more than one stage may note the same. */
export function summedNotes(notes: readonly Note[]): Note[] {
  const counts = new Map<string, number>();
  for (const { code, count } of notes) counts.set(code, (counts.get(code) ?? 0) + count);
  return [...counts].map(([code, count]) => ({ code, count }));
}
