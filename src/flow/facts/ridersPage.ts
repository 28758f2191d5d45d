import type { BikeFact, Fact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { ServiceError } from '../../errors.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getIdOf } from '../names.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

export const RIDERS_SHOWN = 200;

/** A bike with the tags of the units that are on it now. */
export type BikeWithUnits = BikeFact & { readonly tags: readonly string[] };

export interface ShownRider {
  readonly contact: Contact;
  readonly handle: string;
  readonly bikes: readonly BikeWithUnits[];
}

/** What the list of riders shows. */
export interface RidersPage {
  /** How many there are. */
  readonly count: number;
  /** The first of them, in order of names. */
  readonly riders: readonly ShownRider[];
  /** Bikes without a rider. */
  readonly loose: readonly BikeWithUnits[];
}

export async function getRidersPage(tx: Tx, now: Instant): Promise<RidersPage> {
  const contacts = await tx.contacts.listFirst(RIDERS_SHOWN);
  const bikes = await tx.facts.listTouching(
    'bike',
    contacts.map(({ riderId }) => riderId),
  );
  const withUnits = await unitsOn(tx, [...bikes, ...(await tx.facts.list('bike', { object: null }))], now);
  const handles = await tx.handles.listOf(
    'rider',
    contacts.map(({ riderId }) => riderId),
  );
  const riders = contacts.map((contact) => ({
    contact,
    handle: handles.get(contact.riderId) ?? '',
    bikes: withUnits.filter(({ riderId }) => riderId === contact.riderId),
  }));
  return {
    count: await tx.contacts.count(),
    riders,
    loose: withUnits.filter((bike) => bike.riderId === null).slice(0, RIDERS_SHOWN),
  };
}

/** In order of names. */
async function unitsOn(tx: Tx, bikes: readonly Fact<'bike'>[], now: Instant): Promise<BikeWithUnits[]> {
  const { timeZone } = await getWorkshop(tx);
  const fittings = (
    await tx.facts.listTouching(
      'fitting',
      bikes.map(({ entityId }) => entityId),
    )
  )
    .map((fact) => fittingOf(fact, timeZone))
    .filter((fitting) => fittingNow([fitting], now));
  const tags = await tx.handles.listOf(
    'unit',
    fittings.map(({ unitId }) => unitId),
  );
  const on = new Map<string, string[]>();
  for (const { bikeId, unitId } of fittings)
    on.set(bikeId, [...(on.get(bikeId) ?? []), tags.get(unitId) ?? '']);
  return bikes
    .map(({ entityId, body }) => ({ ...body, tags: (on.get(entityId) ?? []).sort() }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** Errors: `not-found`. */
export async function getContact(tx: Tx, handle: string): Promise<Contact> {
  const contact = await tx.contacts.find(await getIdOf(tx, 'rider', handle));
  if (contact) return contact;
  throw new ServiceError('not-found', `There is no rider ${handle}.`);
}
