import { canonical } from '../../core/canonical.js';
import { dayOf } from '../../core/days/calendar.js';
import { ridesNeededFrom, standingsOf } from '../../core/forecast/standings.js';
import type { Weights } from '../../core/ledger/ledger.js';
import { DEFAULT_WEIGHTS } from '../../core/ledger/weight.js';
import type { ServiceKind, State } from '../../core/tokens.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getUnitKnown, listRideRowsNeeded } from '../due/refreshDue.js';
import type { Entry } from '../entry.js';
import { listUnrecorded, toCountedRides, toDeclaredRides } from '../rides/countedRides.js';
import { reweighed } from '../rides/deriveRides.js';
import { addFact, replaceFact } from './changeFact.js';
import { checkWeights } from './checkFact.js';

/** A unit whose state another weighing of the ground changes. */
export interface ChangedState {
  readonly unitId: string;
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly before: State;
  readonly after: State;
}

/**
 * Sets the weights; every ride is weighed anew from what is stored of it, and every unit recounted.
 * Returns the fact's id, or null where they stand so already. Errors: `refused` where one is out of range.
 */
export async function setWeights(tx: Tx, weights: Weights, entry: Entry): Promise<string | null> {
  await checkWeights(tx, weights);
  const standing = (await tx.facts.list('weights')).at(-1);
  if (standing && canonical(standing.body) === canonical(weights)) return null;
  const fact = { kind: 'weights' as const, body: weights };
  const { id } = standing ? await replaceFact(tx, standing.id, fact, entry) : await addFact(tx, fact, entry);
  return id;
}

/** Returns the weights that stood before the last change; null where nothing was changed. */
export async function findFormerWeights(tx: Tx): Promise<Weights | null> {
  const standing = (await tx.facts.list('weights')).at(-1);
  if (!standing) return null;
  const former = standing.replacesId === null ? undefined : await tx.facts.find(standing.replacesId);
  return former === undefined ? DEFAULT_WEIGHTS : (former.body as Weights);
}

/** Returns all units that other weights may move. */
export const listUnitIds = async (tx: Tx): Promise<string[]> =>
  (await tx.facts.list('unit')).map((unit) => unit.entityId);

/** Returns which of a unit's service kinds would change state with other weights; saves nothing. */
export async function previewWeights(
  tx: Tx,
  unitId: string,
  weights: Weights,
  now: Instant,
): Promise<ChangedState[]> {
  await checkWeights(tx, weights);
  const known = await getUnitKnown(tx, unitId, now);
  const rides = await listRideRowsNeeded(tx, known);
  const shares = await listUnrecorded(tx, known.bikes.keys(), known.zone);
  const from = ridesNeededFrom(known);
  const declared = known.declared ?? [];
  const stored = await tx.standings.listOf(unitId);
  const isOfToday = stored.every(
    (row) => !row.stale && dayOf(row.asOf, known.zone) === dayOf(now, known.zone),
  );
  const before = isOfToday
    ? stored
    : standingsOf(known, [...toCountedRides(rides, shares), ...toDeclaredRides(declared, from, now)]).map(
        (one) => one.standing,
      );
  const declaredAnew = declared.map((of) => ({ ...of, weights }));
  const after = standingsOf({ ...known, declared: declaredAnew }, [
    ...toCountedRides(
      rides.map((ride) => reweighed(ride, known.bikes, weights)),
      shares,
    ),
    ...toDeclaredRides(declaredAnew, from, now),
  ]).map((one) => one.standing);
  return changedStates(new Map([[unitId, known.unit.tag]]), before, after);
}

type Stands = Pick<StandingRow, 'unitId' | 'serviceKind' | 'state'>;

/** Returns the states that differ, by unit. Shape: `tags` by unit id. */
export function changedStates(
  tags: ReadonlyMap<string, string>,
  before: readonly Stands[],
  after: readonly Stands[],
): ChangedState[] {
  const states = new Map(before.map((one) => [`${one.unitId} ${one.serviceKind}`, one.state]));
  return after.flatMap(({ unitId, serviceKind, state }) => {
    const was = states.get(`${unitId} ${serviceKind}`);
    if (was === undefined || was === state) return [];
    return [{ unitId, unit: tags.get(unitId) ?? unitId, serviceKind, before: was, after: state }];
  });
}
