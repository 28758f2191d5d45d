/** The values that import files are made of, each held to its bounds once. */
import { z } from 'zod';
import { parseDay } from '../core/days/dayNumber.js';
import { handleFault } from '../core/handle.js';
import { momentOf } from '../core/ledger/moment.js';
import { isLine } from '../core/lines.js';
import { UNIT_KINDS } from '../core/tokens.js';
import { wordsFor } from '../languages/index.js';
import type { Day } from '../units.js';

const NAME_FAULTS = wordsFor('en').nameFault;

export const handle = z.string().superRefine((text, { addIssue }) => {
  const fault = handleFault(text);
  if (fault !== null) addIssue({ code: 'custom', message: NAME_FAULTS[fault] });
});
export const line = z
  .string()
  .max(200)
  .refine(isLine, { error: 'must be one line without hidden characters' });
export const named = line.min(1);
export const note = z.string().max(2000);
export const day = z
  .string()
  .refine((text) => parseDay(text) !== null, { error: 'must be a day, YYYY-MM-DD' })
  .transform((text) => text as Day);
export const moment = z.string().refine((text) => momentOf(text, 'Etc/UTC') !== null, {
  error: 'must be a day such as 2026-05-01, or a time such as 2026-05-01T18:30:00+01:00',
});
export const time = moment.refine((text) => parseDay(text) === null, {
  error: 'must be a time such as 2026-05-01T18:30:00+01:00',
});
export const hours = z.number().min(0).max(100_000);
export const limit = z.number().positive().max(10_000);
export const minutes = z.number().positive().max(1440);
export const textOrNull = line.nullable().default(null);
export const handleOrNull = handle.nullable().default(null);
export const email = z.email().max(254);
export const unitKind = z.enum(UNIT_KINDS);
export const weight = z.number().positive().max(4);
/** Names and values, whatever a person typed. */
export const typed = z.record(named, line);

export const history = z.union(
  [z.enum(['new', 'unknown']), z.strictObject({ terrainHours: hours, movingHours: hours, asOf: day })],
  { error: 'must be "new", "unknown", or terrainHours, movingHours and asOf together' },
);
