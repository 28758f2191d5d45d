import { HOUR_MS, type Instant } from '../../units.js';

/** So many people's last answers are held. */
const MOST_HELD = 200;
/** They hold names of files, and nobody looks at them for longer. */
const HELD_MS = HOUR_MS;

/** What became of the last files of each, so that a page of its own shows it and a reload sends nothing. */
export class LastTold<T> {
  readonly #held = new Map<string, { readonly told: T; readonly at: Instant }>();

  keep(whose: string, told: T, at: Instant): void {
    this.#held.delete(whose);
    this.#held.set(whose, { told, at });
    for (const oldest of this.#held.keys()) {
      if (this.#held.size <= MOST_HELD) break;
      this.#held.delete(oldest);
    }
  }

  /** Undefined too late, or where another process took them. */
  of(whose: string, now: Instant): T | undefined {
    const held = this.#held.get(whose);
    if (held === undefined || now - held.at <= HELD_MS) return held?.told;
    this.#held.delete(whose);
    return undefined;
  }
}
