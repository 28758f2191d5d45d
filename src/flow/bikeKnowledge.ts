import type { BikeKnowledge, KnownBike, SensorConfirmation } from '../core/attribution.js';
import type { Bike } from '../core/ledger.js';
import { namedBikeOf, type Part } from '../core/settle.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { bikeOf } from './unitLedger.js';

/** Returns all parts of the readings: what they say and what was said of them. */
export async function listParts(tx: Tx, readingIds: readonly string[]): Promise<Part[]> {
  const readings = await tx.readings.getMany(readingIds);
  const arrivals = await tx.files.listArrivals([...new Set(readings.map((one) => one.fileId))]);
  const answers = await tx.facts.listMany('answer', readingIds);
  return readings.map(({ id, fileId, reading }) => {
    const own = arrivals.filter((arrival) => arrival.fileId === fileId);
    const named = own.findLast((arrival) => arrival.bikeId !== null);
    const said = answers.filter((answer) => answer.body.readingId === id).map((answer) => answer.body);
    const ride = Object.assign({}, ...said.map((one) => one.ride ?? {}));
    return {
      readingId: id,
      reading,
      riderId: own.findLast((arrival) => arrival.riderId !== null)?.riderId ?? null,
      bike: named ? { bikeId: named.bikeId!, rule: named.rule ?? 'chosen' } : null,
      answer: { ...Object.assign({}, ...said), ride },
      arrivedAt: own[0]!.at,
    };
  });
}

/** What is said of whose bikes there are, gathered before the core asks for it. */
export async function gatherBikes(tx: Tx, parts: readonly Part[]): Promise<BikeKnowledge> {
  const bikes = new Map<string, Bike>();
  const ofRider = new Map<string, KnownBike[]>();
  const confirmations = new Map<string, SensorConfirmation[]>();

  const addBike = async (bikeId: string): Promise<void> => {
    if (bikes.has(bikeId)) return;
    const fact = await tx.facts.current('bike', bikeId);
    if (fact) bikes.set(bikeId, bikeOf(fact));
  };
  const addRider = async (riderId: string): Promise<void> => {
    if (ofRider.has(riderId)) return;
    const own: KnownBike[] = [];
    for (const fact of await tx.facts.list('bike', { object: riderId })) {
      const fittings = await tx.facts.list('fitting', { object: fact.entityId });
      const entered = fittings.map((fitting) => fitting.since);
      const suspendedSince = entered.length > 0 ? (Math.min(...entered) as Instant) : null;
      own.push({ bike: bikeOf(fact), since: fact.since, suspendedSince });
      bikes.set(fact.entityId, bikeOf(fact));
    }
    ofRider.set(riderId, own);
  };

  const sensorIds = new Set(parts.flatMap(({ reading }) => bikeSensorsOf(reading)));
  for (const part of await tx.rides.listPartsWithSensors([...sensorIds])) {
    if (part.namedBikeId === null || part.start === null) continue;
    confirmations.set(part.sensorId, [
      ...(confirmations.get(part.sensorId) ?? []),
      { bikeId: part.namedBikeId, start: part.start },
    ]);
    await addBike(part.namedBikeId);
  }
  for (const part of parts) {
    const named = namedBikeOf(part);
    if (named !== null) await addBike(named);
    const riderId = part.answer.riderId ?? part.riderId;
    if (riderId !== null) await addRider(riderId);
  }
  return {
    getBike: (bikeId) => bikes.get(bikeId),
    listBikesOf: (riderId) => ofRider.get(riderId) ?? [],
    listConfirmations: (sensorId) => confirmations.get(sensorId) ?? [],
  };
}

export const bikeSensorsOf = ({ sensors }: Part['reading']): string[] =>
  sensors.filter((sensor) => sensor.boundTo !== 'rider').map((sensor) => sensor.id);
