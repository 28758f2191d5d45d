import { z } from 'zod';
import { isTimeZone, parseDay } from '../core/calendar.js';
import { MEASURES } from '../core/facts.js';
import { momentOf } from '../core/moment.js';
import { BIKE_TYPES, GROUNDS, UNIT_KINDS, WEEKDAYS } from '../core/tokens.js';
import type { ImportDocument } from '../flow/importDocument.js';
import type { Day } from '../units.js';

const handle = z
  .string()
  .min(1)
  .max(64)
  .regex(/^[^\p{Cc}\p{Cf}/\\]+$/u, { error: 'must be free of slashes and hidden characters' })
  .refine((text) => !text.startsWith('.'), { error: 'must not begin with a dot' });
const line = z
  .string()
  .max(200)
  .regex(/^[^\p{Cc}\u2028\u2029]*$/u, { error: 'must be one line without hidden characters' });
const day = z
  .string()
  .refine((text) => parseDay(text) !== null, { error: 'must be a day, YYYY-MM-DD' })
  .transform((text) => text as Day);
const moment = z.string().refine((text) => momentOf(text, 'Etc/UTC') !== null, {
  error: 'must be a day (YYYY-MM-DD) or a time with its zone (ISO 8601)',
});
const hours = z.number().min(0).max(100_000);
const textOrNull = line.nullable().default(null);
const handleOrNull = handle.nullable().default(null);
const email = z.email().max(254);
const serviceKind = handle;

const workshop = z.strictObject({
  id: handle,
  name: line.min(1),
  timeZone: z.string().refine(isTimeZone, { error: 'must be a zone such as "Europe/Lisbon"' }),
  openDays: z.array(z.enum(WEEKDAYS)).min(1),
  digestHour: z.number().int().min(0).max(23).default(7),
  noticeDays: z.number().int().min(1).max(90).default(14),
  language: line.default('en'),
  email: email.nullable().default(null),
  phone: textOrNull,
  address: z.string().max(500).nullable().default(null),
  openingHours: textOrNull,
  placesAWeek: z.number().int().min(1).max(1000).nullable().optional(),
  benchMinutesADay: z.number().int().min(10).max(10_000).optional(),
  closedDays: z.array(day).max(1000).optional(),
  responseShare: z.number().min(0).max(1).optional(),
  raceOpenDays: z.number().int().min(0).max(30).optional(),
});

const history = z
  .union([z.enum(['new', 'unknown']), z.strictObject({ terrainHours: hours, movingHours: hours, asOf: day })])
  .default('unknown');

/** Every key of the import file; a key left out takes its default, an unknown one is refused. */
const DOCUMENT = z.strictObject({
  workshop: workshop.optional(),
  fleets: z.array(z.strictObject({ id: handle, name: line })).default([]),
  riders: z
    .array(
      z.strictObject({
        id: handle,
        name: line.min(1),
        email: email.nullable().default(null),
        phone: textOrNull,
        language: line.default('en'),
        addressConfirmed: z.boolean().default(false),
      }),
    )
    .default([]),
  bikes: z
    .array(
      z.strictObject({
        id: handle,
        rider: handleOrNull,
        fleet: handleOrNull,
        name: line.min(1),
        type: z.enum(BIKE_TYPES).default('other'),
      }),
    )
    .default([]),
  units: z
    .array(
      z.strictObject({
        tag: handle,
        unitKind: z.enum(UNIT_KINDS),
        model: textOrNull,
        serial: textOrNull,
        warrantyEnd: day.nullable().default(null),
        factor: z.number().min(0.5).max(3).default(1),
        history,
      }),
    )
    .default([]),
  fittings: z
    .array(z.strictObject({ unit: handle, bike: handle, from: moment, to: moment.nullable().default(null) }))
    .default([]),
  services: z
    .array(
      z.strictObject({
        unit: handle,
        serviceKind,
        on: day,
        restarts: z.array(serviceKind).nullable().default(null),
        elsewhere: z.boolean().default(false),
        findings: z.record(line, line).nullable().default(null),
        note: z.string().max(2000).nullable().default(null),
      }),
    )
    .default([]),
  intervals: z
    .array(
      z.strictObject({
        unitKind: z.enum(UNIT_KINDS),
        serviceKind,
        scope: z
          .strictObject({ fleet: handleOrNull, model: textOrNull, unit: handleOrNull })
          .default({ fleet: null, model: null, unit: null }),
        terrainHours: z.number().positive().max(10_000).nullable().default(null),
        months: z.number().int().positive().max(240).nullable().default(null),
        movingHoursCeiling: z
          .union([z.number().positive().max(10_000), z.null(), z.literal('default')])
          .default('default'),
      }),
    )
    .default([]),
  hours: z
    .array(
      z.strictObject({
        bike: handle,
        on: day,
        minutes: z.number().positive().max(1440),
        ground: z.enum(GROUNDS).default('typical'),
        note: z.string().max(2000).nullable().default(null),
      }),
    )
    .default([]),
  races: z
    .array(
      z.strictObject({
        id: handle,
        name: line,
        on: day,
        bikes: z.array(handle).default([]),
        practiceHours: hours.default(0),
        raceHours: hours.default(0),
      }),
    )
    .default([]),
  parts: z
    .array(
      z.strictObject({
        unitKind: z.enum(UNIT_KINDS),
        serviceKind,
        model: textOrNull,
        part: line.min(1),
        count: z.number().positive().max(100_000).default(1),
        measure: z.enum(MEASURES).default('pieces'),
      }),
    )
    .default([]),
  shelf: z
    .array(
      z.strictObject({
        part: line.min(1),
        count: z.number().min(0).max(1_000_000),
        deliveryDays: z.number().int().min(0).max(365).default(0),
        countedOn: day.nullable().default(null),
      }),
    )
    .default([]),
});

export type DocumentKind = Exclude<keyof z.infer<typeof DOCUMENT>, 'workshop'>;
export const DOCUMENT_KINDS = Object.keys(DOCUMENT.shape).filter(
  (kind) => kind !== 'workshop',
) as DocumentKind[];

export interface Wrong {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** Returns the document with its defaults filled in, or what is wrong with it and where. */
export function readDocument(
  content: unknown,
): { readonly document: ImportDocument } | { readonly wrong: readonly Wrong[] } {
  const read = DOCUMENT.safeParse(content);
  if (!read.success) return { wrong: read.error.issues.map(({ path, message }) => ({ path, message })) };
  const { workshop: own, ...kinds } = read.data;
  const placed = Object.fromEntries(
    Object.entries(kinds).map(([kind, rows]) => [
      kind,
      rows.map((row, i) => ({ ...row, at: `${kind}[${i}]` })),
    ]),
  );
  const workshopRow = own ? (({ id, ...rest }) => ({ ...rest, handle: id, at: 'workshop' }))(own) : null;
  return { document: { ...placed, workshop: workshopRow } as unknown as ImportDocument };
}
