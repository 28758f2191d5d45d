import type { BikeKnowledge, SensorConfirmation } from '../core/attribution.js';
import { canonical } from '../core/canonical.js';
import { namedBikeOf, ownPlaceOf, type Part, settleRides } from '../core/settle.js';
import type { RideRow, StandingRow, Store, Tx } from '../ports.js';
import { bikeSensorsOf, gatherBikes, listParts } from './bikeKnowledge.js';
import { handRideOf } from './handRide.js';
import { rebuildStandings } from './refreshDue.js';
import { findWorkshop, getWeights } from './settings.js';
import { partRowsOf, rowOf } from './settleReadings.js';
import { getBike } from './unitLedger.js';

export interface Checked {
  readonly ok: boolean;
  readonly facts: number;
  readonly derivedDifferences: number;
  readonly integrityFaults: number;
  readonly foreignKeyFaults: number;
  readonly faults: readonly string[];
}

/** Rebuilds everything derived from the facts and holds it against what is stored; changes nothing. */
export async function checkLedger(store: Store): Promise<Checked> {
  const { integrityFaults, foreignKeyFaults } = await store.integrity();
  const { facts, differences } = await store.read(async (tx) => ({
    facts: await tx.facts.count(),
    differences: await listDifferences(tx),
  }));
  const faults = [...integrityFaults, ...foreignKeyFaults, ...differences];
  return {
    ok: faults.length === 0,
    facts,
    derivedDifferences: differences.length,
    integrityFaults: integrityFaults.length,
    foreignKeyFaults: foreignKeyFaults.length,
    faults,
  };
}

/** Returns what is stored otherwise than the facts say. */
export async function listDifferences(tx: Tx): Promise<string[]> {
  if (!(await findWorkshop(tx))) return [];
  return [...(await rideDifferences(tx)), ...(await standingDifferences(tx))];
}

async function rideDifferences(tx: Tx): Promise<string[]> {
  const zone = (await findWorkshop(tx))!.body.timeZone;
  const weights = await getWeights(tx);
  const parts = await listParts(tx, await tx.readings.listIds());
  const known = await knowledgeFrom(tx, parts);
  const rides = settleRides(parts, known, weights);
  const rebuilt = new Map<string, RideRow>(rides.map((ride) => [ride.id, rowOf(ride, zone)]));
  for (const fact of await tx.facts.list('hours')) {
    const bike = await getBike(tx, fact.body.bikeId);
    rebuilt.set(fact.entityId, handRideOf(fact, bike, weights, zone));
  }
  const stored = new Map((await tx.rides.list()).map((ride) => [ride.id, ride]));
  const links = new Map((await tx.rides.listParts()).map((part) => [part.readingId, part]));
  const linkDifferences = partRowsOf(rides, parts, known).filter(
    (part) => canonical(part) !== canonical(links.get(part.readingId)),
  );
  return [
    ...compare('ride', rebuilt, stored),
    ...linkDifferences.map((part) => `reading ${part.readingId} stands with another ride than its facts say`),
  ];
}

/** What teaches a sensor, from the recordings themselves and not from what was stored about them. */
async function knowledgeFrom(tx: Tx, parts: readonly Part[]): Promise<BikeKnowledge> {
  const known = await gatherBikes(tx, parts);
  const confirmations = new Map<string, SensorConfirmation[]>();
  for (const part of parts) {
    const bikeId = namedBikeOf(part);
    const { start, end } = ownPlaceOf(part, known);
    if (bikeId === null || start === null || end === null) continue;
    for (const sensorId of new Set(bikeSensorsOf(part.reading))) {
      confirmations.set(sensorId, [...(confirmations.get(sensorId) ?? []), { bikeId, start, end }]);
    }
  }
  return { ...known, listConfirmations: (sensorId) => confirmations.get(sensorId) ?? [] };
}

async function standingDifferences(tx: Tx): Promise<string[]> {
  const differences: string[] = [];
  for (const { entityId: unitId } of await tx.facts.list('unit')) {
    const stored = await tx.standings.listOf(unitId);
    const [one] = stored;
    if (!one) {
      differences.push(`unit ${unitId} has no standing`);
      continue;
    }
    const kept = one.stale ? new Map(stored.map((row) => [row.serviceKind, row.forecast])) : undefined;
    const rebuilt = await rebuildStandings(tx, unitId, one.asOf, kept);
    const byKind = (rows: readonly StandingRow[]) =>
      new Map(rows.map((row) => [`${unitId} ${row.serviceKind}`, row]));
    differences.push(...compare('standing', byKind(rebuilt), byKind(stored)));
  }
  return differences;
}

function compare<T>(what: string, rebuilt: ReadonlyMap<string, T>, stored: ReadonlyMap<string, T>): string[] {
  const differences: string[] = [];
  for (const [id, row] of rebuilt) {
    if (!stored.has(id)) differences.push(`${what} ${id} is missing`);
    else if (canonical(stored.get(id)) !== canonical(row))
      differences.push(`${what} ${id} differs from its facts`);
  }
  for (const id of stored.keys()) if (!rebuilt.has(id)) differences.push(`${what} ${id} stands on no fact`);
  return differences;
}
