import { MIGRATIONS } from '../../migrations/index.js';
import { canonical } from '../core/canonical.js';
import type { FactBodies, FactKind } from '../core/ledger/facts.js';
import { ServiceError } from '../errors.js';
import type { Copied, CopiedRow, CopyTable } from '../ports/copies.js';
import { eraseWords, subjectsOf } from './facts.js';
import { bikeSensors } from './rides/readings.js';
import { forgetKnown, type Scope } from './scope.js';
import { isConflict } from './storeFault.js';
import { anyTable } from './tables.js';

const KEYS: Readonly<Record<Copied, readonly string[]>> = {
  erasure: ['fact_id'],
  fact: ['id'],
  handle: ['kind', 'handle'],
  contact: ['rider_id'],
  file: ['id'],
  arrival: ['id'],
  reading: ['id'],
  reading_again: ['reading_id', 'nth'],
  reading_mark: ['reading_id'],
  mail: ['id'],
  notice: ['id'],
  lead: ['id', 'unit_id'],
  later: ['unit_id'],
  mailed: ['id'],
  mailed_rider: ['rider_id'],
};
/** Said once and for all; of the others, what is there already is the later word. */
const UNCHANGING: readonly Copied[] = ['fact', 'file', 'arrival', 'reading', 'reading_again'];
/** What belongs to a store and not to the ledger. */
const OWN = ['workshop_id', 'subject_id', 'object_id', 'claimed_by', 'claimed_until_ms'];
const ROWS_AT_ONCE = 100;

export function copyTable(scope: Scope): CopyTable {
  return {
    schema: Object.keys(MIGRATIONS).at(-1)!,
    rows: (of) => rowsOf(scope, of),
    add: (of, row) => addRow(scope, of, row),
  };
}

async function* rowsOf({ db, workshopId }: Scope, of: Copied): AsyncGenerator<CopiedRow> {
  let query = db.selectFrom(anyTable(of)).selectAll().where('workshop_id', '=', workshopId);
  for (const key of of === 'fact' ? ['seq'] : KEYS[of]) query = query.orderBy(key as 'id');
  for await (const row of query.stream(ROWS_AT_ONCE)) yield shown(row);
}

function shown(row: Readonly<Record<string, unknown>>): CopiedRow {
  const entries = Object.entries(row).filter(([column]) => !OWN.includes(column));
  return Object.fromEntries(
    entries.map(([column, value]) => [
      column,
      column === 'body' && typeof value === 'string' ? JSON.parse(value) : value,
    ]),
  );
}

async function addRow(scope: Scope, of: Copied, row: CopiedRow): Promise<boolean> {
  const { db, workshopId } = scope;
  let query = db.selectFrom(anyTable(of)).selectAll().where('workshop_id', '=', workshopId);
  for (const key of KEYS[of]) query = query.where(key as 'id', '=', row[key] as string);
  if (of === 'erasure') return addErasure(scope, row);
  const standing = await query.executeTakeFirst();
  if (standing) {
    // What was erased on either side stays erased.
    if (of === 'fact' && (await isErased(scope, String(row.id)))) return false;
    if (UNCHANGING.includes(of) && canonical(said(standing)) !== canonical(said(row)))
      throw contradiction(of);
    return of === 'handle' && giveLater(scope, row, shown(standing));
  }
  forgetKnown(scope);
  try {
    await db
      .insertInto(anyTable(of))
      .values(storedOf(scope, of, row) as never)
      .execute();
    if (of === 'reading') await addSensors(scope, row);
    return true;
  } catch (cause) {
    throw isConflict(cause) ? contradiction(of, cause) : cause;
  }
}

const isErased = async ({ db, workshopId }: Scope, factId: string): Promise<boolean> =>
  (await db
    .selectFrom('erasure')
    .select('fact_id')
    .where('workshop_id', '=', workshopId)
    .where('fact_id', '=', factId)
    .executeTakeFirst()) !== undefined;

/** What was erased elsewhere is erased here too, whether or not its fact is here yet. */
async function addErasure(scope: Scope, row: CopiedRow): Promise<boolean> {
  if (await isErased(scope, String(row.fact_id))) return false;
  scope.facts.forget();
  await eraseWords(scope, {
    fact_id: String(row.fact_id),
    body: JSON.stringify(row.body),
    why: row.why === null ? null : String(row.why),
    at_ms: Number(row.at_ms),
  });
  return true;
}

/** Of two that gave one thing the same handle the later one counts, for it may have had another in between. */
async function giveLater({ db, workshopId }: Scope, row: CopiedRow, standing: CopiedRow): Promise<boolean> {
  if (row.entity_id !== standing.entity_id) throw contradiction('handle');
  if (Number(row.fact_seq) <= Number(standing.fact_seq)) return false;
  await db
    .updateTable('handle')
    .set({ fact_seq: Number(row.fact_seq) })
    .where('workshop_id', '=', workshopId)
    .where('kind', '=', row.kind as string)
    .where('handle', '=', row.handle as string)
    .execute();
  return true;
}

function storedOf({ workshopId }: Scope, of: Copied, row: CopiedRow): object {
  const isText = 'body' in row && row.body !== null;
  const stored = isText ? { ...row, body: JSON.stringify(row.body) } : row;
  if (of !== 'fact') return { ...stored, workshop_id: workshopId };
  const { subject, object } = subjectsOf(
    row.kind as FactKind,
    row.entity_id as string,
    row.body as FactBodies[FactKind],
    workshopId,
  );
  return { ...stored, workshop_id: workshopId, subject_id: subject, object_id: object };
}

async function addSensors({ db, workshopId }: Scope, { id, body }: CopiedRow): Promise<void> {
  for (const sensor_id of bikeSensors(body as Parameters<typeof bikeSensors>[0]))
    await db
      .insertInto('reading_sensor')
      .values({ workshop_id: workshopId, reading_id: id as string, sensor_id })
      .execute();
}

/** What was said of it for good: by whom its file was looked at last is not. */
const said = (row: CopiedRow): CopiedRow => {
  const { reader_version: _, ...rest } = shown(row);
  return rest;
};

const contradiction = (of: Copied, cause?: unknown): ServiceError =>
  new ServiceError('refused', `This export contradicts what is in this data folder (${of}).`, {
    hint: 'Nothing was taken. Import it into an empty data folder: --data FOLDER.',
    cause,
  });
