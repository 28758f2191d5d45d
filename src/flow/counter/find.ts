/** One way to whom and what people look for: by parts of names, tags, serials, phone numbers and addresses. */
import { findParts } from '../../core/findWords.js';
import type { BikeFact, UnitFact } from '../../core/ledger/facts.js';
import type { Gone } from '../../core/ledger/whereabouts.js';
import { naturalOrder } from '../../core/naturalOrder.js';
import type { Contact } from '../../ports/contacts.js';
import type { FoundKind, FoundThing } from '../../ports/handles.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listDueOfMany } from '../due/listDue.js';
import { type NamedRow, withNames } from '../due/namedRows.js';
import { nextOfEach } from '../due/unitsPage.js';
import { findGone, fleetIdOfUnit } from '../fittings/fleet.js';
import type { OwnFleet } from '../rights.js';

/** So many are shown at most. */
export const FOUND_SHOWN = 60;

export interface FoundRider {
  readonly contact: Contact;
  readonly handle: string;
  /** Names of the rider's bikes. */
  readonly bikes: readonly string[];
}

export interface FoundBike {
  readonly bike: BikeFact;
  readonly rider: string | null;
}

/** A unit that is in no list any more. */
export interface FoundGone extends Pick<UnitFact, 'tag' | 'unitKind' | 'model'> {
  readonly gone: Gone;
}

export interface FoundThings {
  readonly riders: readonly FoundRider[];
  /** Each with what comes next for it, in order of tags. */
  readonly units: readonly NamedRow[];
  readonly bikes: readonly FoundBike[];
  /** Units that left for good, in order of tags. */
  readonly gone: readonly FoundGone[];
  /** Whether there may be more. */
  readonly isMore: boolean;
  /** What alone fits, by its name. */
  readonly only: { readonly kind: FoundKind; readonly handle: string } | null;
}

/** Returns what fits; to a mechanic only what is the own fleet's. */
export async function find(
  tx: Tx,
  sought: string,
  fleet: OwnFleet | null,
  now: Instant,
): Promise<FoundThings> {
  const things = await tx.findWords.find(findParts(sought), FOUND_SHOWN);
  const seen = fleet === null ? things : await ofFleet(tx, things, fleet, now);
  const idsOf = (kind: FoundKind): string[] => seen.flatMap((one) => (one.kind === kind ? [one.id] : []));
  const riders = await ridersOf(tx, idsOf('rider'));
  const units = nextOfEach(await withNames(tx, await listDueOfMany(tx, idsOf('unit'), now)));
  const bikes = await bikesOf(tx, idsOf('bike'));
  return {
    riders,
    units,
    bikes,
    gone: await goneOf(tx, idsOf('unit'), now),
    isMore: things.length >= FOUND_SHOWN,
    only: await onlyOne(tx, sought, seen),
  };
}

async function goneOf(tx: Tx, ids: readonly string[], now: Instant): Promise<FoundGone[]> {
  const found: FoundGone[] = [];
  for (const { entityId, body } of await tx.facts.listMany('unit', ids)) {
    const gone = await findGone(tx, entityId, now);
    if (gone !== null) found.push({ tag: body.tag, unitKind: body.unitKind, model: body.model, gone });
  }
  return found.sort((a, b) => naturalOrder(a.tag, b.tag));
}

async function ofFleet(
  tx: Tx,
  things: readonly FoundThing[],
  fleet: OwnFleet,
  now: Instant,
): Promise<FoundThing[]> {
  const own: FoundThing[] = [];
  for (const one of things) {
    const fleetId =
      one.kind === 'unit'
        ? await fleetIdOfUnit(tx, one.id, now)
        : one.kind === 'bike'
          ? (await tx.facts.current('bike', one.id))?.body.fleetId
          : null;
    if (fleetId === fleet.id) own.push(one);
  }
  return own;
}

/** One that is called exactly so stands before all whose names hold it. */
async function onlyOne(tx: Tx, sought: string, seen: readonly FoundThing[]): Promise<FoundThings['only']> {
  const called = await tx.handles.find('unit', sought.trim());
  const exact = seen.find(({ kind, id }) => kind === 'unit' && id === called);
  const one = exact ?? (seen.length === 1 ? seen[0] : undefined);
  const handle = one && (await tx.handles.listOf(one.kind, [one.id])).get(one.id);
  return one && handle !== undefined ? { kind: one.kind, handle } : null;
}

async function ridersOf(tx: Tx, ids: readonly string[]): Promise<FoundRider[]> {
  const handles = await tx.handles.listOf('rider', ids);
  const bikes = await tx.facts.listTouching('bike', ids);
  return [...(await tx.contacts.listOf(ids))]
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .map((contact) => ({
      contact,
      handle: handles.get(contact.riderId) ?? '',
      bikes: bikes.filter(({ body }) => body.riderId === contact.riderId).map(({ body }) => body.name),
    }));
}

async function bikesOf(tx: Tx, ids: readonly string[]): Promise<FoundBike[]> {
  const bikes = (await tx.facts.listMany('bike', ids)).map(({ body }) => body);
  const riderIds = bikes.map(({ riderId }) => riderId).filter((id) => id !== null);
  const names = new Map((await tx.contacts.listOf(riderIds)).map(({ riderId, name }) => [riderId, name]));
  return bikes
    .map((bike) => ({ bike, rider: bike.riderId === null ? null : (names.get(bike.riderId) ?? null) }))
    .sort((a, b) => (a.bike.name < b.bike.name ? -1 : 1));
}
