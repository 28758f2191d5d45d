/** Which recordings may have to do with one another, so that a ledger of any size is settled some at a time. */
import { groupBy } from '../groupBy.js';
import { LARGEST_SHIFT_MS } from './rhythm.js';
import { CLOCK_SKEW_MS } from './sameRide.js';
import type { OwnPlace } from './settle.js';

/** Where a recording stands by itself. */
export interface PlacedReading extends OwnPlace {
  readonly readingId: string;
}

/**
 * Returns the readings in sets of which none has to do with another: what is settled of one set by itself is what would
 * be settled of it among all. Two of one rider or bike belong together when they are near enough in time to be one
 * ride, or one that a clock shifted. So it goes on from each to the next.
 */
export function nearSets(places: readonly PlacedReading[]): string[][] {
  const sets = new Sets();
  const last = new Map<string, { readonly readingId: string; readonly until: number }>();
  for (const { readingId, riderId, bikeId, start, end } of [...places].sort(byStart)) {
    sets.add(readingId);
    if (start === null || end === null) continue;
    const whose = [
      ...(riderId === null ? [] : [`rider ${riderId}`]),
      ...(bikeId === null ? [] : [`bike ${bikeId}`]),
    ];
    for (const key of whose) {
      const before = last.get(key);
      const isNear = before !== undefined && before.until >= start;
      if (isNear) sets.join(before.readingId, readingId);
      const until = Math.max(end, start + LARGEST_SHIFT_MS + CLOCK_SKEW_MS, isNear ? before.until : end);
      last.set(key, { readingId, until });
    }
  }
  return sets.list();
}

const byStart = (a: PlacedReading, b: PlacedReading): number => (a.start ?? 0) - (b.start ?? 0);

/** Sets that grow together. */
class Sets {
  readonly #parent = new Map<string, string>();

  add(id: string): void {
    this.#parent.set(id, id);
  }

  join(a: string, b: string): void {
    this.#parent.set(this.#rootOf(b), this.#rootOf(a));
  }

  list(): string[][] {
    return [...groupBy([...this.#parent.keys()], (id) => this.#rootOf(id)).values()];
  }

  #rootOf(id: string): string {
    let root = id;
    for (let up = this.#parent.get(root)!; up !== root; up = this.#parent.get(root)!) {
      this.#parent.set(root, this.#parent.get(up)!);
      root = up;
    }
    return root;
  }
}
