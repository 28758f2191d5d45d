import { type Instant, isoTime } from './units.js';

/** Failed work, thrown. Every code stands in this one table, with what each edge makes of it. */
const CODES = {
  /** The call itself is wrong: an unknown option, a missing argument. */
  'wrong-use': { exit: 2, http: 400 },
  /** What was named does not exist. */
  'not-found': { exit: 1, http: 404 },
  /** What was asked conflicts with what is stored. */
  refused: { exit: 1, http: 409 },
  /** Somebody else replaced the same fact first. */
  'already-replaced': { exit: 1, http: 409 },
  /** It was asked to end before it was done; what it had done stands, or nothing was changed. */
  interrupted: { exit: 1, http: 503 },
  /** The person may not do this. */
  'not-allowed': { exit: 1, http: 403 },
  /** The database is missing, locked, full or broken. */
  'store-failed': { exit: 3, http: 503 },
  /** A file or folder could not be read or written. */
  'disk-failed': { exit: 3, http: 503 },
  /** The mail relay did not take it. */
  'mail-failed': { exit: 3, http: 503 },
  /** The mailbox does not answer. */
  'mailbox-failed': { exit: 3, http: 503 },
} as const;

export type ErrorCode = keyof typeof CODES;
export const ERROR_CODES = Object.keys(CODES) as readonly ErrorCode[];

/** Work that could not be done: what to do next, and whether trying again can help. */
export class ServiceError extends Error {
  readonly code: ErrorCode;
  readonly hint: string | undefined;
  readonly permanent: boolean;

  constructor(
    code: ErrorCode,
    message: string,
    options: { hint?: string; permanent?: boolean; cause?: unknown } = {},
  ) {
    super(message, { cause: options.cause });
    this.name = 'ServiceError';
    this.code = code;
    this.hint = options.hint;
    this.permanent = options.permanent ?? CODES[code].exit !== 3;
  }
}

/** What the ledger refuses: its code and values; each edge says it in its reader's language. */
export class Refusal extends ServiceError {
  constructor(
    readonly refusal: string,
    readonly values: readonly unknown[],
  ) {
    super('refused', [refusal, ...values.map((of) => JSON.stringify(of))].join(' '));
  }
}

/** Two changed one fact at once: this is told to the second. */
export class AlreadyReplaced extends ServiceError {
  constructor(
    readonly by: string,
    readonly at: Instant,
    readonly isVoid: boolean,
    /** What stands there now. */
    readonly factId: string,
  ) {
    super(
      'already-replaced',
      `${by} ${isVoid ? 'made it void' : 'replaced it'} at ${isoTime(at)}, by fact ${factId}.`,
      { hint: `Nothing was changed. Look at ${factId} first, and correct that one where it is still wrong.` },
    );
  }
}

export const exitStatusOf = (error: unknown): number =>
  error instanceof ServiceError ? CODES[error.code].exit : 3;

export const httpStatusOf = (error: unknown): 400 | 403 | 404 | 409 | 500 | 503 =>
  error instanceof ServiceError ? CODES[error.code].http : 500;
