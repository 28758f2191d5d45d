/**
 * What was read within one transaction, by key. Nobody else changes it meanwhile, so of many that are asked for only those
 * that are not held are read. Who writes such rows says so.
 */
export class TxMemo<Value> {
  readonly #held = new Map<string, Value>();
  #size = 0;
  readonly #most: number;
  readonly #sizeOf: (value: Value) => number;

  /** So much is held at most: whoever asks for whole tables asks but once. */
  constructor(most: number, sizeOf: (value: Value) => number = () => 1) {
    this.#most = most;
    this.#sizeOf = sizeOf;
  }

  /** Returns what stands under each key; a key of which `read` returns nothing is asked for again. */
  async many(
    keys: Iterable<string>,
    read: (missing: readonly string[]) => Promise<ReadonlyMap<string, Value>>,
  ): Promise<Map<string, Value>> {
    const found = new Map<string, Value>();
    const missing = new Set<string>();
    for (const key of keys) {
      const held = this.#held.get(key);
      if (held === undefined) missing.add(key);
      else found.set(key, held);
    }
    if (missing.size === 0) return found;
    for (const [key, value] of await read([...missing])) {
      found.set(key, value);
      this.set(key, value);
    }
    return found;
  }

  /** Returns what stands under one key. */
  async one(key: string, read: () => Promise<Value>): Promise<Value> {
    const held = this.#held.get(key);
    if (held !== undefined) return held;
    const value = await read();
    this.set(key, value);
    return value;
  }

  get(key: string): Value | undefined {
    return this.#held.get(key);
  }

  set(key: string, value: Value): void {
    this.#delete(key);
    const size = this.#sizeOf(value);
    if (size > this.#most) return;
    if (this.#size + size > this.#most) this.forget();
    this.#held.set(key, value);
    this.#size += size;
  }

  forget(): void {
    this.#held.clear();
    this.#size = 0;
  }

  forgetWhere(isMeant: (value: Value) => boolean): void {
    for (const [key, value] of this.#held) if (isMeant(value)) this.#delete(key);
  }

  #delete(key: string): void {
    const held = this.#held.get(key);
    if (held === undefined) return;
    this.#held.delete(key);
    this.#size -= this.#sizeOf(held);
  }
}

/** Rows under one key; a key without rows takes room too. */
export const sizeOfRows = (rows: readonly unknown[]): number => rows.length + 1;
