/** Whose a unit is, and whether it is there at all. */
import { type Day, type Instant, instant } from '../../units.js';
import { dayOf } from '../days/calendar.js';
import type { Going, GoneWay } from '../tokens.js';
import { type FleetOfBike, fleetAt } from './bikeFleet.js';
import type { Fitting } from './ledger.js';

/** The fleet of a unit from a day on; `from` null for ever since, `fleetId` null for none. */
export interface Membership {
  readonly fleetId: string | null;
  readonly from: Day | null;
}

/** That a unit left on a day, or came back. */
export interface Departure {
  readonly how: Going;
  readonly on: Day;
}

/** That a unit is gone for good. */
export interface Gone {
  readonly how: GoneWay;
  readonly on: Day;
}

export interface Belonging {
  /** In order of entry. */
  readonly memberships: readonly Membership[];
  readonly fittings: readonly Fitting[];
  readonly bikes: ReadonlyMap<string, FleetOfBike>;
}

const byDay = <T>(dayIn: (one: T) => Day | null, rows: readonly T[]): T[] =>
  [...rows].sort((a, b) => {
    const [one, other] = [dayIn(a) ?? '', dayIn(b) ?? ''];
    return one < other ? -1 : one > other ? 1 : 0;
  });

/**
 * Returns the fleet of a unit: the one that was said; where none was, that of the bike that it is on, or of the last one
 * as it was then. So a spare in its box stays its fleet's.
 */
export function fleetOf(
  { memberships, fittings, bikes }: Belonging,
  at: Instant,
  zone: string,
): string | null {
  const today = dayOf(at, zone);
  const said = byDay(({ from }) => from, memberships).findLast(({ from }) => from === null || from <= today);
  if (said) return said.fleetId;
  const last = fittings
    .filter(({ from, seenFrom = from }) => seenFrom <= at)
    .reduce<Fitting | null>(
      (latest, one) => (latest === null || one.from > latest.from ? one : latest),
      null,
    );
  const bike = last === null ? undefined : bikes.get(last.bikeId);
  if (last === null || bike === undefined) return null;
  return fleetAt(bike, last.to !== null && last.to <= at ? instant(last.to - 1) : at);
}

/** Returns how a unit is gone on a day; null while it is there. Shape: in order of entry. */
export function goneOn(departures: readonly Departure[], today: Day): Gone | null {
  const last = byDay(({ on }) => on, departures).findLast(({ on }) => on <= today);
  return last === undefined || last.how === 'back' ? null : { how: last.how, on: last.on };
}

/** A time in which a unit was gone: after the last ride of a day, until the start of another or for good. */
export interface Absence extends Gone {
  readonly back: Day | null;
}

/** Returns the times in which a unit was gone, in order. Shape: in order of entry. */
export function absencesOf(departures: readonly Departure[]): Absence[] {
  const absences: Absence[] = [];
  for (const { how, on } of byDay((one) => one.on, departures)) {
    const open = absences.at(-1);
    const isOpen = open !== undefined && open.back === null;
    if (how === 'back' && isOpen) absences.splice(-1, 1, { ...open, back: on });
    if (how !== 'back' && !isOpen) absences.push({ how, on, back: null });
  }
  return absences;
}
