import { ServiceError } from '../errors.js';
import { fleetIdOfUnit } from '../flow/facts/fleet.js';
import type { Tx } from '../ports/store.js';
import type { Instant } from '../units.js';

/** What an address may name. */
export type Named =
  | 'unit'
  | 'rider'
  | 'bike'
  | 'ride'
  | 'race'
  | 'fleet'
  | 'line'
  | 'lead'
  | 'mail'
  | 'question'
  | 'account'
  | 'unit kind'
  | 'service kind';

interface NamedThing {
  readonly what: Named;
  readonly handle: string;
}

/** Returns whether there is what an address names; kinds are for the page to know. */
export async function isThere(tx: Tx, { what, handle }: NamedThing): Promise<boolean> {
  switch (what) {
    case 'unit':
    case 'rider':
    case 'bike':
    case 'race':
    case 'fleet':
      return (await tx.handles.find(what, handle)) !== undefined;
    case 'ride':
    case 'question':
      return (await tx.rides.find(handle)) !== undefined;
    case 'lead':
      return (await tx.leads.find(handle)) !== undefined;
    case 'mail':
      return (await tx.mails.find(handle)) !== undefined;
    case 'account':
      return (await tx.accounts.find(handle)) !== undefined;
    case 'line':
      return (await tx.facts.find(handle)) !== undefined;
    case 'unit kind':
    case 'service kind':
      return true;
  }
}

/** Returns whether what is named is the fleet's own; what is not there is nobody's. */
export async function isOfFleet(
  tx: Tx,
  fleetId: string,
  { what, handle }: NamedThing,
  now: Instant,
): Promise<boolean> {
  switch (what) {
    case 'unit': {
      const unitId = await tx.handles.find('unit', handle);
      return unitId !== undefined && (await fleetIdOfUnit(tx, unitId, now)) === fleetId;
    }
    case 'bike':
      return isBikeOf(tx, fleetId, await tx.handles.find('bike', handle));
    case 'ride': {
      const ride = await tx.rides.find(handle);
      return ride !== undefined && ride.question === null && isBikeOf(tx, fleetId, ride.bikeId);
    }
    case 'race':
      return isRaceOf(tx, fleetId, await tx.handles.find('race', handle));
    case 'fleet':
      return (await tx.handles.find('fleet', handle)) === fleetId;
    default:
      return false;
  }
}

const isBikeOf = async (tx: Tx, fleetId: string, bikeId: string | null | undefined): Promise<boolean> =>
  bikeId != null && (await tx.facts.current('bike', bikeId))?.body.fleetId === fleetId;

async function isRaceOf(tx: Tx, fleetId: string, raceId: string | undefined): Promise<boolean> {
  const race = raceId === undefined ? undefined : await tx.facts.current('race', raceId);
  for (const bikeId of race?.body.bikeIds ?? []) if (await isBikeOf(tx, fleetId, bikeId)) return true;
  return false;
}

export const pathOfFleet = (handle: string): string => `/fleets/${encodeURIComponent(handle)}`;

/** Errors: `not-found`. */
export async function getFleetId(tx: Tx, handle: string): Promise<string> {
  const id = await tx.handles.find('fleet', handle);
  if (id !== undefined) return id;
  throw new ServiceError('not-found', 'find a fleet', 'There is no such fleet.');
}
