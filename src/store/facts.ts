import { type RawBuilder, type Selectable, sql } from 'kysely';
import type { Fact, FactBodies, FactKind } from '../core/ledger/facts.js';
import { AlreadyReplaced, ServiceError } from '../errors.js';
import type { FactTable, NewFact } from '../ports/facts.js';
import { instant } from '../units.js';
import type { FactInForce } from './known/keptFacts.js';
import { reword } from './names/findWords.js';
import { chunked, newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

/** What a fact is about, for finding it again. */
export function subjectsOf(kind: FactKind, entityId: string, body: FactBodies[FactKind], workshopId: string) {
  const of = body as Record<string, unknown> & { scope?: { unitId: string | null } };
  const text = (key: string): string => of[key] as string;
  switch (kind) {
    case 'workshop':
    case 'weights':
    case 'fleet':
    case 'race':
    case 'serviceKind':
    case 'clocks':
    case 'reread':
    case 'part':
    case 'shelf':
      return { subject: workshopId, object: null };
    case 'interval':
    case 'sheet':
      return { subject: of.scope?.unitId ?? workshopId, object: null };
    case 'bike':
      return { subject: entityId, object: of.riderId as string | null };
    case 'membership':
      return { subject: text('unitId'), object: of.fleetId as string | null };
    case 'fitting':
      return { subject: text('unitId'), object: text('bikeId') };
    case 'service':
    case 'gone':
    case 'mark':
    case 'inspection':
    case 'bench':
    case 'job':
    case 'claim':
    case 'heard':
    case 'comingUp':
    case 'told':
    case 'setUp':
    case 'jobQuestion':
    case 'invited':
      return { subject: text('unitId'), object: null };
    case 'photo':
    case 'atHome':
      return { subject: text('unitId'), object: of.riderId as string | null };
    case 'hours':
    case 'hire':
    case 'unrecorded':
    case 'declared':
      return { subject: text('bikeId'), object: null };
    case 'booking': {
      const [first] = of.units as readonly { readonly unitId: string }[];
      return { subject: first?.unitId ?? entityId, object: of.bikeId as string | null };
    }
    case 'answer':
      return { subject: text('readingId'), object: null };
    case 'unit':
      return { subject: entityId, object: (of.riderId as string | undefined) ?? null };
    case 'rider':
      return { subject: entityId, object: null };
  }
}

/** What earlier programs wrote is read in today's words. */
function bodyOf<K extends FactKind>(
  kind: K,
  body: FactBodies[K] & { readonly elsewhere?: boolean },
): FactBodies[K] {
  if (kind !== 'service' || body.elsewhere === undefined) return body;
  const { elsewhere, ...rest } = body;
  return { ...rest, by: elsewhere ? 'another-workshop' : 'here' } as unknown as FactBodies[K];
}

function factOf<K extends FactKind>(row: Selectable<Tables['fact']>): Fact<K> {
  return {
    id: row.id,
    seq: row.seq,
    entityId: row.entity_id,
    kind: row.kind as K,
    body: bodyOf(row.kind as K, JSON.parse(row.body)),
    recordedAt: instant(row.recorded_at_ms),
    since: instant(row.since_ms),
    recordedBy: row.recorded_by,
    replacesId: row.replaces_id,
    isVoid: row.is_void === 1,
    why: row.why,
  };
}

/** Notes what is left of a fact’s words, then puts it in their place: the store lets a fact change to nothing else. */
export async function eraseWords(
  scope: Scope,
  erasure: Omit<Selectable<Tables['erasure']>, 'workshop_id'>,
): Promise<void> {
  const { db, workshopId } = scope;
  const { fact_id, body, why } = erasure;
  await db
    .insertInto('erasure')
    .values({ workshop_id: workshopId, ...erasure })
    .onConflict((of) => of.columns(['workshop_id', 'fact_id']).doUpdateSet(erasure))
    .execute();
  const fact = await db
    .updateTable('fact')
    .set({ body, why })
    .where('workshop_id', '=', workshopId)
    .where('id', '=', fact_id)
    .returning(['kind', 'entity_id'])
    .executeTakeFirst();
  if (fact?.kind === 'unit' || fact?.kind === 'bike') await reword(scope, fact.kind, fact.entity_id);
}

type InForceRow = Selectable<Tables['fact']> & { readonly first_seq: number };

const inForceOf = (row: InForceRow): FactInForce => ({ fact: factOf(row), first: Number(row.first_seq) });

export function factTable(scope: Scope): FactTable {
  const { db, workshopId } = scope;
  const all = () => db.selectFrom('fact').selectAll('fact').where('fact.workshop_id', '=', workshopId);
  /**
   * Facts that stand. A correction stands in the place of what it corrects: an old mark put right does not become the
   * last word. Written out because these are asked for most, and building them took longer than running them.
   */
  async function readInForce(kind: FactKind, only: RawBuilder<unknown>): Promise<InForceRow[]> {
    const { rows } = await sql<InForceRow>`
      select fact.*, (select min(seq) from fact as first
        where first.workshop_id = fact.workshop_id and first.entity_id = fact.entity_id) as first_seq
      from fact left join fact as later on later.replaces_id = fact.id
      where fact.workshop_id = ${workshopId} and fact.kind = ${kind} and fact.is_void = 0 and later.id is null ${only}
      order by first_seq`.execute(db);
    return rows;
  }

  /** By a condition that `by` names. */
  async function inForce<K extends FactKind>(
    kind: K,
    by: readonly (string | null)[] = [],
    only: RawBuilder<unknown> = sql``,
  ): Promise<Fact<K>[]> {
    const key = JSON.stringify([kind, ...by]);
    const found = await scope.facts.known.memo.one(key, async () =>
      (await readInForce(kind, only)).map(inForceOf),
    );
    return found.map(({ fact }) => fact as Fact<K>);
  }

  /** Of some subjects, objects or entities; each is remembered by itself. */
  async function inForceBy<K extends FactKind>(
    kind: K,
    column: 'subject_id' | 'object_id' | 'entity_id',
    ids: readonly string[],
  ): Promise<Fact<K>[]> {
    const before = `${kind} ${column} `;
    const keys = ids.map((id) => before + id);
    const { memo, ofRecordings } = scope.facts.known;
    const found = await (kind === 'answer' ? ofRecordings : memo).many(keys, async (missing) => {
      const read = new Map<string, FactInForce[]>(missing.map((key) => [key, []]));
      for (const some of chunked(missing.map((key) => key.slice(before.length))))
        for (const row of await readInForce(
          kind,
          sql`and ${sql.ref(`fact.${column}`)} in (${sql.join(some)})`,
        ))
          read.get(before + row[column])!.push(inForceOf(row));
      return read;
    });
    const all = [...found.values()];
    const facts = all.length === 1 ? all[0]! : all.flat().sort((a, b) => a.first - b.first);
    return facts.map(({ fact }) => fact as Fact<K>);
  }

  async function insert<K extends FactKind>(
    fact: NewFact<K>,
    entity: { id: string; since: number },
    replacesId: string | null,
    isVoid: boolean,
  ): Promise<Fact<K>> {
    const { subject, object } = subjectsOf(fact.kind, entity.id, fact.body, workshopId);
    const row = {
      workshop_id: workshopId,
      id: newId(),
      entity_id: entity.id,
      kind: fact.kind,
      subject_id: subject,
      object_id: object,
      body: JSON.stringify(fact.body),
      replaces_id: replacesId,
      is_void: isVoid ? 1 : 0,
      recorded_at_ms: fact.at,
      since_ms: entity.since,
      recorded_by: fact.by,
      why: fact.why ?? null,
    };
    scope.facts.forget();
    const { seq } = await db.insertInto('fact').values(row).returning('seq').executeTakeFirstOrThrow();
    return factOf<K>({ ...row, seq });
  }

  async function getReplaceable(factId: string): Promise<Selectable<Tables['fact']>> {
    const row = await all().where('fact.id', '=', factId).executeTakeFirst();
    if (!row) throw new ServiceError('not-found', `There is no fact ${factId}.`);
    const later = await all().where('fact.replaces_id', '=', factId).executeTakeFirst();
    if (later)
      throw new AlreadyReplaced(
        later.recorded_by,
        instant(later.recorded_at_ms),
        later.is_void === 1,
        later.id,
      );
    return row;
  }

  return {
    add: (fact) => insert(fact, { id: fact.entityId ?? newId(), since: fact.at }, null, false),
    replace: async (factId, fact) => {
      const old = factOf(await getReplaceable(factId));
      return insert(fact, { id: old.entityId, since: old.since }, factId, false);
    },
    void: async (factId, by, at, why) => {
      const old = factOf(await getReplaceable(factId));
      const fact = await insert(
        { kind: old.kind, body: old.body, by, at, why },
        { id: old.entityId, since: old.since },
        factId,
        true,
      );
      if (old.kind === 'unit' || old.kind === 'bike') await reword(scope, old.kind, old.entityId);
      return fact;
    },
    find: async (factId) => {
      const row = await all().where('fact.id', '=', factId).executeTakeFirst();
      return row && factOf(row);
    },
    current: async (kind, entityId) => (await inForceBy(kind, 'entity_id', [entityId]))[0],
    list: (kind, { subject, object } = {}) => {
      if (subject !== undefined && object === undefined) return inForceBy(kind, 'subject_id', [subject]);
      if (subject === undefined && object != null) return inForceBy(kind, 'object_id', [object]);
      const ofSubject = subject === undefined ? sql`` : sql`and fact.subject_id = ${subject}`;
      const ofObject =
        object === undefined
          ? sql``
          : object === null
            ? sql`and fact.object_id is null`
            : sql`and fact.object_id = ${object}`;
      const by = ['of', subject ?? null, object === undefined ? 'any' : 'object', object ?? null];
      return inForce(kind, by, sql`${ofSubject} ${ofObject}`);
    },
    // In the words of the index, and within them a word that another kind of fact may hold too.
    listFleetBikes: () => inForce('bike', ['in a fleet'], sql`and fact.body like '%"fleetId":"%'`),
    listLoans: () => inForce('fitting', ['on loan'], sql`and fact.body like '%"loanUntil":"%'`),
    listMany: (kind, subjects) => inForceBy(kind, 'subject_id', subjects),
    listTouching: (kind, objects) => inForceBy(kind, 'object_id', objects),
    versions: async <K extends FactKind>(kind: K, entityId?: string) => {
      let query = all().where('fact.kind', '=', kind).where('fact.is_void', '=', 0);
      if (entityId !== undefined) query = query.where('fact.entity_id', '=', entityId);
      return (await query.execute()).map(factOf<K>);
    },
    history: async (subject) => {
      const rows = await all()
        .where('fact.entity_id', 'in', (of) =>
          of
            .selectFrom('fact as touching')
            .select('touching.entity_id')
            .where('touching.workshop_id', '=', workshopId)
            .where((where) =>
              where.or([
                where('touching.subject_id', '=', subject),
                where('touching.object_id', '=', subject),
              ]),
            ),
        )
        .orderBy('fact.seq')
        .execute();
      return rows.map((row) => factOf(row));
    },
    lastSeq: async () => {
      const { known } = scope.facts;
      if (known.lastSeq !== null) return known.lastSeq;
      const row = await db
        .selectFrom('fact')
        .where('workshop_id', '=', workshopId)
        .select((select) => select.fn.max('seq').as('seq'))
        .executeTakeFirst();
      known.lastSeq = Number(row?.seq ?? 0);
      return known.lastSeq;
    },
    erase: async (factId, { body, why }, at) => {
      scope.facts.forget();
      await eraseWords(scope, { fact_id: factId, body: JSON.stringify(body), why, at_ms: at });
    },
    once: async <T>(name: string, make: () => Promise<T>) => {
      const { made } = scope.facts.known;
      return (await made.one(name, async () => ({ of: await make() }))).of as T;
    },
    count: async () => {
      const row = await db
        .selectFrom('fact')
        .where('workshop_id', '=', workshopId)
        .select((select) => select.fn.countAll<number>().as('n'))
        .executeTakeFirstOrThrow();
      return Number(row.n);
    },
  };
}
