/** What becomes of a bike or unit that is known: other words in the place of those that somebody saw. */
import { canonical } from '../../core/canonical.js';
import { startOfDay } from '../../core/days/calendar.js';
import { findParts } from '../../core/findWords.js';
import { fleetsFrom } from '../../core/ledger/bikeFleet.js';
import type { BikeFact, Fact, FactBodies } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import { type Day, isoTime } from '../../units.js';
import type { Entry } from '../entry.js';
import { getFact, replaceFact } from '../facts/changeFact.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { getIdOf } from '../names.js';
import { refuseCommand } from '../refuse.js';
import { addBike, addUnit, addUnitsOn, type NewBike, type NewUnit } from './newThings.js';

/**
 * Puts other words about a bike or a unit in the place of those that a person saw, named by the fact. Returns whether
 * anything is other.
 * Errors: `already-replaced`, `refused`, `not-found`.
 */
export async function changeThing<K extends 'bike' | 'unit'>(
  tx: Tx,
  of: {
    readonly kind: K;
    readonly entityId: string;
    /** Of what was seen; left out: what stands now. */
    readonly factId: string | undefined;
    readonly words: Partial<FactBodies[K]>;
  },
  entry: Entry,
): Promise<boolean> {
  const { kind, entityId, factId, words } = of;
  const fact = factId === undefined ? await tx.facts.current(kind, entityId) : await getFact(tx, factId);
  if (fact?.kind !== kind || fact.entityId !== entityId)
    return refuseCommand(`That is no fact about this ${kind}.`);
  const before = fact.body as FactBodies[K];
  const body = withoutUndefined({ ...before, ...words });
  if (canonical(body) === canonical(before)) return false;
  await replaceFact(tx, fact.id, { kind, body }, entry);
  return true;
}

/** What somebody said of a bike's fleet: from a day on, or that it always was so. Shape: `from` null where nobody said. */
export interface FleetSaid {
  readonly fleetId: string | null;
  readonly from: Day | null;
  readonly isEver: boolean;
}

/** Returns the fleets of a bike by what was said; another fleet without a day is so from today on. */
export function saidFleets(
  before: BikeFact,
  { fleetId, from, isEver }: FleetSaid,
  { today, zone }: { readonly today: Day; readonly zone: string },
): Partial<BikeFact> {
  const formers = before.formerFleets ?? [];
  const isSame = fleetId === before.fleetId;
  const last = formers.at(-1);
  if (isSame && (last === undefined || (from === null && !isEver))) return {};
  // Only since when it is of this fleet is put right.
  const base = isSame ? { fleetId: last!.fleetId, formerFleets: formers.slice(0, -1) } : before;
  const day = from ?? today;
  return fleetsFrom(base, fleetId, isEver ? null : isoTime(startOfDay(day, zone)));
}

const withoutUndefined = <T extends object>(of: T): T =>
  Object.fromEntries(Object.entries(of).filter(([, value]) => value !== undefined)) as T;

/** Adds a bike with what is on it. Errors: `refused`. */
export async function addBikeWith(
  tx: Tx,
  { since, units, ...bike }: NewBike & { readonly since: Day; readonly units: readonly NewUnit[] },
  entry: Entry,
): Promise<Fact<'bike'>> {
  const touched = nothingTouched();
  const fact = await addBike(tx, bike, entry, touched);
  await addUnitsOn(tx, { bikeId: fact.entityId, since, units }, entry, touched);
  await follow(tx, touched, entry.at);
  return fact;
}

/** Adds a unit and puts it on a bike. Errors: `refused` where the bike has another in that place then. */
export async function addUnitOn(
  tx: Tx,
  { bikeId, since, unit }: { readonly bikeId: string; readonly since: Day; readonly unit: NewUnit },
  entry: Entry,
): Promise<Fact<'unit'>> {
  const touched = nothingTouched();
  const [fact] = await addUnitsOn(tx, { bikeId, since, units: [unit] }, entry, touched);
  await follow(tx, touched, entry.at);
  return fact!;
}

/** Adds a unit that lies in its box: it is on no bike, and nothing counts for it yet. */
export async function addUnitAlone(
  tx: Tx,
  unit: NewUnit,
  rider: string | null,
  entry: Entry,
): Promise<Fact<'unit'>> {
  const touched = nothingTouched();
  const owner = rider === null ? {} : { riderId: await getIdOf(tx, 'rider', rider) };
  const fact = await addUnit(tx, { ...unit, ...owner }, entry, touched);
  await follow(tx, touched, entry.at);
  return fact;
}

/** Returns what a rider is called; null where there is none. */
export async function findRiderName(tx: Tx, handle: string): Promise<string | null> {
  const id = await tx.handles.find('rider', handle);
  return id === undefined ? null : ((await tx.contacts.find(id))?.name ?? null);
}

/** Returns the one rider whom a text finds, by name, phone, mail or parts of these; null for none or several. */
export async function findOneRider(tx: Tx, sought: string): Promise<string | null> {
  const found = await tx.findWords.find(findParts(sought), MOST_LOOKED_AT);
  const riders = found.filter(({ kind }) => kind === 'rider');
  return riders.length === 1 ? riders[0]!.id : null;
}

const MOST_LOOKED_AT = 60;
