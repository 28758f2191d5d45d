import { isTold } from '../../core/states.js';
import type { ServiceKind, State } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listBoxedOf, listRiderBikes, type RiderBike, type RiderUnit } from '../due/riderUnits.js';
import { getContact } from '../facts/ridersPage.js';
import { listSubjects } from '../mail/listSubjects.js';
import { listMailsTo, type ShownMail } from '../mail/mailsPage.js';
import { listAskingOf } from '../rides/listTray.js';
import { getWorkshop } from '../settings.js';

const MAILS_SHOWN = 5;
const RIDES_SHOWN = 5;

/** Something that the rider may be told by phone. */
export interface ToTell {
  readonly tag: string;
  readonly serviceKind: ServiceKind;
  readonly state: State;
}

/** All that a call is answered from. */
export interface RiderCall {
  readonly contact: Contact;
  readonly bikes: readonly RiderBike[];
  /** Units of theirs on no bike. */
  readonly boxed: readonly RiderUnit[];
  /** What nobody told the rider yet. */
  readonly toTell: readonly ToTell[];
  /** The latest, newest first. */
  readonly rides: readonly RideRow[];
  readonly mails: readonly ShownMail[];
  /** How many rides ask something. */
  readonly asking: number;
}

/** Errors: `not-found`. */
export async function getRiderPage(tx: Tx, handle: string, now: Instant): Promise<RiderCall> {
  const contact = await getContact(tx, handle);
  const { riderId } = contact;
  const bikes = await listRiderBikes(tx, riderId, now);
  return {
    contact,
    bikes,
    boxed: await listBoxedOf(tx, riderId, now),
    toTell: await listToTell(tx, bikes, now),
    rides: await tx.rides.listLatestOfRider(riderId, RIDES_SHOWN),
    mails: await listMailsTo(tx, riderId, MAILS_SHOWN),
    asking: (await listAskingOf(tx, riderId)).length,
  };
}

async function listToTell(tx: Tx, bikes: readonly RiderBike[], now: Instant): Promise<ToTell[]> {
  const { timeZone } = await getWorkshop(tx);
  const tags = new Map(bikes.flatMap(({ units }) => units.map(({ unitId, unit }) => [unitId, unit.tag])));
  return (await listSubjects(tx, now, timeZone, [...tags.keys()])).flatMap(
    ({ standing: { unitId, serviceKind, state }, isTold: wasTold }) =>
      wasTold || !isTold(state) ? [] : [{ tag: tags.get(unitId)!, serviceKind, state }],
  );
}
