import { z } from 'zod';
import { isTimeZone } from '../core/days/calendar.js';
import { ALL_MONTHS, MOST_HOURS_A_WEEK } from '../core/forecast/declared.js';
import { MEASURES } from '../core/ledger/facts.js';
import { LARGEST_SHARE } from '../core/ledger/unrecorded.js';
import {
  BIKE_TYPES,
  CLAIM_STEPS,
  COMEBACK_CAUSES,
  DONE_BY,
  GOINGS,
  GONE_WAYS,
  GROUNDS,
  INFORMED_BY,
  INSPECTION_CAUSES,
  INSPECTION_RESULTS,
  JOB_STEPS,
  SECOND_LOOKS,
  SPRINGS,
  WEEKDAYS,
} from '../core/tokens.js';
import {
  DOCUMENT_KEYS,
  type DocumentRowKind,
  type ImportDocument,
  type RowKind,
  type Rows,
} from '../flow/facts/ledgerDocument.js';
import { LANGUAGES } from '../languages/index.js';
import {
  day,
  email,
  handle,
  handleOrNull,
  history,
  hours,
  limit,
  line,
  minutes,
  moment,
  named,
  note,
  textOrNull,
  time,
  typed,
  unitKind,
  weight,
} from './importFields.js';
import { LEDGER, readLedger } from './ledgerPart.js';
import { columnsIn, wordsOf } from './schemaWords.js';

/** A kind is named as people name it. */
const serviceKind = handle;
const benchMinutes = z.number().int().positive().max(1440);
/** Parts and oils with how much of each. */
const uses = z
  .array(
    z.strictObject({
      part: named,
      count: z.number().positive().max(100_000).default(1),
      measure: z.enum(MEASURES).default('pieces'),
    }),
  )
  .max(100);
/** Milliseconds since a recording's start. */
const stretches = z.array(z.tuple([z.number().int(), z.number().int()])).max(1000);

/** The rows of every kind; a key left out takes its default, an unknown one is refused. */
const ROWS = {
  workshop: z.strictObject({
    id: handle,
    name: named,
    timeZone: z.string().refine(isTimeZone, { error: 'must be a zone such as "Europe/Lisbon"' }),
    openDays: z.array(z.enum(WEEKDAYS)).min(1),
    digestHour: z.number().int().min(0).max(23).default(7),
    noticeDays: z.number().int().min(1).max(90).default(14),
    language: z.enum(LANGUAGES).default('en'),
    email: email.nullable().default(null),
    phone: textOrNull,
    address: z.string().max(500).nullable().default(null),
    openingHours: textOrNull,
    placesAWeek: z.number().int().min(1).max(1000).nullable().optional(),
    benchMinutesADay: z.number().int().min(10).max(10_000).optional(),
    closedDays: z.array(day).max(1000).optional(),
    responseShare: z.number().min(0).max(1).optional(),
    raceOpenDays: z.number().int().min(0).max(30).optional(),
    remindersFrom: day.nullable().optional(),
    secondLook: z.array(z.enum(SECOND_LOOKS)).max(3).optional(),
    offers: z
      .array(z.strictObject({ unitKind, serviceKind, price: textOrNull, turnaround: textOrNull }))
      .max(200)
      .optional(),
    jobMinutes: z
      .array(z.strictObject({ unitKind, serviceKind, minutes: benchMinutes }))
      .max(200)
      .optional(),
    homeJobs: z
      .array(
        z.strictObject({ unitKind, serviceKind, model: line, stopHere: z.string().max(2000).default('') }),
      )
      .max(200)
      .optional(),
    people: z
      .array(
        z.strictObject({
          name: named,
          days: z.array(z.enum(WEEKDAYS)),
          minutesADay: benchMinutes,
          off: z.array(day).max(1000).default([]),
        }),
      )
      .max(50)
      .optional(),
    ownLines: z.strictObject({ reminder: textOrNull, booking: textOrNull, ready: textOrNull }).optional(),
  }),
  weights: z.strictObject({ smooth: weight, typical: weight, rough: weight, landing: z.number().optional() }),
  fleet: z.strictObject({ id: handle, name: line, spares: uses.optional() }),
  rider: z.strictObject({
    id: handle,
    name: named,
    email: email.nullable().default(null),
    phone: textOrNull,
    language: z.enum(LANGUAGES).default('en'),
    addressConfirmed: z.boolean().default(false),
  }),
  bike: z.strictObject({
    id: handle,
    rider: handleOrNull,
    fleet: handleOrNull,
    formerFleets: z
      .array(z.strictObject({ fleet: handleOrNull, until: moment }))
      .max(100)
      .optional(),
    name: named,
    type: z.enum(BIKE_TYPES).default('other'),
    motor: z.boolean().optional(),
    sold: day.nullable().optional(),
    usual: day.nullable().optional(),
  }),
  serviceKind: z.strictObject({
    unitKind,
    name: serviceKind,
    terrainHours: limit.nullable().default(null),
    months: z.number().int().positive().max(240).nullable().default(null),
    benchMinutes: benchMinutes.nullable().default(null),
    restarts: z.array(serviceKind).max(50).optional(),
    restartedBy: z.array(serviceKind).max(50).optional(),
  }),
  clocks: z.strictObject({
    on: day,
    kinds: z.array(z.strictObject({ unitKind, name: serviceKind })).max(50),
  }),
  unit: z.strictObject({
    tag: handle,
    unitKind,
    spring: z.enum(SPRINGS).optional(),
    model: textOrNull,
    serial: textOrNull,
    warrantyEnd: day.nullable().default(null),
    factor: z.number().min(0.5).max(3).default(1),
    history: history.default('unknown'),
    rider: handle.optional(),
    travelMm: z.number().positive().max(500).optional(),
    modelYear: z.number().int().min(1980).max(2200).optional(),
    spec: typed.optional(),
  }),
  sheet: z.strictObject({
    unitKind,
    spring: z.enum(SPRINGS).optional(),
    scope: z
      .strictObject({
        model: textOrNull,
        modelYear: z.number().int().min(1980).max(2200).nullable().default(null),
        unit: handleOrNull,
      })
      .refine(({ model, unit }) => (model === null) !== (unit === null), {
        error: 'must name a model, or one unit',
      }),
    edition: textOrNull,
    values: typed.default({}),
    typedBy: named,
    checkedBy: named.nullable().default(null),
  }),
  interval: z.strictObject({
    unitKind,
    serviceKind,
    scope: z
      .strictObject({ fleet: handleOrNull, model: textOrNull, unit: handleOrNull })
      .default({ fleet: null, model: null, unit: null }),
    terrainHours: limit.nullable().default(null),
    months: z.number().int().positive().max(240).nullable().default(null),
    movingHoursCeiling: z
      .union([limit, z.null(), z.literal('default')], { error: 'must be hours, null or "default"' })
      .default('default'),
  }),
  fitting: z.strictObject({
    unit: handle,
    bike: handle,
    from: moment,
    to: moment.nullable().default(null),
    loanUntil: day.optional(),
  }),
  membership: z.strictObject({ unit: handle, fleet: handleOrNull, from: day.nullable().default(null) }),
  gone: z.strictObject({ unit: handle, how: z.enum(GOINGS), on: day }),
  service: z.strictObject({
    unit: handle,
    serviceKind,
    on: day,
    restarts: z.array(serviceKind).nullable().default(null),
    by: z.enum(DONE_BY).default('here'),
    isClaim: z.literal(true).optional(),
    findings: typed.nullable().default(null),
    note: note.nullable().default(null),
    parts: uses.optional(),
    technician: named.optional(),
    price: named.optional(),
  }),
  hours: z.strictObject({
    bike: handle,
    on: day,
    minutes,
    ground: z.enum(GROUNDS).default('typical'),
    note: note.nullable().default(null),
  }),
  hire: z.strictObject({
    bike: handle,
    out: day,
    until: day.nullable().default(null),
    back: day.nullable().default(null),
    daysRidden: z.number().int().min(0).nullable().default(null),
    hoursADay: z.number().min(0).max(24),
    ground: z.enum(GROUNDS).default('typical'),
    note: note.nullable().default(null),
  }),
  unrecorded: z.strictObject({
    bike: handle,
    from: day,
    to: day.nullable().default(null),
    share: z.number().positive().max(LARGEST_SHARE),
    note: note.nullable().default(null),
  }),
  declared: z.strictObject({
    bike: handle,
    hoursAWeek: z.number().nonnegative().max(MOST_HOURS_A_WEEK),
    ground: z.enum(GROUNDS).default('typical'),
    months: z
      .array(z.number().int().min(1).max(12))
      .min(1)
      .default([...ALL_MONTHS]),
    from: day,
    to: day.nullable().default(null),
    saidOn: day.optional(),
  }),
  race: z.strictObject({
    id: handle,
    name: line,
    on: day,
    bikes: z.array(handle).default([]),
    practiceHours: hours.default(0),
    raceHours: hours.default(0),
  }),
  part: z.strictObject({
    unitKind,
    serviceKind,
    model: textOrNull,
    part: named,
    count: z.number().positive().max(100_000).default(1),
    measure: z.enum(MEASURES).default('pieces'),
  }),
  shelf: z.strictObject({
    part: named,
    count: z.number().min(0).max(1_000_000),
    deliveryDays: z.number().int().min(0).max(365).default(0),
    countedOn: day.nullable().default(null),
  }),
  mark: z.strictObject({ unit: handle, stop: z.boolean(), why: named }),
  inspection: z.strictObject({
    unit: handle,
    cause: z.enum(INSPECTION_CAUSES),
    on: day,
    findings: typed.default({}),
    serial: textOrNull,
    result: z.enum(INSPECTION_RESULTS).nullable().default(null),
    by: named,
    note: note.nullable().default(null),
  }),
  bench: z.strictObject({ unit: handle, in: z.boolean() }),
  job: z.strictObject({
    unit: handle,
    step: z.enum(JOB_STEPS),
    arrivedOn: day,
    wish: textOrNull,
    promisedFor: day.nullable().default(null),
    price: textOrNull,
    missing: textOrNull,
    informedBy: z.enum(INFORMED_BY).nullable().default(null),
    comeback: z
      .strictObject({ serviceKind, on: day, cause: z.enum(COMEBACK_CAUSES).nullable().default(null) })
      .nullable()
      .optional(),
  }),
  claim: z.strictObject({
    unit: handle,
    step: z.enum(CLAIM_STEPS),
    openedOn: day,
    what: named,
    sentTo: textOrNull,
    answer: textOrNull,
  }),
  answer: z.strictObject({
    rider: handleOrNull,
    bike: handleOrNull,
    ride: z.record(z.string(), z.boolean()).nullable().default(null),
    on: time.nullable().default(null),
    minutes: minutes.nullable().default(null),
    wet: z.boolean().optional(),
    climbs: z.strictObject({ ridden: stretches, notRidden: stretches }).optional(),
  }),
} satisfies Record<RowKind, z.ZodType>;

/** A file may say of a unit itself which fleet it belongs to, and that it is gone. */
const UNIT_AND_WHERE = ROWS.unit.extend({
  fleet: handle.optional(),
  gone: z.strictObject({ how: z.enum(GONE_WAYS), on: day }).optional(),
});
const COLUMNS = { ...ROWS, unit: UNIT_AND_WHERE };

const rowsOf = <S extends z.ZodType>(row: S) => z.array(row).default([]);

/** Files from before said of a service only whether it was done elsewhere. */
const inTodaysWords = (rows: unknown): unknown =>
  Array.isArray(rows)
    ? rows.map((row: unknown) => {
        if (row === null || typeof row !== 'object' || !('elsewhere' in row) || 'by' in row) return row;
        const { elsewhere, ...rest } = row;
        return typeof elsewhere === 'boolean'
          ? { ...rest, by: elsewhere ? 'another-workshop' : 'here' }
          : row;
      })
    : rows;

const DOCUMENT = z.strictObject({
  workshop: ROWS.workshop.optional(),
  weights: ROWS.weights.optional(),
  fleets: rowsOf(ROWS.fleet),
  riders: rowsOf(ROWS.rider),
  bikes: rowsOf(ROWS.bike),
  serviceKinds: rowsOf(ROWS.serviceKind),
  units: rowsOf(UNIT_AND_WHERE),
  fittings: rowsOf(ROWS.fitting),
  memberships: rowsOf(ROWS.membership),
  gone: rowsOf(ROWS.gone),
  services: z.preprocess(inTodaysWords, rowsOf(ROWS.service)),
  sheets: rowsOf(ROWS.sheet),
  intervals: rowsOf(ROWS.interval),
  hours: rowsOf(ROWS.hours),
  unrecorded: rowsOf(ROWS.unrecorded),
  declared: rowsOf(ROWS.declared),
  races: rowsOf(ROWS.race),
  parts: rowsOf(ROWS.part),
  shelf: rowsOf(ROWS.shelf),
  ledger: LEDGER.optional(),
});

export type DocumentKind = (typeof DOCUMENT_KEYS)[DocumentRowKind];
export const DOCUMENT_KINDS: readonly DocumentKind[] = Object.values(DOCUMENT_KEYS);

const rowOfKind = (kind: DocumentKind): DocumentRowKind =>
  (Object.keys(DOCUMENT_KEYS) as DocumentRowKind[]).find((one) => DOCUMENT_KEYS[one] === kind)!;

/** Returns the columns that a CSV file of a kind may have, nested ones as far as their first name. */
export const columnsOf = (kind: DocumentKind): string[] => Object.keys(COLUMNS[rowOfKind(kind)].shape);

/** Returns the same as people are told them, nested ones whole. */
export const columnNames = (kind: DocumentKind): string[] => columnsIn(COLUMNS[rowOfKind(kind)]);

export interface WrongPart {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** Returns the document with its defaults filled in, or what is wrong with it and where. */
export function readDocument(
  content: unknown,
): { readonly document: ImportDocument } | { readonly wrong: readonly WrongPart[] } {
  const read = DOCUMENT.safeParse(content, { reportInput: true });
  if (!read.success) return { wrong: read.error.issues.map(wordsOf) };
  const { workshop, weights, ledger, ...kinds } = read.data;
  const copied = ledger ? readLedger(ledger) : { ledger: null };
  if ('wrong' in copied) return copied;
  const placed = Object.fromEntries(
    Object.entries(kinds).map(([kind, rows]) => [
      kind,
      rows.map((row, i) => ({ ...row, at: `${kind}[${i}]` })),
    ]),
  );
  const document = {
    ...placed,
    ...whereabouts(kinds),
    workshop: workshop ? { ...workshop, at: 'workshop' } : null,
    weights: weights ? { ...weights, at: 'weights' } : null,
    ...copied,
  };
  return { document: document as unknown as ImportDocument };
}

type Kinds = Pick<z.infer<typeof DOCUMENT>, 'units' | 'memberships' | 'gone'>;

/** What the rows of units say beside the unit itself becomes rows of its own. */
function whereabouts({ units, memberships, gone }: Kinds) {
  const place = (kind: string) => (row: object, i: number) => ({ ...row, at: `${kind}[${i}]` });
  const said = units.map((row, i) => ({ ...row, at: `units[${i}]` }));
  return {
    units: said.map(({ fleet: _fleet, gone: _gone, ...unit }) => unit),
    memberships: [
      ...memberships.map(place('memberships')),
      ...said.flatMap(({ tag: unit, fleet, at }) =>
        fleet === undefined ? [] : [{ unit, fleet, from: null, at }],
      ),
    ],
    gone: [
      ...gone.map(place('gone')),
      ...said.flatMap(({ tag: unit, gone: one, at }) => (one === undefined ? [] : [{ unit, ...one, at }])),
    ],
  };
}

/** Returns one row of a kind with its defaults filled in, or what is wrong with it. */
export function readRow<K extends RowKind>(
  kind: K,
  content: unknown,
): { readonly row: Rows[K] } | { readonly wrong: readonly WrongPart[] } {
  const read = ROWS[kind].safeParse(content, { reportInput: true });
  return read.success ? { row: read.data as unknown as Rows[K] } : { wrong: read.error.issues.map(wordsOf) };
}
