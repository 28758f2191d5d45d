/** Bad data, as a value: it is returned, never thrown, and never stops a loop. */
export interface Problem {
  /** A token of the contract or of the code list, `kebab-case`. */
  readonly code: string;
  /** What is wrong and what the person can do, in their words. */
  readonly message: string;
  /** Where it stands: a file name, or a file with row and column. */
  readonly source: string;
  /** What it is about, where that is known: a tag, a rider's handle. */
  readonly subject?: string;
}

export const problem = (code: string, message: string, source: string, subject?: string): Problem =>
  subject === undefined ? { code, message, source } : { code, message, source, subject };
