import type { DeclaredFact, Fact } from '../../core/ledger/facts.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { RideRow } from '../../ports/rides.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getDeclared } from '../own/declare.js';
import { listFormer } from '../rides/formerRides.js';
import { getLastSending, type LastSending } from '../rides/lastSending.js';
import { listAskingOf, listTray, type TrayRow } from '../rides/listTray.js';
import { listRideSets, type RideSet } from '../rides/rideSets.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';
import {
  listBikeNames,
  listRiderBikes,
  listServicesDone,
  type RiderBike,
  type RiderUnit,
} from './riderUnits.js';
import { getUnitPast, type UnitPast } from './unitCurves.js';

const RIDES_TO_MOVE = 60;

/** One bike, with what was declared of it where it is time to ask whether that is still so. */
export interface OwnBikeShown extends RiderBike {
  readonly asked: DeclaredFact | null;
}

/** What a rider sees first on the own page. */
export interface OwnBikes {
  readonly bikes: readonly OwnBikeShown[];
  /** How many rides ask something. */
  readonly asking: number;
}

export async function getOwnBikes(tx: Tx, riderId: string, now: Instant): Promise<OwnBikes> {
  const bikes: OwnBikeShown[] = [];
  for (const bike of await listRiderBikes(tx, riderId, now)) {
    const { now: holds, isToAsk } = await getDeclared(tx, bike.bikeId, now);
    bikes.push({ ...bike, asked: isToAsk ? (holds?.body ?? null) : null });
  }
  return { bikes, asking: (await listAskingOf(tx, riderId)).length };
}

/** The rides on a rider's own page. */
export interface OwnRides {
  /** Name by id, of the rider's bikes. */
  readonly bikes: ReadonlyMap<string, string>;
  /** Rides that ask for nothing but their bike, together. */
  readonly sets: readonly RideSet[];
  /** What else is asked, ride by ride. */
  readonly asking: readonly TrayRow[];
  /** The sum of what came last; null where nothing did. */
  readonly sending: LastSending | null;
  /** Those that may be moved to another bike, newest first. */
  readonly latest: readonly RideRow[];
  /** Those of them that an earlier reader read, whose file is no longer kept. */
  readonly former: ReadonlySet<string>;
}

export async function getOwnRides(tx: Tx, riderId: string, now: Instant): Promise<OwnRides> {
  const latest = await tx.rides.listLatestOfRider(riderId, RIDES_TO_MOVE);
  const sets = await listRideSets(tx, riderId);
  const inSets = new Set(sets.flatMap(({ rides }) => rides.map(({ id }) => id)));
  const others = (await listAskingOf(tx, riderId)).filter(({ id }) => !inSets.has(id));
  return {
    bikes: await listBikeNames(tx, riderId),
    sets,
    asking: await listTray(tx, others),
    sending: await getLastSending(tx, riderId, now),
    latest,
    former: await listFormer(tx, latest),
  };
}

/** One unit on a rider's own page. */
export interface OwnUnit extends UnitPast {
  readonly bike: RiderBike['bike'];
  readonly of: RiderUnit;
  /** Newest first. */
  readonly services: readonly Fact<'service'>[];
}

/** Returns a unit while it is on one of the rider's bikes; null once it is not. */
export async function findOwnUnit(
  tx: Tx,
  riderId: string,
  unitId: string | null,
  now: Instant,
): Promise<OwnUnit | null> {
  const bikes = await listRiderBikes(tx, riderId, now);
  const found = bikes
    .flatMap(({ bike, units }) => units.map((of) => ({ bike, of })))
    .find(({ of }) => of.unitId === unitId);
  if (!found) return null;
  const { timeZone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, found.of.unitId, timeZone);
  const past = await getUnitPast(tx, ledger, found.of.standings, now);
  return { ...found, ...past, services: await listServicesDone(tx, found.of.unitId, now) };
}

/** Returns where a unit stands in a service kind; undefined where it has no such. */
export const findStanding = async (
  tx: Tx,
  unitId: string,
  serviceKind: ServiceKind,
): Promise<StandingRow | undefined> =>
  (await tx.standings.listOf(unitId)).find((one) => one.serviceKind === serviceKind);
