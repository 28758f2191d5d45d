import type { Selectable } from 'kysely';
import type { Contact, ContactTable } from '../../ports/contacts.js';
import type { HandleKind, HandleTable } from '../../ports/handles.js';
import { instant } from '../../units.js';
import { chunked, newId, type Scope } from '../scope.js';
import type { Tables } from '../tables.js';
import { reword } from './findWords.js';

export function handleTable(scope: Scope): HandleTable {
  const { db, workshopId } = scope;
  /** The one given last comes last. */
  const listRows = (kind: HandleKind) =>
    db
      .selectFrom('handle')
      .select(['handle', 'entity_id'])
      .where('workshop_id', '=', workshopId)
      .where('kind', '=', kind)
      .orderBy('fact_seq')
      .execute();
  const find = async (kind: HandleKind, handle: string): Promise<string | undefined> => {
    const row = await db
      .selectFrom('handle')
      .select('entity_id')
      .where('workshop_id', '=', workshopId)
      .where('kind', '=', kind)
      .where('handle', '=', handle)
      .executeTakeFirst();
    return row?.entity_id;
  };
  /** Units and bikes are found by the words of their names. */
  const follow = async (kind: HandleKind, ids: Iterable<string>): Promise<void> => {
    if (kind === 'unit' || kind === 'bike') for (const id of ids) await reword(scope, kind, id);
  };
  /** A list of what is due is in order of tags. */
  const retag = async (unitId: string, tag: string): Promise<void> => {
    await db
      .updateTable('standing')
      .set({ tag })
      .where('workshop_id', '=', workshopId)
      .where('unit_id', '=', unitId)
      .execute();
  };
  return {
    find,
    areMoreThan: async (kind, most) => {
      const next = await db
        .selectFrom('handle')
        .select('handle')
        .where('workshop_id', '=', workshopId)
        .where('kind', '=', kind)
        .limit(1)
        .offset(most)
        .executeTakeFirst();
      return next !== undefined;
    },
    listOf: async (kind, ids) => {
      const found = new Map<string, string>();
      for (const some of chunked(ids)) {
        const rows = await db
          .selectFrom('handle')
          .select(['handle', 'entity_id'])
          .where('workshop_id', '=', workshopId)
          .where('kind', '=', kind)
          .where('entity_id', 'in', some)
          .orderBy('fact_seq')
          .execute();
        for (const row of rows) found.set(row.entity_id, row.handle);
      }
      return found;
    },
    all: async (kind) =>
      new Map((await listRows(kind)).map(({ entity_id, handle }) => [entity_id, handle] as const)),
    names: async (kind) =>
      new Map((await listRows(kind)).map(({ entity_id, handle }) => [handle, entity_id] as const)),
    give: async (kind, handle, entityId, factSeq) => {
      const given = { entity_id: entityId, fact_seq: factSeq };
      const before = await find(kind, handle);
      await db
        .insertInto('handle')
        .values({ workshop_id: workshopId, kind, handle, ...given })
        .onConflict((of) => of.columns(['workshop_id', 'kind', 'handle']).doUpdateSet(given))
        .execute();
      // Whoever had the name before is no longer found by it.
      await follow(kind, new Set([entityId, before ?? entityId]));
      if (kind === 'unit') await retag(entityId, handle);
    },
    forget: async (kind, entityId, handle) => {
      const rows = await db
        .deleteFrom('handle')
        .where('workshop_id', '=', workshopId)
        .where('kind', '=', kind)
        .where('entity_id', '=', entityId)
        .returning('fact_seq')
        .execute();
      const factSeq = Math.max(...rows.map((row) => row.fact_seq));
      await db
        .insertInto('handle')
        .values({ workshop_id: workshopId, kind, handle, entity_id: entityId, fact_seq: factSeq })
        .execute();
      await follow(kind, [entityId]);
      if (kind === 'unit') await retag(entityId, handle);
    },
  };
}

const instantOrNull = (ms: number | null) => (ms === null ? null : instant(ms));

export function contactTable(scope: Scope): ContactTable {
  const { db, workshopId } = scope;
  const all = () => db.selectFrom('contact').selectAll().where('workshop_id', '=', workshopId);
  const contactOf = (row: Selectable<Tables['contact']>): Contact => ({
    riderId: row.rider_id,
    name: row.name,
    email: row.email,
    addressId: row.address_id,
    phone: row.phone,
    note: row.note,
    language: row.language,
    confirmedAt: instantOrNull(row.confirmed_at_ms),
    unsubscribedAt: instantOrNull(row.unsubscribed_at_ms),
    refusedAt: instantOrNull(row.refused_at_ms),
    linkEpoch: row.link_epoch,
  });
  const find = async (riderId: string): Promise<Contact | undefined> => {
    const row = await all().where('rider_id', '=', riderId).executeTakeFirst();
    return row && contactOf(row);
  };
  const change = async (
    riderId: string,
    set: Partial<Pick<Selectable<Tables['contact']>, `${string}_at_ms` & keyof Tables['contact']>>,
  ): Promise<void> => {
    await db
      .updateTable('contact')
      .set(set)
      .where('workshop_id', '=', workshopId)
      .where('rider_id', '=', riderId)
      .execute();
  };
  return {
    find,
    list: async () => (await all().orderBy('name').execute()).map(contactOf),
    listFirst: async (most) =>
      (await all().orderBy('name').orderBy('rider_id').limit(most).execute()).map(contactOf),
    count: async () => {
      const row = await db
        .selectFrom('contact')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('workshop_id', '=', workshopId)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listOf: async (riderIds) => {
      const found: Contact[] = [];
      for (const some of chunked(riderIds))
        found.push(...(await all().where('rider_id', 'in', some).execute()).map(contactOf));
      return found;
    },
    put: async (contact) => {
      const before = await find(contact.riderId);
      const isSame = before !== undefined && before.email === contact.email;
      const row = {
        workshop_id: workshopId,
        rider_id: contact.riderId,
        name: contact.name,
        email: contact.email,
        address_id: isSame ? before.addressId : newId(),
        phone: contact.phone,
        note: contact.note,
        language: contact.language,
        confirmed_at_ms: contact.confirmedAt,
        unsubscribed_at_ms: contact.unsubscribedAt,
        refused_at_ms: isSame ? before.refusedAt : null,
      };
      await db
        .insertInto('contact')
        .values(row)
        .onConflict((on) => on.column('rider_id').doUpdateSet(row))
        .execute();
      await reword(scope, 'rider', contact.riderId);
    },
    markRefused: (riderId, at) => change(riderId, { refused_at_ms: at }),
    confirm: (riderId, at) => change(riderId, { confirmed_at_ms: at }),
    setUnsubscribed: (riderId, at) => change(riderId, { unsubscribed_at_ms: at }),
    revokeLinks: async (riderId) => {
      await db
        .updateTable('contact')
        .set((set) => ({ link_epoch: set('link_epoch', '+', 1) }))
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .execute();
    },
    remove: async (riderId) => {
      await db
        .deleteFrom('contact')
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .execute();
      await reword(scope, 'rider', riderId);
    },
  };
}
