import { addDays, startOfDay } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { Bike } from '../../core/ledger/ledger.js';
import type {
  BikeKnowledge,
  KnownBike,
  NamedBike,
  Said,
  SensorConfirmation,
} from '../../core/rides/attribution.js';
import { wordOfRecorder } from '../../core/rides/recorder.js';
import type { Part } from '../../core/rides/ride.js';
import { profileOf, recorderOf } from '../../core/rides/settle.js';
import type { Arrival } from '../../ports/files.js';
import type { Tx } from '../../ports/store.js';
import { getWorkshop } from '../settings.js';
import { bikeOf, fittingOf } from '../unitLedger.js';

/** Returns all parts of the readings: what they say and what was said of them. */
export async function listParts(tx: Tx, readingIds: readonly string[]): Promise<Part[]> {
  const readings = await tx.readings.getMany(readingIds);
  const arrivals = await tx.files.listArrivals([...new Set(readings.map((one) => one.fileId))]);
  const answers = await tx.facts.listMany('answer', readingIds);
  const marks = await tx.readings.listMarks(readingIds);
  const arrivalsOf = groupBy(arrivals, (arrival) => arrival.fileId);
  const answersTo = groupBy(answers, (answer) => answer.body.readingId);
  return readings.map(({ id, fileId, reading, leftAs }) => {
    const own = arrivalsOf.get(fileId)!;
    const said = (answersTo.get(id) ?? []).map((answer) => answer.body);
    const ride = Object.assign({}, ...said.map((one) => one.ride ?? {}));
    const joins = Object.assign({}, ...said.map((one) => one.joins ?? {}));
    const marked = marks.get(id);
    return {
      readingId: id,
      reading,
      ...(leftAs === null ? {} : { leftAs }),
      riderId: own.find((arrival) => arrival.riderId !== null)?.riderId ?? null,
      named: own.flatMap(namedBy),
      answer: { ...Object.assign({}, ...said), ride, joins },
      ...(marked && { marks: marked }),
      arrived: { at: own[0]!.at, seq: own[0]!.afterFact },
    };
  });
}

const namedBy = ({ bikeId, rule }: Arrival): NamedBike[] => (rule === null ? [] : [{ bikeId, rule }]);

/** What is said of whose bikes there are, gathered before the core asks for it. */
export async function gatherBikes(tx: Tx, parts: readonly Part[]): Promise<BikeKnowledge> {
  const { timeZone } = await getWorkshop(tx);
  const bikes = new Map<string, Bike>();
  const ofRider = new Map<string, KnownBike[]>();

  const addBike = async (bikeId: string): Promise<void> => {
    if (bikes.has(bikeId)) return;
    const fact = await tx.facts.current('bike', bikeId);
    if (fact) bikes.set(bikeId, bikeOf(fact));
  };
  const addRider = async (riderId: string): Promise<void> => {
    if (ofRider.has(riderId)) return;
    const own = await tx.facts.once(`bikes of ${riderId} in ${timeZone}`, () =>
      bikesOf(tx, riderId, timeZone),
    );
    for (const { bike } of own) bikes.set(bike.id, bike);
    ofRider.set(riderId, own);
  };

  const sensorIds = new Set(parts.flatMap(({ reading }) => bikeSensorsOf(reading)));
  const confirmations = await listConfirmations(tx, [...sensorIds]);
  const uses = await tx.rides.listRecorderUses(recordersOf(parts));
  const riderOf = (part: Part): string | null =>
    part.answer.riderId ??
    part.riderId ??
    wordOfRecorder(uses.get(recorderOf(part) ?? '') ?? [])?.riderId ??
    null;
  const profiles = await profilesTaught(
    tx,
    parts.flatMap((part) => {
      const profile = profileOf(part.reading);
      const riderId = riderOf(part);
      return profile === null || riderId === null ? [] : [{ riderId, profile }];
    }),
  );
  const confirmed = [...confirmations.values(), ...profiles.values()].flat().map((one) => one.bikeId);
  const named = parts.flatMap((part) => [part.answer.bikeId, ...part.named.map((one) => one.bikeId)]);
  for (const bikeId of new Set([...confirmed, ...named])) if (bikeId) await addBike(bikeId);
  for (const part of parts) {
    const riderId = riderOf(part);
    if (riderId !== null) await addRider(riderId);
  }
  return {
    getBike: (bikeId) => bikes.get(bikeId),
    listBikesOf: (riderId) => ofRider.get(riderId) ?? [],
    listConfirmations: (sensorId) => confirmations.get(sensorId) ?? [],
    listProfileConfirmations: (riderId, profile) => profiles.get(profileKey(riderId, profile)) ?? [],
    listRecorderUses: (recorder) => uses.get(recorder) ?? [],
  };
}

async function bikesOf(tx: Tx, riderId: string, timeZone: string): Promise<KnownBike[]> {
  const own: KnownBike[] = [];
  for (const fact of await tx.facts.list('bike', { object: riderId })) {
    const fittings = await tx.facts.list('fitting', { object: fact.entityId });
    const entered = await Promise.all(fittings.map((fitting) => firstSaid(tx, fitting)));
    own.push({
      bike: bikeOf(fact),
      since: await firstSaid(tx, fact),
      suspendedSince: earliest(entered),
      fitted: fittings.map((fitting) => fittingOf(fitting, timeZone)),
      ...(fact.body.sold ? { soldAt: startOfDay(addDays(fact.body.sold, 1), timeZone) } : {}),
      ...(fact.body.usual ? { usualFrom: startOfDay(fact.body.usual, timeZone) } : {}),
    });
  }
  return own;
}

/** Each once. */
export const recordersOf = (parts: readonly Part[]): string[] => [
  ...new Set(parts.flatMap((part) => recorderOf(part) ?? [])),
];

/** A rider and the name of a profile on that rider's recorder. */
export interface OfProfile {
  readonly riderId: string;
  readonly profile: string;
}

/** One text for both; ids hold no line feed. */
export const profileKey = (riderId: string, profile: string): string => `${riderId}\n${profile}`;

/** Returns by `profileKey` what was confirmed of riders' profiles, as settled. */
export async function profilesTaught(
  tx: Tx,
  profiles: readonly OfProfile[],
): Promise<Map<string, SensorConfirmation[]>> {
  const taught = new Map<string, SensorConfirmation[]>();
  for (const { riderId, profile } of profiles) {
    const key = profileKey(riderId, profile);
    if (taught.has(key)) continue;
    const parts = await tx.rides.listOfProfile(riderId, profile);
    taught.set(
      key,
      parts.flatMap(({ namedBikeId, start, end }) =>
        namedBikeId === null ? [] : [{ bikeId: namedBikeId, start: start!, end: end! }],
      ),
    );
  }
  return taught;
}

/** When an entity was first spoken of; a correction stands in the place of what it corrects. */
async function firstSaid(tx: Tx, fact: Fact): Promise<Said> {
  const versions = fact.replacesId === null ? [fact] : await tx.facts.versions(fact.kind, fact.entityId);
  return { at: fact.since, seq: Math.min(...versions.map((one) => one.seq)) };
}

const earliest = (all: readonly Said[]): Said | null =>
  all.reduce<Said | null>(
    (first, one) =>
      first === null || one.at < first.at || (one.at === first.at && one.seq < first.seq) ? one : first,
    null,
  );

/** Returns by sensor what was confirmed of it, as settled. */
export async function listConfirmations(
  tx: Tx,
  sensorIds: readonly string[],
): Promise<Map<string, SensorConfirmation[]>> {
  return groupBy(await tx.rides.listConfirmations(sensorIds), (one) => one.sensorId);
}

export const bikeSensorsOf = ({ sensors }: Part['reading']): string[] =>
  sensors.filter((sensor) => sensor.boundTo !== 'rider').map((sensor) => sensor.id);
