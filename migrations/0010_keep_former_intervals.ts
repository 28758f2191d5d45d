import { randomBytes } from 'node:crypto';
import { type Kysely, sql } from 'kysely';

/** The intervals that were built in before: kind, service kind, terrain hours, months. */
const FORMER = [
  ['fork', 'lower-leg', 50, 12],
  ['fork', 'damper', 150, null],
  ['fork', 'full', 200, 12],
  ['air-shock', 'air-sleeve', 50, null],
  ['air-shock', 'full', 200, 12],
  ['coil-shock', 'bushings', 50, null],
  ['coil-shock', 'full', 200, 12],
] as const;

/** What is built in from now on; in a ledger from before it has no interval until the workshop takes one. */
const NEW = [
  { unitKind: 'fork', name: 'air-spring' },
  { unitKind: 'air-shock', name: 'bushings' },
] as const;

const BY = 'upgrade';
const DAY_MS = 86_400_000;

interface Row {
  readonly kind: string;
  readonly body: string;
}

interface Rule {
  readonly unitKind: string;
  readonly serviceKind: string;
  readonly scope: {
    readonly fleetId: string | null;
    readonly model: string | null;
    readonly unitId: string | null;
  };
}

interface Kind {
  readonly unitKind: string;
  readonly name: string;
}

/**
 * Defaults stand in the program, not in the ledger. In a ledger that was there before, each that nobody changed becomes
 * a rule of the workshop's. So no state changes, and no mail goes, because the program was renewed.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  const { rows: workshops } = await sql<{ id: string }>`
    select distinct workshop_id as id from fact where kind = 'workshop'`.execute(db);
  for (const { id } of workshops) await keepIn(db, id);
}

async function keepIn(db: Kysely<unknown>, workshopId: string): Promise<void> {
  const { rows } = await sql<Row>`
    select fact.kind as kind, fact.body as body from fact
    left join fact as later on later.replaces_id = fact.id
    where fact.workshop_id = ${workshopId} and fact.kind in ('interval', 'serviceKind') and fact.is_void = 0
      and later.id is null`.execute(db);
  const bodies = <T>(kind: string): T[] =>
    rows.filter((row) => row.kind === kind).map(({ body }) => JSON.parse(body) as T);
  const rules = bodies<Rule>('interval').filter(
    ({ scope }) => scope.fleetId === null && scope.model === null && scope.unitId === null,
  );
  const isRuled = (unitKind: string, name: string): boolean =>
    rules.some((rule) => rule.unitKind === unitKind && rule.serviceKind === name);
  const own = bodies<Kind>('serviceKind');
  const brought = NEW.filter(
    ({ unitKind, name }) => !own.some((kind) => kind.unitKind === unitKind && kind.name === name),
  );
  const atMs = await lastKnownMs(db, workshopId);
  const add = (kind: string, body: object): Promise<unknown> => {
    const [factId, entityId] = [newId(), newId()];
    return sql`
      insert into fact (workshop_id, id, entity_id, kind, subject_id, body, is_void, recorded_at_ms, since_ms, recorded_by)
      values (${workshopId}, ${factId}, ${entityId}, ${kind}, ${workshopId}, ${JSON.stringify(body)}, 0, ${atMs}, ${atMs},
        ${BY})`.execute(db);
  };
  const scope = { fleetId: null, model: null, unitId: null };
  for (const [unitKind, serviceKind, terrainHours, months] of FORMER)
    if (!isRuled(unitKind, serviceKind))
      await add('interval', {
        unitKind,
        serviceKind,
        scope,
        terrainHours,
        months,
        movingHoursCeiling: 'default',
      });
  const none = { terrainHours: null, months: null, movingHoursCeiling: null };
  for (const { unitKind, name } of brought)
    if (!isRuled(unitKind, name)) await add('interval', { unitKind, serviceKind: name, scope, ...none });
  if (brought.length > 0) await add('clocks', { on: dayOfMs(atMs), kinds: brought });
}

/** When anything last came into the ledger: the same ledger is renewed to the same facts, whatever the clock says. */
async function lastKnownMs(db: Kysely<unknown>, workshopId: string): Promise<number> {
  const { rows } = await sql<{ at: number | string | null }>`
    select max(at) as at from (
      select max(recorded_at_ms) as at from fact where workshop_id = ${workshopId}
      union all select max(arrived_at_ms) as at from arrival where workshop_id = ${workshopId}) as times`.execute(
    db,
  );
  return Number(rows[0]?.at ?? 0);
}

const dayOfMs = (ms: number): string => new Date(Math.floor(ms / DAY_MS) * DAY_MS).toISOString().slice(0, 10);

function newId(): string {
  const alphabet = '23456789abcdefghjkmnpqrstuvwxyz0';
  return [...randomBytes(12)].map((byte) => alphabet[byte & 31]).join('');
}
