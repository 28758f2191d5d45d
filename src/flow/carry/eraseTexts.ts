import { canonical } from '../../core/canonical.js';
import { eraserOf } from '../../core/erase/eraser.js';
import { retyped } from '../../core/erase/typed.js';
import type { Fact, FactBodies, FactKind, FittingFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listNames } from '../names.js';
import { deriveBooking } from '../plan/deriveBooking.js';

/** What stands for words that are erased. */
const ERASED = '…';

/** What a rider has, and since when: whose words the facts about it are. */
interface Own {
  readonly riderId: string;
  readonly bikeIds: ReadonlySet<string>;
  readonly unitIds: ReadonlySet<string>;
  readonly fittings: readonly FittingFact[];
}

/** What is called after the rider, and how it is called from now on. */
interface NewName {
  readonly kind: 'bike' | 'unit';
  readonly id: string;
  readonly name: string;
}

/**
 * Erases what people typed of a rider, in every version of every fact: name, addresses, phone, what the rider wrote, and what
 * the rider weighs. Bikes and units that are called after the rider get names that say nothing. Returns how many facts
 * changed.
 */
export async function eraseTexts(tx: Tx, riderId: string, now: Instant): Promise<number> {
  const own = await ownOf(tx, riderId);
  const contact = await tx.contacts.find(riderId);
  const handles = await listNames(tx, 'rider', riderId);
  const erase = eraserOf(
    [contact?.name, contact?.email].filter((text) => text != null),
    contact?.phone == null ? [] : [contact.phone],
    [...handles, ...(contact?.name.split(/\s+/) ?? [])],
    ERASED,
  );
  const renamed = await newNames(tx, own, erase.isNamed);
  const names = new Map(renamed.map(({ id, name }) => [id, name]));
  const changed: { readonly id: string; readonly body: object; readonly why: string | null }[] = [];
  const bookingIds = new Set<string>();
  for await (const row of tx.copies.rows('fact')) {
    const fact = { ...row, entityId: row.entity_id } as unknown as Fact;
    const isOwn = isAbout(own, fact);
    const words = (text: string): string => (isOwn ? erase.inOwn(text) : erase.inAny(text));
    const kept = retyped(fact.kind, isOwn ? withoutOwn(own, fact.kind, fact.body) : fact.body, words);
    const left = {
      body: named(kept, names.get(fact.entityId)),
      why: fact.why === null ? null : words(fact.why),
    };
    if (canonical(left) === canonical({ body: fact.body, why: fact.why })) continue;
    changed.push({ id: fact.id, ...left });
    if (fact.kind === 'booking') bookingIds.add(fact.entityId);
  }
  for (const { id, body, why } of changed) await tx.facts.erase(id, { body, why }, now);
  for (const { kind, id, name } of renamed) await tx.handles.forget(kind, id, name);
  for (const id of bookingIds) await deriveBooking(tx, id);
  return changed.length;
}

async function ownOf(tx: Tx, riderId: string): Promise<Own> {
  const versions = await tx.facts.versions('bike');
  const bikeIds = new Set(versions.filter(({ body }) => body.riderId === riderId).map((one) => one.entityId));
  const fittings = (await tx.facts.listTouching('fitting', [...bikeIds])).map(({ body }) => body);
  const boxed = (await tx.facts.list('unit', { object: riderId })).map(({ entityId }) => entityId);
  return { riderId, bikeIds, fittings, unitIds: new Set([...boxed, ...fittings.map((on) => on.unitId)]) };
}

function isAbout(own: Own, { entityId, body }: Fact): boolean {
  const text = canonical(body);
  const ids = [own.riderId, ...own.bikeIds, ...own.unitIds];
  return ids.some((id) => entityId === id || text.includes(id));
}

/** What a kind of fact holds of what the rider wrote, weighs, or named sets after; without it. */
const WITHOUT: { readonly [K in FactKind]?: (body: FactBodies[K], own: Own) => FactBodies[K] } = {
  booking: (body, { riderId }) => {
    const { wish, ...rest } = body;
    return wish === undefined || body.riderId !== riderId ? body : rest;
  },
  setUp: (body, own) => {
    if (!isOfThen(own, body.unitId, body.on)) return body;
    const { kitWeight: _weight, ...values } = body.values;
    return { ...body, values, name: body.name === null ? null : ERASED };
  },
  heard: (body, own) =>
    body.what !== null && isOfThen(own, body.unitId, body.on) ? { ...body, what: ERASED } : body,
  job: (body, own) =>
    body.wish !== null && isOfThen(own, body.unitId, body.arrivedOn) ? { ...body, wish: ERASED } : body,
};

const withoutOwn = <K extends FactKind>(own: Own, kind: K, body: FactBodies[K]): FactBodies[K] =>
  WITHOUT[kind]?.(body, own) ?? body;

/** Whether a unit was the rider’s on a day: on one of the rider’s bikes, or boxed. */
function isOfThen({ fittings, unitIds }: Own, unitId: string, day: string): boolean {
  const on = fittings.filter((fitting) => fitting.unitId === unitId);
  if (on.length === 0) return unitIds.has(unitId);
  const dayIn = (local: string): string => local.slice(0, 10);
  return on.some(({ from, to }) => dayIn(from) <= day && (to === null || day <= dayIn(to)));
}

/** Returns names that say nothing, by id, for what is called after the rider. */
async function newNames(
  tx: Tx,
  { bikeIds, unitIds }: Own,
  isNamed: (name: string) => boolean,
): Promise<NewName[]> {
  const names: NewName[] = [];
  for (const [kind, ids] of [['bike', bikeIds] as const, ['unit', unitIds] as const])
    for (const id of ids)
      if ((await listNames(tx, kind, id)).some(isNamed)) names.push({ kind, id, name: `${kind}-${id}` });
  return names;
}

function named(body: object, name: string | undefined): object {
  if (name === undefined) return body;
  return { ...body, ...('handle' in body && { handle: name }), ...('tag' in body && { tag: name }) };
}
