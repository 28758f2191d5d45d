/** Bikes that go out on hire, as a demo or on loan, and come back: their hours are the days ridden times what was typed. */
import { addDays, dayOf } from '../../core/days/calendar.js';
import { dayNumber } from '../../core/days/dayNumber.js';
import type { Fact, HireFact } from '../../core/ledger/facts.js';
import type { Bike } from '../../core/ledger/ledger.js';
import type { Ground } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, minutesOfHours } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact } from '../facts/changeFact.js';
import { markUnit } from '../facts/enterFacts.js';
import { follow, nothingTouched } from '../facts/touched.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { type Fleet, type FleetUnit, getFleetByName } from './fleet.js';

/** What is typed of a time out. */
export type HireWords = Pick<HireFact, 'until' | 'hoursADay' | 'ground' | 'note'>;

/** A bike of the fleet with its time out, or what was typed the last time. */
export interface HireBike {
  readonly bike: Bike;
  readonly units: readonly FleetUnit[];
  /** Null while it is in. */
  readonly out: Fact<'hire'> | null;
  readonly last: HireFact | null;
}

export interface HirePage {
  readonly fleet: Fleet;
  /** Those that are out first, the earliest expected on top. */
  readonly bikes: readonly HireBike[];
  /** The fleet's units that are on other people's bikes. */
  readonly lent: readonly FleetUnit[];
}

/** Errors: `not-found`. */
export async function getHirePage(tx: Tx, handle: string, now: Instant): Promise<HirePage> {
  const fleet = await getFleetByName(tx, handle, now);
  const hires = await tx.facts.listMany(
    'hire',
    fleet.bikes.map(({ id }) => id),
  );
  const bikes = fleet.bikes.map((bike): HireBike => {
    const own = hires.filter(({ body }) => body.bikeId === bike.id);
    return {
      bike,
      units: fleet.units.filter((one) => one.bike?.id === bike.id),
      out: own.find(({ body }) => body.back === null) ?? null,
      last: own.at(-1)?.body ?? null,
    };
  });
  const key = ({ out }: HireBike): string => (out === null ? '9999' : (out.body.until ?? '9998'));
  return {
    fleet,
    bikes: bikes.sort((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0)),
    lent: fleet.units.filter(({ elsewhere }) => elsewhere !== null),
  };
}

/** Says that a bike went out. Errors: `refused` where it is out already, or a unit on it is marked to be stopped. */
export async function sendOut(
  tx: Tx,
  { bike, units, out }: HireBike,
  words: HireWords,
  entry: Entry,
): Promise<void> {
  if (out !== null) refuse('is-out', { bike: bike.name, since: out.body.out });
  const marked = units.find(({ stopped }) => stopped !== null);
  if (marked) refuse('bike-marked', { bike: bike.name, tag: marked.unit.tag, why: marked.stopped! });
  const today = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  const body = { bikeId: bike.id, out: today, back: null, daysRidden: null, ...words };
  await addFact(tx, { kind: 'hire', body }, entry);
}

/** What is said when a bike comes back. */
export interface CameBack {
  /** On how many of its days out it was ridden. */
  readonly daysRidden: number;
  readonly hoursADay: number;
  readonly ground: Ground;
  readonly hoursNote: string;
  /** What forbids riding, by unit. */
  readonly harm: ReadonlyMap<string, string>;
}

/**
 * Says that a bike came back: its hours are entered by hand, day by day from the first, and what forbids riding marks the
 * unit. Shape: `seen` is the fact of its time out. Errors: `already-replaced`, `not-found`, `refused`.
 */
export async function comeBack(tx: Tx, seen: string, said: CameBack, entry: Entry): Promise<void> {
  const fact = await tx.facts.find(seen);
  if (fact?.kind !== 'hire') throw new ServiceError('not-found', 'There is no such time out.');
  const { bikeId, out, ...rest } = fact.body as HireFact;
  const { daysRidden, hoursADay, ground, hoursNote: note, harm } = said;
  const back = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  const days = daysBetween(out, back);
  if (daysRidden > days) refuse('days-out', { most: days });
  const touched = nothingTouched();
  const body = { ...rest, bikeId, out, back, daysRidden, hoursADay, ground };
  await replaceFact(tx, seen, { kind: 'hire', body }, entry, touched);
  for (let i = 0; i < daysRidden && hoursADay > 0; i++) {
    const hours = { bikeId, on: addDays(out, i), minutes: minutesOfHours(hoursADay), ground, note };
    await addFact(tx, { kind: 'hours', body: hours }, entry, touched);
  }
  await follow(tx, touched, entry.at);
  for (const [unitId, why] of harm) await markUnit(tx, unitId, true, why, entry);
}

/** Returns how many days a bike was out, the first and the last among them. */
export const daysBetween = (out: Day, back: Day): number => dayNumber(back) - dayNumber(out) + 1;
