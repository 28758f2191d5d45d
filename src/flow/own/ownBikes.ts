/** What riders say of their own bikes. */
import { addDays, startOfDay } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { BikeType, Ground } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, isoTime } from '../../units.js';
import { addBikeWith, changeThing } from '../counter/changeThings.js';
import type { NewUnit } from '../counter/newThings.js';
import type { Entry } from '../entry.js';
import { addHours } from '../facts/enterFacts.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { fitUnit } from '../fittings/fittings.js';
import { findGone } from '../fittings/fleet.js';
import { setGone } from '../fittings/whereabouts.js';
import { settleReadings } from '../rides/settleReadings.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** More bikes than anybody has are a mistake, or mischief. */
const MOST_BIKES = 20;

export interface OwnNewBike {
  readonly name: string;
  readonly type: BikeType;
  readonly since: Day;
  readonly units: readonly NewUnit[];
}

/** Adds a bike of a rider's with what is on it; null where there are too many. Errors: `refused`. */
export async function addOwnBike(
  tx: Tx,
  riderId: string,
  bike: OwnNewBike,
  entry: Entry,
): Promise<Fact<'bike'> | null> {
  const own = await tx.facts.list('bike', { object: riderId });
  if (own.length >= MOST_BIKES) return null;
  return addBikeWith(tx, { riderId, fleetId: null, ...bike }, entry);
}

/** A unit that was last on a rider's bike and lies in its box. */
export interface StoredUnit {
  readonly unit: Fact<'unit'>;
  readonly bikeId: string;
}

export interface OwnBike {
  readonly fact: Fact<'bike'>;
  /** On it now. */
  readonly units: readonly Fact<'unit'>[];
  readonly stored: readonly StoredUnit[];
}

/** Returns a bike of the rider's by its name for files; undefined where it is not one of theirs. */
export async function findOwnBike(
  tx: Tx,
  riderId: string,
  handle: string,
  now: Instant,
): Promise<OwnBike | undefined> {
  const fact = (await tx.facts.list('bike', { object: riderId })).find(({ body }) => body.handle === handle);
  if (!fact) return undefined;
  const { timeZone } = await getWorkshop(tx);
  const units: Fact<'unit'>[] = [];
  const stored: StoredUnit[] = [];
  const fittings = await tx.facts.list('fitting', { object: fact.entityId });
  for (const unitId of new Set(fittings.map(({ body }) => body.unitId))) {
    const unit = await tx.facts.current('unit', unitId);
    const all = (await tx.facts.list('fitting', { subject: unitId })).map((one) => fittingOf(one, timeZone));
    const on = fittingNow(all, now);
    if (!unit) continue;
    if (on?.bikeId === fact.entityId) units.push(unit);
    const last = [...all].sort((a, b) => b.from - a.from)[0];
    const isStored = on === undefined && last?.bikeId === fact.entityId;
    if (isStored && (await findGone(tx, unitId, now)) === null) stored.push({ unit, bikeId: fact.entityId });
  }
  return { fact, units, stored };
}

/** Puts a stored unit back on the bike that it was last on. Errors: `refused` where another is there, or it is marked. */
export const bringBack = async (tx: Tx, { unit, bikeId }: StoredUnit, entry: Entry): Promise<string> =>
  fitUnit(tx, { unitId: unit.entityId, bikeId, from: isoTime(entry.at), to: null }, false, entry);

export interface OwnHours {
  readonly on: Day;
  readonly minutes: number;
  readonly ground: Ground;
}

/** Adds riding that nobody recorded. Errors: `refused`. */
export const sayHours = (tx: Tx, bikeId: string, hours: OwnHours, entry: Entry): Promise<string> =>
  addHours(tx, { bikeId, ...hours, note: null }, entry);

/** Says whether a motor helps. Returns false where that was known. */
export const sayMotor = (tx: Tx, bikeId: string, motor: boolean, entry: Entry): Promise<boolean> =>
  changeThing(tx, { kind: 'bike', entityId: bikeId, factId: undefined, words: { motor } }, entry);

/** Says from which day on rides of which nothing else tells the bike are on it; null: no longer. */
export const sayUsual = (tx: Tx, bikeId: string, usual: Day | null, entry: Entry): Promise<boolean> =>
  changeThing(tx, { kind: 'bike', entityId: bikeId, factId: undefined, words: { usual } }, entry);

/** Says that a bike was sold with all that is on it. Returns how many units went with it. Errors: `refused`. */
export async function saySold(tx: Tx, { fact, units }: OwnBike, on: Day, entry: Entry): Promise<number> {
  const touched = nothingTouched();
  for (const { entityId } of units)
    await setGone(tx, { unitId: entityId, how: 'sold', on }, { ...entry, why: 'bike sold' }, touched);
  await changeThing(
    tx,
    { kind: 'bike', entityId: fact.entityId, factId: undefined, words: { sold: on } },
    entry,
  );
  await follow(tx, touched, entry.at);
  return units.length;
}

/** Says that a day was wet: rides of that day on the bike weigh more. Returns how many there are. */
export async function sayWet(tx: Tx, bikeId: string, on: Day, entry: Entry): Promise<number> {
  const { timeZone } = await getWorkshop(tx);
  const [from, until] = [startOfDay(on, timeZone), startOfDay(addDays(on, 1), timeZone)];
  const rides = (await tx.rides.listCounted(bikeId, from)).filter(
    ({ source, start }) => source === 'recorded' && start! < until,
  );
  const readingIds = rides.flatMap((ride) => ride.readingIds);
  for (const readingId of readingIds)
    await tx.facts.add({ kind: 'answer', body: { readingId, wet: true }, ...entry });
  await settleReadings(tx, readingIds, entry.at);
  return rides.length;
}
