import type { Account, Role } from '../ports/accounts.js';
import type { Tx } from '../ports/store.js';
import type { Instant } from '../units.js';
import { fleetIdOfUnit } from './fittings/fleet.js';

/** What an address may name. */
export type Named =
  | 'unit'
  | 'rider'
  | 'bike'
  | 'ride'
  | 'race'
  | 'fleet'
  | 'line'
  | 'photo'
  | 'lead'
  | 'mail'
  | 'question'
  | 'account'
  | 'list'
  | 'unit kind'
  | 'service kind';

/** Lists that speak of units alone: a mechanic gets those of the own fleet. */
const FLEET_LISTS: readonly string[] = ['due.csv', 'units.csv', 'services.csv'];

/** One of them, by its handle or id. */
export interface OwnedThing {
  readonly what: Named;
  readonly handle: string;
}

/** What somebody asks to use: whom it is for, and what its address names. */
export interface Asked {
  readonly roles: readonly Role[];
  readonly named: readonly OwnedThing[];
}

/**
 * Returns whether an account may use what is asked for: by its role, and a mechanic only what is the own fleet's. What is
 * not there nobody may use.
 */
export async function mayUse(
  tx: Tx,
  account: Account,
  { roles, named }: Asked,
  now: Instant,
): Promise<boolean> {
  if (!roles.includes(account.role)) return false;
  const fleet = await findFleetOf(tx, account);
  for (const one of named) {
    if (!(await isThere(tx, one))) return false;
    if (account.role === 'mechanic' && !(fleet && (await isOfFleet(tx, fleet.id, one, now)))) return false;
  }
  return true;
}

export interface OwnFleet {
  readonly id: string;
  readonly handle: string;
  readonly name: string;
}

/** Returns the fleet that an account looks after; null for those who see the whole workshop. */
export async function findFleetOf(tx: Tx, { fleetId }: Account): Promise<OwnFleet | null> {
  const fact = fleetId === null ? undefined : await tx.facts.current('fleet', fleetId);
  return fact === undefined ? null : { id: fact.entityId, ...fact.body };
}

/** Returns the id of the unit or bike that a form names. What lies outside of a mechanic's fleet is as good as not there. */
export async function findNamed(
  tx: Tx,
  { what, handle }: OwnedThing & { readonly what: 'unit' | 'bike' },
  fleet: OwnFleet | null,
  now: Instant,
): Promise<string | undefined> {
  const id = await tx.handles.find(what, handle);
  return fleet === null || (await isOfFleet(tx, fleet.id, { what, handle }, now)) ? id : undefined;
}

/** Returns whether there is what an address names; kinds are for the page to know. */
async function isThere(tx: Tx, { what, handle }: OwnedThing): Promise<boolean> {
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
      return (await tx.leads.listOf(handle)).length > 0;
    case 'mail':
      return (await tx.mails.find(handle)) !== undefined;
    case 'account':
      return (await tx.accounts.find(handle)) !== undefined;
    case 'line':
      return (await tx.facts.find(handle)) !== undefined;
    case 'photo':
      return (await tx.facts.current('photo', handle)) !== undefined;
    case 'list':
    case 'unit kind':
    case 'service kind':
      return true;
  }
}

/** Returns whether what is named is the fleet's own; what is not there is nobody's. */
async function isOfFleet(
  tx: Tx,
  fleetId: string,
  { what, handle }: OwnedThing,
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
    case 'photo': {
      const photo = await tx.facts.current('photo', handle);
      return photo !== undefined && (await fleetIdOfUnit(tx, photo.body.unitId, now)) === fleetId;
    }
    case 'race':
      return isRaceOf(tx, fleetId, await tx.handles.find('race', handle));
    case 'fleet':
      return (await tx.handles.find('fleet', handle)) === fleetId;
    // Narrowed to the fleet by whoever writes them.
    case 'list':
      return FLEET_LISTS.includes(handle);
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
