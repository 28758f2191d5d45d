/** One thing that was looked at. */
export interface LookedAt {
  readonly check: string;
  readonly ok: boolean;
  readonly message: string;
  /** What to do; null where nothing is to be done. */
  readonly hint: string | null;
}

export const fine = (check: string, message: string): LookedAt => ({ check, ok: true, message, hint: null });
export const wrong = (check: string, message: string, hint: string): LookedAt => ({
  check,
  ok: false,
  message,
  hint,
});
