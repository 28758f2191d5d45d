import type { PartFact, ShelfFact } from '../../core/ledger/facts.js';
import type { Unit } from '../../core/ledger/ledger.js';
import { type PartUse, partsFor, type Shelf } from '../../core/plan/parts.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact } from '../facts/changeFact.js';
import { refuse } from '../refuse.js';

export async function listPartRows(tx: Tx): Promise<PartFact[]> {
  return (await tx.facts.list('part')).map((fact) => fact.body);
}

/** Returns what a service takes for a unit. */
export const listTaken = async (
  tx: Tx,
  unit: Pick<Unit, 'unitKind' | 'model'>,
  serviceKind: ServiceKind,
): Promise<PartUse[]> => partsFor(await listPartRows(tx), unit, serviceKind);

/** Returns what lies on the shelf: the last count of each part, less what services and kits for home took since. */
export async function listShelf(tx: Tx, rows: readonly PartFact[]): Promise<Shelf[]> {
  const counts = await tx.facts.list('shelf');
  if (counts.length === 0) return [];
  const units = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, fact.body]));
  const taken = (await tx.facts.list('service'))
    .filter(({ body }) => body.by === 'here' && units.has(body.unitId))
    .flatMap(({ body, since }) =>
      (body.parts ?? partsFor(rows, units.get(body.unitId)!, body.serviceKind)).map((use) => ({
        ...use,
        since,
      })),
    );
  const handedOver = (await tx.facts.list('atHome')).flatMap(({ body: { pickedUp } }) =>
    (pickedUp?.parts ?? []).map((use) => ({ ...use, since: pickedUp!.at })),
  );
  return counts.map(({ body, recordedAt }) => {
    const used = [...taken, ...handedOver].filter((use) => use.part === body.part && use.since > recordedAt);
    const { part, deliveryDays, countedOn, count } = body;
    const left = used.reduce((rest, use) => rest - use.count, count);
    return { part, deliveryDays, countedOn, left: Math.max(0, left) };
  });
}

const MOST = 1_000_000;

/** Writes down a count of a part; the one before stands in the ledger as replaced. Returns the fact's id. */
export async function countShelf(tx: Tx, shelf: ShelfFact, entry: Entry): Promise<string> {
  const { part, count, deliveryDays } = shelf;
  const isRight =
    part.trim() !== '' && count >= 0 && count <= MOST && Number.isInteger(deliveryDays) && deliveryDays >= 0;
  if (!isRight) refuse('count');
  const before = (await tx.facts.list('shelf')).find((fact) => fact.body.part === part);
  const fact = { kind: 'shelf' as const, body: shelf };
  return (before ? await replaceFact(tx, before.id, fact, entry) : await addFact(tx, fact, entry)).id;
}
