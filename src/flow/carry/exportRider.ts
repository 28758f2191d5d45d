import type { ReadingSaid } from '../../core/ground/samples/reading.js';
import type { Fact, FittingFact, ServiceFact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { FileRow } from '../../ports/files.js';
import type { MailRow } from '../../ports/mails.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant, isoTime } from '../../units.js';
import { loadHandles, rowOfBody } from '../facts/factRows.js';
import { pathOfFile } from '../photos/photos.js';

const timeOrNull = (at: Instant | null): string | null => (at === null ? null : isoTime(at));

/**
 * Returns all that is held of a rider, in lists by what it is; nothing of other riders.
 * Errors: `not-found`.
 */
export async function exportRider(tx: Tx, riderId: string): Promise<Readonly<Record<string, unknown>>> {
  const contact = await tx.contacts.find(riderId);
  if (!contact) throw new ServiceError('not-found', 'Nothing is known of how to reach this rider.');
  const handles = await loadHandles(tx);
  const bikes = await tx.facts.list('bike', { object: riderId });
  const fittings: Fact<'fitting'>[] = [];
  for (const bike of bikes) fittings.push(...(await tx.facts.list('fitting', { object: bike.entityId })));
  const unitIds = [...new Set(fittings.map(({ body }) => body.unitId))];
  const units = await tx.facts.listMany('unit', unitIds);
  const hours = await tx.facts.listMany(
    'hours',
    bikes.map((bike) => bike.entityId),
  );
  const unrecorded = await tx.facts.listMany(
    'unrecorded',
    bikes.map((bike) => bike.entityId),
  );
  const declared = await tx.facts.listMany(
    'declared',
    bikes.map((bike) => bike.entityId),
  );
  const ridden = await tx.rides.listOf({ riderIds: [riderId], bikeIds: bikes.map((bike) => bike.entityId) });
  // What somebody else rode on the rider's bike is somebody else's.
  const rides = ridden.filter((ride) => ride.riderId === riderId || ride.riderId === null);
  const readings = await tx.readings.getMany(rides.flatMap((ride) => ride.readingIds));
  const profiles = await tx.readings.listProfiles(readings.map(({ id }) => id));
  const { riderId: _id, addressId: _addressId, linkEpoch: _epoch, ...known } = contact;
  return {
    rider: {
      id: handles('rider', riderId),
      ...known,
      confirmedAt: timeOrNull(contact.confirmedAt),
      unsubscribedAt: timeOrNull(contact.unsubscribedAt),
      refusedAt: timeOrNull(contact.refusedAt),
    },
    bikes: bikes.map((bike) => rowOfBody('bike', bike.body, handles)),
    units: units.map((unit) => rowOfBody('unit', unit.body, handles)),
    fittings: fittings.map((fitting) => rowOfBody('fitting', fitting.body, handles)),
    services: (await tx.facts.listMany('service', unitIds))
      .filter(({ body }) => fittings.some((fitting) => wasOnThen(fitting.body, body)))
      .map(({ body }) => ({
        ...{ unit: handles('unit', body.unitId), serviceKind: body.serviceKind },
        ...{ on: body.on, by: body.by, restarts: body.restarts },
      })),
    hours: hours.map((entry) => rowOfBody('hours', entry.body, handles)),
    unrecorded: unrecorded.map((entry) => rowOfBody('unrecorded', entry.body, handles)),
    declared: declared.map((one) => rowOfBody('declared', one.body, handles)),
    rides: rides.map((ride) => rideTold(ride, handles('bike', ride.bikeId ?? ''))),
    files: await filesTold(tx, await tx.files.listOfRider(riderId)),
    readings: readings.map(({ id, reading }) => readingTold(id, reading, profiles.get(id)!)),
    setUps: (await tx.facts.listMany('setUp', unitIds))
      .filter(({ body }) => fittings.some((fitting) => wasOnThen(fitting.body, body)))
      .map(({ body }) => toldOf(handles('unit', body.unitId), body)),
    heard: (await tx.facts.listMany('heard', unitIds))
      .filter(({ body }) => fittings.some((fitting) => wasOnThen(fitting.body, body)))
      .map(({ body }) => toldOf(handles('unit', body.unitId), body)),
    atHome: (await tx.facts.list('atHome', { object: riderId })).map(({ body }) => ({
      ...{ unit: handles('unit', body.unitId), serviceKind: body.serviceKind },
      ...{ step: body.step, chosenOn: body.chosenOn },
    })),
    photographs: (await tx.facts.list('photo', { object: riderId })).map(({ body }) => ({
      unit: handles('unit', body.unitId),
      on: body.on,
      shows: body.shows,
      file: pathOfFile(body.sha256),
    })),
    mails: (await tx.mails.listTo(riderId)).map(mailTold),
    leads: (await tx.leads.list())
      .filter((lead) => lead.riderId === riderId)
      .map((lead) => ({
        unit: handles('unit', lead.unitId),
        serviceKind: lead.serviceKind,
        state: lead.state,
        day: lead.day,
        madeAt: isoTime(lead.madeAt),
        changedAt: isoTime(lead.changedAt),
      })),
    later: (await tx.leads.listLater())
      .filter((later) => later.riderId === riderId)
      .map((later) => ({
        unit: handles('unit', later.unitId),
        saidAt: isoTime(later.at),
        until: later.until,
      })),
  };
}

/** What was done to a unit while it was on a bike of the rider's. */
const wasOnThen = (on: FittingFact, { unitId, on: day }: Pick<ServiceFact, 'unitId' | 'on'>): boolean =>
  on.unitId === unitId && on.from.slice(0, 10) <= day && (on.to === null || day <= on.to.slice(0, 10));

const toldOf = <Body extends { readonly unitId: string }>(unit: string, { unitId: _id, ...told }: Body) => ({
  unit,
  ...told,
});

const rideTold = (ride: RideRow, bike: string) => ({
  id: ride.id,
  source: ride.source,
  bike: bike === '' ? null : bike,
  bikeRule: ride.bikeRule,
  start: timeOrNull(ride.start),
  end: timeOrNull(ride.end),
  movingHours: hoursOfSeconds(ride.movingS),
  terrainHours: hoursOfThousandths(ride.terrainMs),
  severity: ride.severity,
  distanceM: ride.distanceM,
  ascentM: ride.ascentM,
  descentM: ride.descentM,
  question: ride.question,
  dismissed: ride.dismissed,
  readings: ride.readingIds,
});

/** As it is stored, with times that can be read. */
const readingTold = (id: string, reading: ReadingSaid, profile: string) => ({
  id,
  ...reading,
  profile: JSON.parse(profile),
  start: timeOrNull(reading.start),
  end: timeOrNull(reading.end),
});

const mailTold = ({ mail, state, queuedAt, settledAt, written }: MailRow) => ({
  mail,
  state,
  queuedAt: isoTime(queuedAt),
  settledAt: timeOrNull(settledAt),
  to: written?.to.address ?? null,
  subject: written?.subject ?? null,
  text: written?.text ?? null,
});

async function filesTold(tx: Tx, files: readonly FileRow[]): Promise<object[]> {
  const arrivals = await tx.files.listArrivals(files.map((file) => file.id));
  return files.map(({ id, sha256, bytes, outcome, code, reason }) => ({
    original: `originals/${sha256.slice(0, 2)}/${sha256}`,
    bytes,
    outcome,
    code,
    reason,
    handedOver: arrivals
      .filter((arrival) => arrival.fileId === id)
      .map(({ name, at }) => ({ name, at: isoTime(at) })),
  }));
}
