/** The part of an export that holds the ledger as it was stored. */
import { createHash, type Hash } from 'node:crypto';
import { z } from 'zod';
import type { CopiedLedger } from '../flow/facts/ledgerDocument.js';
import { COPIED, type Copied, type CopiedRow } from '../ports/copies.js';
import type { WrongPart } from './importSchema.js';

const rows = z.array(z.record(z.string(), z.unknown()));

export const LEDGER = z.strictObject({
  schema: z.string(),
  rows: z.strictObject(Object.fromEntries(COPIED.map((of) => [of, rows])) as Record<Copied, typeof rows>),
  /** Of the rows, so that what was changed by hand or cut is not taken for the ledger. */
  sha256: z.string(),
});

/** Returns what a row is as text and adds it to the sum. */
export function summed(sum: Hash, of: Copied, row: CopiedRow): string {
  const text = JSON.stringify(row);
  sum.update(`${of} ${text}\n`);
  return text;
}

/** Returns the ledger, or that it is not as it was exported. */
export function readLedger(
  part: z.infer<typeof LEDGER>,
): { readonly ledger: CopiedLedger } | { readonly wrong: readonly WrongPart[] } {
  const sum = createHash('sha256');
  for (const of of COPIED) for (const row of part.rows[of]) summed(sum, of, row);
  if (sum.digest('hex') === part.sha256) return { ledger: { schema: part.schema, rows: part.rows } };
  const message =
    'was changed since it was exported, and cannot be trusted. Take it out and change the rows beside it, or export it again.';
  return { wrong: [{ path: ['ledger'], message }] };
}
