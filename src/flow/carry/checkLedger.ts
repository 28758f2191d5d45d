import { absencesOf } from '../../core/ledger/whereabouts.js';
import { SAY_NOTHING, type SayLeft } from '../../ports/loops.js';
import type { PhotoFiles } from '../../ports/originals.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Store, Tx } from '../../ports/store.js';
import { rebuildStandings } from '../due/refreshDue.js';
import { type FaultyFile, listFaulty, pathOfFile } from '../photos/photos.js';
import { listOrphans } from '../photos/sweepPhotos.js';
import { bookingDifferences } from '../plan/deriveBooking.js';
import { differenceOf, rideDifferences } from '../rides/checkRides.js';
import { type JoinedRides, listJoined } from '../rides/listJoined.js';
import { findWorkshop } from '../settings.js';

export interface Checked {
  readonly ok: boolean;
  readonly facts: number;
  readonly derivedDifferences: number;
  readonly integrityFaults: number;
  readonly foreignKeyFaults: number;
  readonly faults: readonly string[];
  /** What joining recordings took from units, and rides that cover others: for a person to look over, no faults. */
  readonly joined: JoinedRides;
  /** Files that no photograph names: no fault, for they go by themselves. */
  readonly unnamedFiles: readonly string[];
}

/**
 * Rebuilds everything derived from the facts and holds it against what is stored; changes nothing. Photographs are looked
 * for where they are given.
 */
export async function checkLedger(
  store: Store,
  photoFiles?: Pick<PhotoFiles, 'list' | 'look'>,
  told: SayLeft = SAY_NOTHING,
): Promise<Checked> {
  const { integrityFaults, foreignKeyFaults } = await store.integrity();
  const faulty = photoFiles === undefined ? [] : await listFaulty(store, photoFiles);
  const { facts, differences, joined } = await store.read(async (tx) => ({
    facts: await tx.facts.count(),
    differences: await listDifferences(tx, told),
    joined: await listJoined(tx),
  }));
  const faults = [...integrityFaults, ...foreignKeyFaults, ...differences, ...faulty.map(faultText)];
  return {
    ok: faults.length === 0,
    facts,
    derivedDifferences: differences.length,
    integrityFaults: integrityFaults.length,
    foreignKeyFaults: foreignKeyFaults.length,
    faults,
    joined,
    unnamedFiles: photoFiles === undefined ? [] : (await listOrphans(store, photoFiles)).map(pathOfFile),
  };
}

const faultText = ({ factId, sha256, look }: FaultyFile): string =>
  `photograph ${factId}: ${pathOfFile(sha256)} is ${look}`;

/** Returns what is stored otherwise than the facts say. */
export async function listDifferences(tx: Tx, told: SayLeft = SAY_NOTHING): Promise<string[]> {
  if (!(await findWorkshop(tx))) return [];
  return [
    ...(await rideDifferences(tx, told)),
    ...(await standingDifferences(tx, told)),
    ...(await bookingDifferences(tx)),
    ...(await tx.findWords.differences()),
  ];
}

async function standingDifferences(tx: Tx, told: SayLeft): Promise<string[]> {
  const differences: string[] = [];
  const units = await tx.facts.list('unit');
  for (const [i, { entityId: unitId }] of units.entries()) {
    await told('counting units again', units.length - i);
    const stored = await tx.standings.listOf(unitId);
    const [one] = stored;
    if (!one) {
      if (
        absencesOf((await tx.facts.list('gone', { subject: unitId })).map(({ body }) => body)).at(-1)
          ?.back === null
      )
        continue;
      differences.push(`unit ${unitId} has no standing`);
      continue;
    }
    const kept = one.stale ? new Map(stored.map((row) => [row.serviceKind, row.forecast])) : undefined;
    const rebuilt = await rebuildStandings(tx, unitId, one.asOf, kept);
    const byKind = (rows: readonly StandingRow[]) =>
      new Map(rows.map((row) => [`${unitId} ${row.serviceKind}`, row]));
    differences.push(...compare(byKind(rebuilt), byKind(stored)));
  }
  return differences;
}

function compare(
  rebuilt: ReadonlyMap<string, StandingRow>,
  stored: ReadonlyMap<string, StandingRow>,
): string[] {
  const differences = [...rebuilt].flatMap(([id, row]) => differenceOf('standing', id, row, stored.get(id)));
  const others = [...stored.keys()].filter((id) => !rebuilt.has(id));
  return [...differences, ...others.map((id) => `standing ${id} stands on no fact`)];
}
