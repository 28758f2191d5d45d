/** A fitting began or ended at another moment, and what was swapped with it did, too. */
import type { Fact, FittingFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant, Moment } from '../../units.js';
import type { Entry } from '../entry.js';
import { replaceFact } from '../facts/changeFact.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { getWorkshop } from '../settings.js';
import { placeOf } from './checkFitting.js';
import { type FittingOn, fittingOn, listFittings, listFittingsOn, readMoment } from './unitFittings.js';

/** From when to when it was; `to` null while it is on. */
export type FittedSpan = Pick<FittingFact, 'from' | 'to'>;

type Edge = 'from' | 'to';
const EDGES: readonly Edge[] = ['from', 'to'];

/** Returns the fittings that began or ended at a moment by the same act: of the same unit, or in the same place. */
async function listOneAct(tx: Tx, start: FittingOn, at: Instant, zone: string): Promise<FittingOn[]> {
  const act = new Map([[start.fact.id, start]]);
  // A fitting that is found is looked around in its turn.
  for (const { fact } of act.values()) {
    const place = await placeOfFitting(tx, fact);
    const around = await listFittings(tx, fact.body.unitId, zone);
    for (const one of await listFittingsOn(tx, fact.body.bikeId, zone))
      if ((await placeOfFitting(tx, one.fact)) === place) around.push(one);
    for (const one of around) if (one.from === at || one.to === at) act.set(one.fact.id, one);
  }
  return [...act.values()];
}

async function placeOfFitting(tx: Tx, { body }: Fact<'fitting'>): Promise<string | null> {
  const unit = await tx.facts.current('unit', body.unitId);
  return unit === undefined ? null : placeOf(unit.body.unitKind);
}

/** Returns other units whose fittings began or ended with this one, by the moment. */
export async function listAlong(tx: Tx, fact: Fact<'fitting'>): Promise<Map<Edge, string[]>> {
  const { timeZone: zone } = await getWorkshop(tx);
  const one = fittingOn(fact, zone);
  const along = new Map<Edge, string[]>();
  for (const edge of EDGES) {
    if (one[edge] === null) continue;
    const others = (await listOneAct(tx, one, one[edge], zone))
      .map(({ fact: { body } }) => body.unitId)
      .filter((unitId) => unitId !== fact.body.unitId);
    along.set(edge, [...new Set(others)]);
  }
  return along;
}

/**
 * Says when a fitting began and ended; what was swapped with it at those moments moves along, unless it is to move alone.
 * Errors: `refused` where something else is on that bike then, `already-replaced`.
 */
export async function moveFitting(
  tx: Tx,
  fact: Fact<'fitting'>,
  { span, isAlone }: { readonly span: FittedSpan; readonly isAlone: boolean },
  entry: Entry & { readonly why: string },
): Promise<void> {
  const { timeZone: zone } = await getWorkshop(tx);
  const own = fittingOn(fact, zone);
  const moved = new Map<string, { readonly was: FittingOn; readonly body: FittingFact }>();
  moved.set(fact.id, { was: own, body: { ...fact.body, ...span } });
  for (const edge of EDGES) {
    const [before, after] = [own[edge], span[edge]];
    if (isAlone || before === null || after === null || readMoment(after, zone) === before) continue;
    for (const one of await listOneAct(tx, own, before, zone)) {
      if (one.fact.id === fact.id) continue;
      const { body } = moved.get(one.fact.id) ?? one.fact;
      const at = (moment: Instant | null): boolean => moment === before;
      moved.set(one.fact.id, {
        was: one,
        body: { ...body, ...(at(one.from) ? { from: after } : {}), ...(at(one.to) ? { to: after } : {}) },
      });
    }
  }
  const touched = nothingTouched();
  // What becomes shorter first, so that none runs into another on the way.
  const inOrder = [...moved.values()].sort((a, b) => growth(a, zone) - growth(b, zone));
  for (const { was, body } of inOrder)
    await replaceFact(tx, was.fact.id, { kind: 'fitting', body }, entry, touched);
  await follow(tx, touched, entry.at);
}

/** How many of its ends reach further than before. */
function growth({ was, body }: { readonly was: FittingOn; readonly body: FittedSpan }, zone: string): number {
  const at = (moment: Moment | null): number =>
    moment === null ? Number.POSITIVE_INFINITY : readMoment(moment, zone);
  const [from, to] = [at(body.from), at(body.to)];
  const [wasFrom, wasTo] = [was.from as number, (was.to ?? Number.POSITIVE_INFINITY) as number];
  return Number(from < wasFrom) - Number(from > wasFrom) + Number(to > wasTo) - Number(to < wasTo);
}
