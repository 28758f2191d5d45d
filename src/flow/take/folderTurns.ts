import { HOUR_MS, MINUTE_MS } from '../../units.js';
import type { Taken } from './ingestFile.js';

/** An archive of which some is taken; the rest waits for its rider's next turn. */
export interface OpenFile {
  readonly stamp: string;
  readonly members: AsyncGenerator<Taken>;
  readonly taken: Taken[];
}

/** A file that failed by a fault of the program is tried again unchanged after so long. Units: milliseconds. */
const FAULT_REST_MS = HOUR_MS;
/** So often a file at one path may be replaced at once; after that it must stand still. */
const FREE_TAKINGS = 3;
/** Whatever was not taken for so long begins anew. */
const TAKINGS_KEPT_MS = 10 * MINUTE_MS;

/**
 * What the drop folder's lane keeps from one turn to the next. It is held in this process alone: a new start begins with
 * none of it, and loses nothing.
 */
export class FolderTurns {
  readonly #open = new Map<string, OpenFile>();
  readonly #faults = new Map<string, number>();
  readonly #takings = new Map<string, { count: number; at: number }>();
  /** The folder whose turn is next. */
  next = '';

  /** Returns the folders from the one whose turn it is on, each once. */
  inTurn(folders: Iterable<string>): string[] {
    const sorted = [...folders].sort();
    const from = sorted.findIndex((folder) => folder >= this.next);
    return from < 0 ? sorted : [...sorted.slice(from), ...sorted.slice(0, from)];
  }

  takeOpen(path: string, stamp: string): OpenFile | undefined {
    const open = this.#open.get(path);
    return open?.stamp === stamp ? open : undefined;
  }

  keepOpen(path: string, open: OpenFile): void {
    this.#open.set(path, open);
  }

  async close(path: string): Promise<void> {
    const open = this.#open.get(path);
    this.#open.delete(path);
    await open?.members.return(undefined);
  }

  /** Lets go of what is no longer there as it was. */
  async keepOnly(stamps: ReadonlyMap<string, string>): Promise<void> {
    for (const [path, { stamp }] of this.#open) if (stamps.get(path) !== stamp) await this.close(path);
    for (const path of this.#takings.keys()) if (!stamps.has(path)) this.#takings.delete(path);
  }

  failed(stamp: string): void {
    this.#faults.set(stamp, performance.now());
  }

  /** Whether a file that failed is to be left alone, unchanged as it is. */
  isResting(stamp: string): boolean {
    const at = this.#faults.get(stamp);
    if (at === undefined) return false;
    if (performance.now() - at < FAULT_REST_MS) return true;
    this.#faults.delete(stamp);
    return false;
  }

  took(path: string): void {
    const before = this.#takings.get(path);
    const isRecent = before !== undefined && performance.now() - before.at < TAKINGS_KEPT_MS;
    this.#takings.set(path, { count: isRecent ? before.count + 1 : 1, at: performance.now() });
  }

  /** Whether the file at a path is replaced again and again. */
  isRestless(path: string): boolean {
    const before = this.#takings.get(path);
    return (
      before !== undefined && before.count >= FREE_TAKINGS && performance.now() - before.at < TAKINGS_KEPT_MS
    );
  }
}
