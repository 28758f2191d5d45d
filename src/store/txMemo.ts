/**
 * What was read within one transaction. Nobody else changes it meanwhile, so what is asked again is not read again.
 * Who writes such rows forgets them.
 */
export class TxMemo<Row> {
  readonly #answers = new Map<string, readonly Row[]>();
  #rows = 0;
  readonly #most: number;

  /** So many rows are held at most: whoever asks for whole tables asks but once. */
  constructor(most: number) {
    this.#most = most;
  }

  /** Returns the answer to a question, read where it is not held. */
  async answer(question: string, read: () => Promise<readonly Row[]>): Promise<readonly Row[]> {
    const held = this.#answers.get(question);
    if (held !== undefined) return held;
    const rows = await read();
    // An answer without rows takes room too.
    const size = rows.length + 1;
    if (size > this.#most) return rows;
    if (this.#rows + size > this.#most) this.forget();
    this.#answers.set(question, rows);
    this.#rows += size;
    return rows;
  }

  forget(): void {
    this.#answers.clear();
    this.#rows = 0;
  }
}
